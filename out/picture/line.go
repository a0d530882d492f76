package picture

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
)

// Line draws a line from its side: rolls at their true diameter where that
// is known, storage with its strands at their true travel, process and rewind.
// Heights and diameters share one scale; distances along the line have none.
func Line(name string, l *model.Line, sys model.System) *Picture {
	d := newLineDrawing(l, sys)
	const w, top = 720, 54
	return &Picture{W: w, H: top + d.tall + 20 + d.words + 34, draw: func(c draw.Canvas) {
		t := sans(style(13, ink))
		c.FillText(t, vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(t, fmt.Sprintf(words.TitleLine, legible.Line(name)), w-40))
		d.floor = c.Max.Y - top - d.tall
		d.draw(c)
		d.scaleBar(c, c.Min.Y+12)
	}}
}

// block is a part of the line: its width, what is written below it, and how it
// is drawn from the left edge x, with the web coming in at in; it returns where
// the web leaves.
type block struct {
	width vg.Length
	words []string
	draw  func(c draw.Canvas, x vg.Length, in vg.Point) vg.Point
}

type lineDrawing struct {
	blocks      []block
	scale       vg.Length // of one metre
	floor       vg.Length
	axis        vg.Length // height of the spindles above the floor
	tall, words vg.Length
	sys         model.System
	known       bool // some diameter or travel is known, so that there is a scale
}

// Heights above the floor.
const (
	webHeight  = 34 // of the web in the process
	leastBlock = 112
	mostTall   = 190
)

func newLineDrawing(l *model.Line, sys model.System) *lineDrawing {
	d := &lineDrawing{sys: sys}
	u, w := &l.Unwind, &l.Rewind
	parent, finished := sideRoll(&l.Web, u.Roll), sideRoll(&l.Web, w.Roll)
	spindles := map[bool]float64{true: 1, false: 2}
	sum, most := 2*parent*spindles[u.Change == model.Manual], max(2*parent, 1.15*u.Storage.Travel)
	if w.Change != model.None {
		sum += 2 * finished * spindles[w.Change == model.Manual]
		most = max(most, 2*finished, 1.15*w.Storage.Travel)
	}
	d.known = most > 0
	d.scale = 100
	if most > 0 {
		d.scale = min(110, (mostTall-30)/vg.Length(most), 300/vg.Length(max(sum, 0.01)))
	}
	for d.lay(l); d.wide() > 690 && d.scale > 1; d.lay(l) {
		d.scale *= 0.95
	}
	for _, b := range d.blocks {
		d.words = max(d.words, 12*vg.Length(len(b.words)))
	}
	return d
}

// lay lays out the blocks at the scale.
func (d *lineDrawing) lay(l *model.Line) {
	u, w := &l.Unwind, &l.Rewind
	r := d.radius(sideRoll(&l.Web, u.Roll))
	if w.Change != model.None {
		r = max(r, d.radius(sideRoll(&l.Web, w.Roll)))
	}
	d.axis = 10 + r
	d.tall = max(76, d.axis+r, 22+vg.Length(max(u.Storage.Travel, w.Storage.Travel))*d.scale)
	if u.Change.Stores() && u.Storage.Travel == 0 || w.Change.Stores() && w.Storage.Travel == 0 {
		d.tall = max(d.tall, 120)
	}
	d.blocks = []block{d.rolls(l, true)}
	if u.Change.Stores() {
		d.blocks = append(d.blocks, d.storage(&u.Storage))
	}
	d.blocks = append(d.blocks, d.process(l))
	if w.Change.Stores() {
		d.blocks = append(d.blocks, d.storage(&w.Storage))
	}
	if w.Change != model.None {
		d.blocks = append(d.blocks, d.rolls(l, false))
	}
}

// wide is the width of all blocks.
func (d *lineDrawing) wide() vg.Length {
	sum := vg.Length(0)
	for _, b := range d.blocks {
		sum += b.width
	}
	return sum
}

