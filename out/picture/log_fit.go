package picture

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	laws "rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// LogFit draws the laws of a cause beside what was recorded, of how long its stops
// last and of the time between: how both are distributed, with the band that records
// of the law lie in, and their quantiles against one another. It is nil where no law was
// fitted.
func LogFit(l *learn.Line, cause *learn.Cause) *Picture {
	lasts, between := l.Shapes(cause)
	return fitPicture(legible.Line(words.CauseTitle(cause)), append(shapeRows(cause, lasts, true), shapeRows(cause, between, false)...))
}

// LogFitLasts is the part of LogFit of how long the stops of a cause last, without a title.
func LogFitLasts(cause *learn.Cause, lasts *laws.Shape) *Picture {
	return fitPicture("", shapeRows(cause, lasts, true))
}

// LogFitBetween is the part of LogFit of the time between its stops, without a title.
func LogFitBetween(cause *learn.Cause, between *laws.Shape) *Picture {
	return fitPicture("", shapeRows(cause, between, false))
}

// shapeRows is the row of one shape of a cause, of how long its stops last or of the time
// between them; none without it.
func shapeRows(cause *learn.Cause, s *laws.Shape, lasts bool) []shapeRow {
	of, up := cause.Between, words.LogBetweenUp
	if lasts {
		of, up = cause.Lasts, words.LogLastsUp
	}
	if s == nil {
		return nil
	}
	return []shapeRow{{s, words.ShapeHead(lasts, s, of), up}}
}

// fitPicture is nil without rows.
func fitPicture(title string, rows []shapeRow) *Picture {
	if len(rows) == 0 {
		return nil
	}
	const w, inner = 720, 720 - 22
	top := vg.Length(34)
	if title == "" {
		top = 14
	}
	notes := []note{
		{func(c draw.Canvas, at vg.Point) { c.StrokeLine2(recordedLine, at.X-8, at.Y, at.X+8, at.Y) }, words.LogRecorded},
		{func(c draw.Canvas, at vg.Point) { c.StrokeLine2(lawLine, at.X-8, at.Y, at.X+8, at.Y) }, words.LogTheLaw},
		{func(c draw.Canvas, at vg.Point) { recordBand.paint(c, area{at.X - 8, at.X + 8, at.Y - 5, at.Y + 5}) }, words.LogTheBand},
		{func(c draw.Canvas, at vg.Point) { quantileDot(c, at) }, words.LogDot},
	}
	height := vg.Length(0)
	for _, r := range rows {
		height += r.height(inner - 8)
	}
	return &Picture{W: w, H: top + height + notesHeight(notes, inner-8) + 20, draw: func(c draw.Canvas) {
		style := sans(style(13, ink))
		c.FillText(style, vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(style, title, inner-8))
		y := c.Max.Y - top
		for _, r := range rows {
			r.draw(c, c.Min.X+4, y, inner-8)
			y -= r.height(inner - 8)
		}
		drawNotes(c, notes, c.Min.X+4, y-4, inner-8)
	}}
}

var (
	recordedLine = draw.LineStyle{Color: deep, Width: 1.5}
	lawLine      = draw.LineStyle{Color: accent, Width: 1.5, Dashes: []vg.Length{6, 3}}
)

func quantileDot(c draw.Canvas, at vg.Point) {
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: deep, Radius: 1.9, Shape: draw.CircleGlyph{}}, at)
}

// shapeRow is the two panels of a law.
type shapeRow struct {
	s        *laws.Shape
	head, up string
}

const panelHigh = 190

func (r *shapeRow) lines(most vg.Length) []string {
	return inLines(sans(style(10, ink)), r.head, most, 2)
}

func (r *shapeRow) height(most vg.Length) vg.Length {
	return 13*vg.Length(len(r.lines(most))) + 20 + panelHigh + 40
}

