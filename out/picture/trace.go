package picture

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
)

// Trace draws a stretch of a log over time: above the speeds of unwind,
// process and rewind, below the storage contents with the interlock at line
// speed, and what happened. Between records the motion is exact, so the lines
// are too. Of lines that share a crew it draws the one with the given number, from 0.
func Trace(records []sim.Record, number int, l *model.Line, sys model.System) (*Picture, error) {
	var log []sim.Record
	for _, r := range records {
		if r.Line == number {
			log = append(log, r)
		}
	}
	if len(log) < 2 || log[len(log)-1].Time <= log[0].Time {
		return nil, errors.New(words.NothingToDraw)
	}
	s := newTimeline(log)
	plots, heights := []*plot.Plot{s.speeds(model.Display(model.Speed, sys))}, []vg.Length{155}
	if p := s.storages(l, model.Display(model.Length, sys)); p != nil {
		plots, heights = append(plots, p), append(heights, 175)
	}
	for _, p := range plots { // the time stands once, below all
		p.X.Tick.Marker = unlabelled{evenTicks{}}
	}
	events := s.events()
	events.X.Label.Text = words.SinceAxis(s.start, s.unit)
	plots, heights = append(plots, events), append(heights, 130)
	sum := vg.Length(16)
	for i, p := range plots {
		p.X.Min, p.X.Max = 0, (s.end-s.start)/s.scale
		sum += heights[i]
	}
	return &Picture{W: wide, H: sum, draw: func(c draw.Canvas) { panels(c, plots, heights) }}, nil
}

// timeline is the part of a log that is drawn.
type timeline struct {
	log        []sim.Record
	start, end float64 // s
	scale      float64 // s in a unit of the time axis
	unit       string
}

// newTimeline takes the unit of time by how long a log is.
func newTimeline(log []sim.Record) *timeline {
	s := &timeline{log, log[0].Time, log[len(log)-1].Time, 1, "s"}
	switch long := s.end - s.start; {
	case long > 3*3600:
		s.scale, s.unit = 3600, "h"
	case long > 600:
		s.scale, s.unit = 60, "min"
	}
	return s
}

// draw draws a quantity as a curve, whose points it keeps; none where it is not known.
func (s *timeline) draw(p *plot.Plot, x *curve, value func(r sim.Record, dt float64) float64) {
	pts := s.sampled(value)
	if len(pts) == 0 {
		return
	}
	line, err := plotter.NewLine(pts)
	if err != nil {
		return
	}
	line.LineStyle = draw.LineStyle{Color: x.c, Width: 1.6, Dashes: x.dashes}
	p.Add(line)
	x.pts = pts
}

// speeds are those of unwind, process and rewind.
func (s *timeline) speeds(v model.Unit) *plot.Plot {
	p := newPlot("", "", words.SpeedAxis(v))
	p.Y.Min = 0
	top := 0.0
	var named []curve
	for _, x := range []struct {
		curve
		of func(*sim.Record) (speed, accel float64)
	}{
		{curve{words.NameRewind, ofRewind, []vg.Length{2, 2}, nil}, func(r *sim.Record) (float64, float64) { return r.SpeedW, r.AccelW }},
		{curve{words.NameUnwind, ofUnwind, nil, nil}, func(r *sim.Record) (float64, float64) { return r.SpeedU, r.AccelU }},
		{curve{words.NameProcess, ink, []vg.Length{6, 3}, nil}, func(r *sim.Record) (float64, float64) { return r.SpeedP, r.AccelP }},
	} {
		s.draw(p, &x.curve, func(r sim.Record, dt float64) float64 {
			speed, a := x.of(&r)
			return v.From(max(0, speed+a*dt))
		})
		for _, at := range x.pts {
			top = max(top, at.Y)
		}
		if x.pts != nil {
			named = append([]curve{x.curve}, named...)
		}
	}
	p.Y.Max = 1.28 * top
	p.Add(drawing(func(c draw.Canvas, _ *plot.Plot) { curveNames(c, named) }))
	return p
}

// curve is a quantity over time.
type curve struct {
	name   string
	c      color.NRGBA
	dashes []vg.Length
	pts    plotter.XYs
}