// sideRoll is the radius of a mean roll, m; 0 when it is not known.
func sideRoll(web *model.Web, size model.RollSize) float64 {
	mean := size.Mean(*web)
	if math.IsInf(mean, 0) || web.Caliper == 0 || size.Core == 0 {
		return 0
	}
	return model.RollOf(mean, *web, size.Core).R
}

// radius is that of a roll as drawn; one that is not known gets an even one.
func (d *lineDrawing) radius(metres float64) vg.Length {
	if metres == 0 {
		return 26
	}
	return vg.Length(metres) * d.scale
}

func (d *lineDrawing) length(si float64) string {
	u := model.Display(model.Length, d.sys)
	if si < 1 {
		u = model.Display(model.Thickness, d.sys)
	}
	return words.AxisValue(si, u)
}

// rolls is the unwind, or the rewind: one spindle when changed by hand, else two.
func (d *lineDrawing) rolls(l *model.Line, unwind bool) block {
	size, change, what, on := l.Unwind.Roll, l.Unwind.Change, words.LineParent, l.Web
	if !unwind {
		size, change, what, on = l.Rewind.Roll, l.Rewind.Change, words.LineFinished, l.LaneWeb()
	}
	mean, radius := size.Mean(l.Web), sideRoll(&l.Web, size)
	r, core := d.radius(radius), vg.Length(size.Core/2)*d.scale
	said := []string{words.ChangeWords(unwind, change)}
	if math.IsInf(mean, 0) {
		said = append(said, fmt.Sprintf(words.LineBySplices, what))
	} else {
		said = append(said, fmt.Sprintf(words.LineRoll, what, d.length(mean)))
	}
	if radius > 0 {
		mm := func(si float64) string { return words.AxisValue(si, model.Display(model.Thickness, d.sys)) }
		said = append(said, fmt.Sprintf(words.LineDiameter, mm(2*radius)), fmt.Sprintf(words.LineCore, mm(size.Core)))
	} else {
		said = append(said, words.LineNoDiameter)
		core = 8
	}
	if n := l.Rewind.LaneCount(); n > 1 && !unwind {
		said = append(said, fmt.Sprintf(words.LineLanes, n))
	}
	if kg := mean * on.Width * on.Grammage; kg > 0 && !math.IsInf(kg, 0) {
		u := model.Display(model.Mass, d.sys)
		said = append(said, fmt.Sprintf(words.LineOfWeb, words.Short(u.From(kg), 3)+" "+u.Name))
	}
	n := 2
	if change == model.Manual {
		n = 1
	}
	width := max(leastBlock, 2*r*vg.Length(n)+10*vg.Length(n-1)+18)
	return block{width, said, func(c draw.Canvas, x vg.Length, in vg.Point) vg.Point {
		first := x + width/2 - (2*r*vg.Length(n)+10*vg.Length(n-1))/2 + r
		running := first // of an unwind the right one runs, of a rewind the left one
		if unwind {
			running = first + vg.Length(n-1)*(2*r+10)
		}
		for k := range n {
			at := vg.Point{X: first + vg.Length(k)*(2*r+10), Y: d.floor + d.axis}
			c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 1.2}, at.X, d.floor, at.X, at.Y)
			d.roll(c, at, r, core, at.X == running, radius > 0)
		}
		edge := vg.Point{X: x + width, Y: d.floor + webHeight}
		if !unwind {
			edge.X = x
		}
		web(c, tangent(edge, vg.Point{X: running, Y: d.floor + d.axis}, r, unwind), edge)
		idler(c, edge)
		return edge
	}}
}

// roll draws one roll from its side; the one that runs is darker.
func (d *lineDrawing) roll(c draw.Canvas, at vg.Point, r, core vg.Length, running, known bool) {
	fill, line := paper, draw.LineStyle{Color: deep, Width: 1.1}
	if running {
		fill = runningRoll.c
	}
	if !known {
		line.Dashes = []vg.Length{4, 3}
	}
	c.FillPolygon(fill, circle(at, r))
	c.StrokeLines(line, closed(circle(at, r)))
	c.FillPolygon(paper, circle(at, max(2, core)))
	c.StrokeLines(draw.LineStyle{Color: deep, Width: 0.9}, closed(circle(at, max(2, core))))
}