func (r *shapeRow) draw(c draw.Canvas, left, top, most vg.Length) {
	for _, line := range r.lines(most) {
		c.FillText(sans(style(10, ink)), vg.Point{X: left, Y: top - 6}, line)
		top -= 13
	}
	top -= 20
	u := model.DisplayTime(r.s.At[len(r.s.At)/2].Seen)
	half := most/2 - 12
	a := area{left + 34, left + half, top - panelHigh, top}
	r.distribution(c, a, u)
	r.quantiles(c, area{left + half + 24 + 44, left + most, a.y0, a.y1}, u)
}

// distribution draws chances over values.
func (r *shapeRow) distribution(c draw.Canvas, a area, u model.Unit) {
	s := r.s
	n := len(s.X)
	x := scale{low: u.From(s.X[0]), high: u.From(s.X[n-1]), log: s.Log, from: a.x0, to: a.x1}
	y := scale{high: 100, from: a.y0, to: a.y1}
	acrossAxis(c, x, x.ticks(), a.y0, a.y1, u.Name)
	upAxis(c, y, y.ticks(), a.x0, a.x1)
	c.FillText(sans(style(small, quiet)), vg.Point{X: a.x0 - 30, Y: a.y1 + 10}, r.up)
	at := func(i int, share float64) vg.Point {
		return vg.Point{X: x.at(u.From(s.X[i])), Y: y.at(100 * min(max(share, 0), 1))}
	}
	var edge, law, seen []vg.Point
	for i := range n {
		edge, law, seen = append(edge, at(i, s.High[i])), append(law, at(i, s.Law[i])), append(seen, at(i, s.Seen[i]))
	}
	for i := n - 1; i >= 0; i-- {
		edge = append(edge, at(i, s.Low[i]))
	}
	c.FillPolygon(recordBand.c, edge)
	frame(c, a)
	c.StrokeLines(recordedLine, seen)
	c.StrokeLines(lawLine, law)
}

// quantiles draws recorded quantiles over those of the law.
func (r *shapeRow) quantiles(c draw.Canvas, a area, u model.Unit) {
	s := r.s
	low, high := s.At[0].Law, s.At[0].Law
	for _, q := range s.At {
		low, high = min(low, q.Law, q.Seen), max(high, q.Law, q.Seen)
	}
	low, high = low/1.25, high*1.1
	if !s.Log {
		low = 0
	}
	x := scale{low: u.From(low), high: u.From(high), log: s.Log, from: a.x0, to: a.x1}
	y := x
	y.from, y.to = a.y0, a.y1
	acrossAxis(c, x, x.ticks(), a.y0, a.y1, fmt.Sprintf(words.LogOfLaw, u.Name))
	upAxis(c, y, y.ticks(), a.x0, a.x1)
	c.FillText(sans(style(small, quiet)), vg.Point{X: a.x0 - 30, Y: a.y1 + 10}, fmt.Sprintf(words.LogQuantile, u.Name))
	inside := func(v float64) float64 { return u.From(min(max(v, low), high)) }
	at := func(law, v float64) vg.Point { return vg.Point{X: x.at(inside(law)), Y: y.at(inside(v))} }
	var edge []vg.Point
	for _, q := range s.At {
		edge = append(edge, at(q.Law, q.High))
	}
	for i := len(s.At) - 1; i >= 0; i-- {
		edge = append(edge, at(s.At[i].Law, s.At[i].Low))
	}
	c.FillPolygon(recordBand.c, edge)
	frame(c, a)
	c.StrokeLine2(lawLine, a.x0, a.y0, a.x1, a.y1)
	for _, q := range s.At {
		quantileDot(c, at(q.Law, q.Seen))
	}
}

// frame draws the left and the lower side of a panel.
func frame(c draw.Canvas, a area) {
	c.StrokeLines(draw.LineStyle{Color: quiet, Width: 0.6}, []vg.Point{{X: a.x0, Y: a.y1}, {X: a.x0, Y: a.y0}, {X: a.x1, Y: a.y0}})
}