// curveNames writes the names of curves beside a piece of each at the top left,
// and returns the room that they take.
func curveNames(c draw.Canvas, named []curve) area {
	x := c.Min.X + 6
	for _, n := range named {
		c.StrokeLine2(draw.LineStyle{Color: n.c, Width: 1.6, Dashes: n.dashes}, x, c.Max.Y-7, x+22, c.Max.Y-7)
		s := sans(style(small, readable(n.c)))
		c.FillText(s, vg.Point{X: x + 26, Y: c.Max.Y - 7}, n.name)
		x += 26 + width(s, n.name) + 16
	}
	return area{c.Min.X, x, c.Max.Y - 14, c.Max.Y}
}

// panels draws plots below each other with their time axes in line.
func panels(c draw.Canvas, plots []*plot.Plot, heights []vg.Length) {
	const left = 64
	y, right := c.Max.Y, vg.Length(0)
	parts := make([]draw.Canvas, len(plots))
	for i, p := range plots {
		parts[i] = draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: y - heights[i]}, Max: vg.Point{X: c.Max.X, Y: y}}}
		y -= heights[i]
		// What the vertical axis takes differs; the rest is cut to the same left edge.
		parts[i].Min.X += left - (p.DataCanvas(parts[i]).Min.X - parts[i].Min.X)
		right = max(right, c.Max.X-p.DataCanvas(parts[i]).Max.X)
	}
	for i, p := range plots { // the last figure of a scale may reach beyond its end
		parts[i].Max.X -= right - (c.Max.X - p.DataCanvas(parts[i]).Max.X)
		p.Draw(parts[i])
	}
}

// storages are the contents of the storages, nil when the line has none.
func (s *timeline) storages(l *model.Line, m model.Unit) *plot.Plot {
	p := newPlot("", "", words.ContentAxis(m))
	p.Y.Min = 0
	var drawn []levelled
	top := 0.0
	for _, x := range []levelled{
		{curve: curve{words.NameUnwind, ofUnwind, nil, nil}, zero: l.Unwind.Change.Stores(), capacity: l.Unwind.Storage.Capacity},
		{curve: curve{words.NameRewind, ofRewind, []vg.Length{2, 2}, nil}, zero: l.Rewind.Change.Stores(), rewind: true, capacity: l.Rewind.Storage.Capacity}} {
		if !x.zero {
			continue
		}
		s.draw(p, &x.curve, func(r sim.Record, dt float64) float64 {
			b, d, a := r.UnwindStorage, r.SpeedU-r.SpeedP, r.AccelU-r.AccelP
			if x.rewind {
				b, d, a = r.RewindStorage, r.SpeedP-r.SpeedW, r.AccelP-r.AccelW
			}
			return m.From(b + d*dt + a*dt*dt/2)
		})
		top = max(top, m.From(x.capacity))
		x.interlock = m.From(storageMarks(l, x.rewind)[0].at)
		x.label = fmt.Sprintf(words.NameInterlock, x.name)
		x.name = fmt.Sprintf(words.NameStorage, x.name)
		drawn = append(drawn, x)
	}
	if len(drawn) == 0 {
		return nil
	}
	p.Y.Max = 1.2 * top
	p.Add(drawing(func(c draw.Canvas, p *plot.Plot) { drawLevels(c, p, drawn) }))
	return p
}

// drawLevels names the storages and draws the levels of their interlocks, each with its
// name where no line is.
func drawLevels(c draw.Canvas, p *plot.Plot, drawn []levelled) {
	var named []curve
	for _, x := range drawn {
		named = append(named, x.curve)
	}
	ways := []area{curveNames(c, named)}
	tx, ty := p.Transforms(&c)
	var lines [][]vg.Point
	for _, x := range drawn {
		y := ty(x.interlock)
		c.StrokeLine2(draw.LineStyle{Color: x.c, Width: 0.8, Dashes: []vg.Length{5, 4}}, c.Min.X, y, c.Max.X, y)
		lines = append(lines, []vg.Point{{X: c.Min.X, Y: y}, {X: c.Max.X, Y: y}})
		var way []vg.Point
		for _, q := range x.pts {
			way = append(way, vg.Point{X: tx(q.X), Y: ty(q.Y)})
		}
		lines = append(lines, way)
	}
	for _, x := range drawn {
		s := sans(style(small, readable(x.c)))
		at := beside(area{c.Min.X, c.Max.X, c.Min.Y, c.Max.Y}, ty(x.interlock), width(s, x.label), lines, ways)
		c.FillText(s, vg.Point{X: at.x0, Y: (at.y0 + at.y1) / 2}, x.label)
		ways = append(ways, at)
	}
}