// storage is strands between fixed idlers and a carriage, at the level at which
// the line runs; a box where strands or travel are not given.
func (d *lineDrawing) storage(s *model.Storage) block {
	said := []string{fmt.Sprintf(words.LineStorage, d.length(s.Capacity)), fmt.Sprintf(words.LineRunsAt, d.length(s.RunLevel))}
	if s.Strands == 0 || s.Travel == 0 {
		const width = leastBlock
		return block{width, append(said, words.LineNoStrands), func(c draw.Canvas, x vg.Length, in vg.Point) vg.Point {
			box := area{x + 18, x + width - 18, d.floor + 12, d.floor + 112}
			c.FillPolygon(storageBox.c, box.corners())
			c.StrokeLines(draw.LineStyle{Color: deep, Width: 0.9, Dashes: []vg.Length{4, 3}}, closed(box.corners()))
			t := sans(style(small, ink))
			t.XAlign = draw.XCenter
			c.FillText(t, vg.Point{X: x + width/2, Y: box.y1 - 24}, fmt.Sprintf(words.LineOfWeb, d.length(s.Capacity)))
			out := vg.Point{X: x + width, Y: d.floor + webHeight}
			web(c, in, out)
			idler(c, out)
			return out
		}}
	}
	n := min(s.Strands, 40)
	pitch := min(9, max(4, vg.Length(120/n)))
	width := max(leastBlock, pitch*vg.Length(n)+24)
	strands := words.LineStrands
	if s.Strands > n {
		strands = words.LineStrandsDrawn
	}
	said = append(said, fmt.Sprintf(strands, words.AxisValue(float64(s.Strands), model.Unit{SI: 1})), fmt.Sprintf(words.LineTravel, d.length(s.Travel)))
	return block{width, said, func(c draw.Canvas, x vg.Length, in vg.Point) vg.Point {
		bottom := d.floor + 14
		level := bottom + vg.Length(s.RunLevel/float64(s.Strands))*d.scale
		full := bottom + vg.Length(s.Travel)*d.scale
		left := x + width/2 - pitch*vg.Length(n-1)/2
		right := left + pitch*vg.Length(n-1)
		frame := draw.LineStyle{Color: quiet, Width: 0.8}
		c.StrokeLine2(frame, left-8, d.floor, left-8, full+6)
		c.StrokeLine2(frame, right+8, d.floor, right+8, full+6)
		c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.7, Dashes: []vg.Length{3, 3}}, left-8, full, right+8, full)
		c.StrokeLine2(draw.LineStyle{Color: deep, Width: 2.2}, left-6, level+3, right+6, level+3)
		path := []vg.Point{in, {X: left, Y: bottom}}
		for k := range n {
			at := left + pitch*vg.Length(k)
			ends := []vg.Point{{X: at, Y: bottom}, {X: at, Y: level}}
			if k%2 == 1 {
				ends[0], ends[1] = ends[1], ends[0]
			}
			path = append(path, ends...)
		}
		out := vg.Point{X: x + width, Y: d.floor + webHeight}
		path = append(path, out)
		c.StrokeLines(draw.LineStyle{Color: accent, Width: 1.1}, path)
		idler(c, out)
		return out
	}}
}

func (d *lineDrawing) process(l *model.Line) block {
	const width = 130
	said := []string{words.NameProcess, fmt.Sprintf(words.LineSpeed, words.AxisValue(l.Process.Speed, model.Display(model.Speed, d.sys)))}
	if l.Web.Width > 0 {
		said = append(said, fmt.Sprintf(words.LineWide, words.AxisValue(l.Web.Width, model.Display(model.Thickness, d.sys))))
	}
	if l.Process.Path > 0 {
		said = append(said, fmt.Sprintf(words.LinePath, d.length(l.Process.Path)))
	}
	return block{width, said, func(c draw.Canvas, x vg.Length, in vg.Point) vg.Point {
		box := area{x + 16, x + width - 16, d.floor + 6, d.floor + 66}
		c.FillPolygon(processBox.c, box.corners())
		c.StrokeLines(draw.LineStyle{Color: ink, Width: 1}, closed(box.corners()))
		if l.Rewind.Change == model.None { // what it makes takes up the web
			out := vg.Point{X: box.x1, Y: in.Y}
			web(c, in, out)
			return out
		}
		out := vg.Point{X: x + width, Y: in.Y}
		web(c, in, out)
		idler(c, out)
		return out
	}}
}