// levelled is the content of a storage over time with the level of its interlock.
type levelled struct {
	curve
	zero, rewind        bool
	capacity, interlock float64
	label               string
}

// events is what happened, at its time: one row a station, an event's name where it fits.
func (s *timeline) events() *plot.Plot {
	p := newPlot("", "", "")
	var rows []sim.Source
	for _, of := range []sim.Source{sim.OfCrew, sim.OfJob, sim.OfStop, sim.OfWeb, sim.OfRewind, sim.OfUnwind, sim.OfProcess} {
		if slices.ContainsFunc(s.log, func(r sim.Record) bool { return r.Of == of }) {
			rows = append(rows, of)
		}
	}
	p.Y.Min, p.Y.Max = -0.6, float64(len(rows))-0.4
	p.Y.Tick.Marker = plot.ConstantTicks(rowTicks(rows))
	p.Y.LineStyle.Width = 0
	p.Y.Tick.LineStyle.Width = 0
	p.Add(drawing(func(c draw.Canvas, p *plot.Plot) {
		tx, ty := p.Transforms(&c)
		for row, station := range rows {
			s.drawEvents(c, station, ty(float64(row)), tx)
		}
	}))
	return p
}

// drawEvents draws what happened at a station, in its row.
func (s *timeline) drawEvents(c draw.Canvas, station sim.Source, y vg.Length, tx func(float64) vg.Length) {
	text := sans(style(small, ink))
	c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, c.Min.X, y-6, c.Max.X, y-6)
	free := c.Min.X
	for _, r := range s.log {
		if r.Of != station {
			continue
		}
		x := tx((r.Time - s.start) / s.scale)
		c.StrokeLine2(draw.LineStyle{Color: deep, Width: 1}, x, y-6, x, y-2)
		name, more := words.EventWords(&r)
		if station == sim.OfCrew || station == sim.OfStop {
			name = strings.TrimSpace(name + " " + more)
		}
		name = legible.Line(name)
		w := width(text, name)
		switch {
		case x >= free && x+w <= c.Max.X:
			c.FillText(text, vg.Point{X: x, Y: y + 3}, name)
			free = x + w + 6
		case x-w >= free && x+w > c.Max.X: // at the end, before its mark
			c.FillText(text, vg.Point{X: x - w, Y: y + 3}, name)
			free = x + 6
		}
	}
}

func rowTicks(rows []sim.Source) []plot.Tick {
	ticks := make([]plot.Tick, len(rows))
	for i, r := range rows {
		ticks[i] = plot.Tick{Value: float64(i), Label: words.SourceWord(r)}
	}
	return ticks
}

// sampled follows a quantity along the log: exact at the records, and close
// enough between them for its curve.
func (s *timeline) sampled(value func(r sim.Record, dt float64) float64) plotter.XYs {
	var pts plotter.XYs
	put := func(t, y float64) {
		if !math.IsNaN(y) {
			pts = append(pts, plotter.XY{X: (t - s.start) / s.scale, Y: y})
		}
	}
	for i, r := range s.log {
		put(r.Time, value(r, 0))
		if i+1 == len(s.log) {
			break
		}
		gap := s.log[i+1].Time - r.Time
		steps := 1
		if r.AccelU != 0 || r.AccelP != 0 || r.AccelW != 0 && !math.IsNaN(r.AccelW) {
			steps = 24
		}
		for k := 1; k <= steps && gap > 0; k++ {
			put(r.Time+gap*float64(k)/float64(steps), value(r, gap*float64(k)/float64(steps)))
		}
	}
	return pts
}