// draw draws the blocks from the left to the right over the width.
func (d *lineDrawing) draw(c draw.Canvas) {
	c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.8}, c.Min.X, d.floor, c.Max.X, d.floor)
	gap := max(0, (c.Max.X-c.Min.X-d.wide())/vg.Length(len(d.blocks)+1))
	x := c.Min.X + gap
	at := vg.Point{}
	for i, b := range d.blocks {
		in := vg.Point{X: x, Y: d.floor + webHeight}
		if i > 0 && gap > 0 {
			web(c, at, in)
		}
		at = b.draw(c, x, in)
		for k, words := range b.words {
			t := sans(style(small, quiet))
			if k == 0 {
				t = sans(style(10, ink))
			}
			t.XAlign = draw.XCenter
			c.FillText(t, vg.Point{X: x + b.width/2, Y: d.floor - 14 - 12*vg.Length(k)}, fit(t, words, b.width+gap-4))
		}
		x += b.width + gap
	}
}

// scaleBar says how long a metre is.
func (d *lineDrawing) scaleBar(c draw.Canvas, y vg.Length) {
	t := sans(style(small, quiet))
	if !d.known {
		c.FillText(t, vg.Point{X: c.Min.X + 4, Y: y}, words.LineNotScale)
		return
	}
	metres, long := 1.0, words.LineMetre
	if d.sys == model.Imperial {
		metres, long = 3*0.3048, words.LineThreeFeet
	}
	end := c.Min.X + 4 + vg.Length(metres)*d.scale
	line := draw.LineStyle{Color: ink, Width: 1.2}
	c.StrokeLine2(line, c.Min.X+4, y, end, y)
	c.StrokeLine2(line, c.Min.X+4, y-3, c.Min.X+4, y+3)
	c.StrokeLine2(line, end, y-3, end, y+3)
	c.FillText(t, vg.Point{X: end + 8, Y: y}, fmt.Sprintf(words.LineScale, long))
}

func web(c draw.Canvas, a, b vg.Point) {
	c.StrokeLine2(draw.LineStyle{Color: accent, Width: 1.3}, a.X, a.Y, b.X, b.Y)
}

func idler(c draw.Canvas, at vg.Point) {
	c.FillPolygon(paper, circle(at, 3))
	c.StrokeLines(draw.LineStyle{Color: ink, Width: 0.9}, closed(circle(at, 3)))
}

// tangent is where a web from a point touches a roll from above: of an unwind,
// seen from its right, of a rewind from its left.
func tangent(from, centre vg.Point, r vg.Length, unwind bool) vg.Point {
	dx, dy := float64(from.X-centre.X), float64(from.Y-centre.Y)
	turn := math.Acos(min(1, float64(r)/math.Hypot(dx, dy)))
	if !unwind {
		turn = -turn
	}
	a := math.Atan2(dy, dx) + turn
	return vg.Point{X: centre.X + r*vg.Length(math.Cos(a)), Y: centre.Y + r*vg.Length(math.Sin(a))}
}

// circle is a circle of 48 corners.
func circle(at vg.Point, r vg.Length) []vg.Point {
	list := make([]vg.Point, 48)
	for i := range list {
		a := 2 * math.Pi * float64(i) / float64(len(list))
		list[i] = vg.Point{X: at.X + r*vg.Length(math.Cos(a)), Y: at.Y + r*vg.Length(math.Sin(a))}
	}
	return list
}

func closed(list []vg.Point) []vg.Point { return append(list, list[0]) }
