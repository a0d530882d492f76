package picture

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/whatif"
)

// Sweep draws a metric over one key: a line for each alternative with the
// band of its confidence, its name at its end, and numbered marks where a limit
// begins to bind. Of two keys one takes a single value, which is said. It is nil
// when there is nothing to draw.
func Sweep(s *whatif.Sweep, metric string, sys model.System) *Picture {
	s, at := overOneKey(s)
	g := newSweepGraph(s, metric, sys)
	if g == nil {
		return nil
	}
	g.says += at
	const w, inner = 720, 720 - 22
	g.measure(inner)
	top := 46 + flagRow*vg.Length(len(g.flags)) // a band above the lines for the names of what is now
	bottom := 44 + notesHeight(g.notes, inner)
	return &Picture{W: w, H: top + g.height + bottom + 16, draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(sans(style(13, ink)), g.read.Title(), inner-8))
		c.FillText(sans(style(small, quiet)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 24}, fit(sans(style(small, quiet)), g.says, inner-8))
		g.x.from, g.x.to = c.Min.X+g.left, c.Max.X-g.right
		g.base = c.Max.Y - top - g.height
		g.y.from, g.y.to = g.base+g.none(), c.Max.Y-top
		acrossAxis(c, g.x, axisTicks(s.Axes[0], g.unit, g.x), g.base, 0, words.AxisTitle(s.Axes[0], g.unit))
		upAxis(c, g.y, g.ticks, g.x.from, g.x.to)
		g.frame(c)
		g.now(c)
		for _, l := range g.lines {
			g.band(c, l)
		}
		for i, l := range g.lines {
			g.line(c, l, i)
		}
		g.names(c)
		g.badges(c, g.target(c))
		drawNotes(c, g.notes, c.Min.X+4, g.base-42, inner-8)
	}}
}

// overOneKey is a sweep without the key that takes a single value, and where that
// stands, in words.
func overOneKey(s *whatif.Sweep) (*whatif.Sweep, string) {
	if s == nil || len(s.Axes) != 2 {
		return s, ""
	}
	over, at := 0, 1
	if len(s.Axes[0].Values) == 1 {
		over, at = 1, 0
	}
	if len(s.Axes[at].Values) != 1 {
		return s, ""
	}
	flat := *s
	flat.Axes, flat.Points = s.Axes[over:over+1], slices.Clone(s.Points)
	for i := range flat.Points {
		flat.Points[i].At = s.Points[i].At[over : over+1]
	}
	a := s.Axes[at]
	return &flat, "; " + words.KeyOf(a.Key, a.Of) + " " + legible.Line(a.Texts[0])
}

// sweepLine is one alternative of a sweep over one key.
type sweepLine struct {
	alternative int
	name        string
	stroke      stroke
	row         int                 // of its marks below a scale of ratios; -1: it has none there
	at          []estimate.Estimate // in the unit of people, one a point; Mean NaN: nothing there
	words       []string            // its name in lines
}

// sweepGraph is what Sweep draws.
type sweepGraph struct {
	metric              string
	read                words.Reading
	unit                model.Unit // of the key
	says                string
	axis                whatif.Axis
	x, y                scale
	lines               []*sweepLine
	last                int // point at which the lines end
	rows                int // of marks below a scale of ratios
	base                vg.Length
	left, right, height vg.Length
	ticks               []plot.Tick
	marks               []limitMark
	flags               []presentValue
	goals               []float64 // the limit on what is drawn, in the unit of people; of chances by time none
	notes               []note
	leftOut             []int
}

// newSweepGraph reads a sweep; nil when it has no figure of the metric.
func newSweepGraph(s *whatif.Sweep, metric string, sys model.System) *sweepGraph {
	if s == nil || len(s.Axes) != 1 || len(s.Points) != len(s.Axes[0].Values) {
		return nil
	}
	g := &sweepGraph{metric: metric, axis: s.Axes[0], unit: words.AxisUnit(s.Axes[0], sys), last: -1}
	si, values := gather(s, metric)
	if len(values) == 0 {
		return nil
	}
	g.read = words.ReadingOf(metric, si, values, sys)
	var missing []string
	replications, confidence := 0, math.NaN()
	for a, name := range s.Alternatives {
		l := &sweepLine{alternative: a, name: legible.Line(name), stroke: strokeOf(placeOf(s, a)), row: -1}
		any := false
		for i, p := range s.Points {
			e, ok := estimateAt(&p, a, metric)
			if ok {
				any, g.last = true, max(g.last, i)
				replications, confidence = e.N, p.Results.Run.Confidence
				e.Mean, e.HalfWidth = g.read.Unit.From(e.Mean), g.read.Unit.From(e.HalfWidth)
			} else {
				e.Mean = math.NaN()
			}
			l.at = append(l.at, e)
		}
		if any {
			g.lines = append(g.lines, l)
		} else {
			missing = append(missing, name)
		}
	}
	g.says = words.SweepOnce
	if replications > 1 {
		g.says = fmt.Sprintf(words.SweepMean, replications, 100*confidence)
	}
	g.goals = goalsOf(s, metric, g.read.Unit)
	g.limits()
	g.flags = g.presentValues()
	g.binding(s)
	for i, p := range s.Points {
		if p.LeftOut != "" {
			g.leftOut = append(g.leftOut, i)
		}
	}
	g.leftOutNotes(s)
	for _, name := range missing {
		g.notes = append(g.notes, note{nil, fmt.Sprintf(words.SweepNothing, words.Shorten(legible.Line(name), 60))})
	}
	return g
}

// placeOf is the place of an alternative of a sweep in its study.
func placeOf(s *whatif.Sweep, alternative int) int {
	if alternative < len(s.Places) {
		return s.Places[alternative]
	}
	return alternative
}

// gather lists every mean of a metric in a sweep, and its SI unit.
func gather(s *whatif.Sweep, metric string) (unit string, values []float64) {
	for i := range s.Points {
		for a := range s.Alternatives {
			if e, ok := estimateAt(&s.Points[i], a, metric); ok {
				unit, values = e.Unit, append(values, e.Mean)
			}
		}
	}
	return unit, values
}

// estimateAt is a metric of an alternative at a point, if it is there.
func estimateAt(p *whatif.Point, alternative int, metric string) (estimate.Estimate, bool) {
	if p.LeftOut != "" || p.Results == nil || alternative >= len(p.Results.Alternatives) {
		return estimate.Estimate{}, false
	}
	e, ok := p.Results.Alternatives[alternative].Metrics[metric]
	return e, ok && words.Finite(e.Mean)
}

// measure finds the room that names and ticks need.
func (g *sweepGraph) measure(inner vg.Length) {
	g.ticks = g.y.ticks()
	if g.read.Log {
		for i, k := range g.ticks {
			g.ticks[i].Label = words.OneIn(k.Value * g.read.Unit.SI)
		}
	}
	g.left = max(widest(g.ticks), 24) + 12
	s := sans(style(small, ink))
	sum := vg.Length(0)
	for _, l := range g.lines {
		l.words = inLines(s, l.name, 150, 3)
		for _, w := range l.words {
			g.right = max(g.right, width(s, w))
		}
		sum += g.nameHeight(l)
	}
	g.right += 34
	g.height = max(235, sum+10) + g.none()
	g.x = axisScale(g.axis, g.unit, false, 0, inner-g.left-g.right)
}

func (g *sweepGraph) nameHeight(l *sweepLine) vg.Length { return 12*vg.Length(len(l.words)) + 4 }

// none is the height of the rows of what was never seen.
func (g *sweepGraph) none() vg.Length {
	if g.rows == 0 {
		return 0
	}
	return 10*vg.Length(g.rows) + 12
}

// point is where a point of a line is drawn; none says that it is in the rows
// of what was never seen.
func (g *sweepGraph) point(l *sweepLine, i int) (at vg.Point, none bool) {
	at.X = g.x.at(g.unit.From(g.axis.Values[i]))
	if v := l.at[i].Mean; !g.y.log || v >= g.y.low {
		at.Y = g.y.at(v)
		return at, false
	}
	at.Y = g.base + 9 + 10*vg.Length(l.row)
	return at, true
}

// runs are the stretches of a line without a gap, on its scale.
func (g *sweepGraph) runs(l *sweepLine) [][]int {
	var out [][]int
	open := false
	for i, e := range l.at {
		if math.IsNaN(e.Mean) || g.y.log && e.Mean < g.y.low {
			open = false
			continue
		}
		if !open {
			out, open = append(out, nil), true
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// frame draws what is behind the lines: the points on the key, what is left
// out, and the rows of what was never seen.
func (g *sweepGraph) frame(c draw.Canvas) {
	c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.8}, g.x.from, g.base, g.x.to, g.base)
	for i, v := range g.axis.Values {
		if x := g.x.at(g.unit.From(v)); !contains(g.leftOut, i) {
			c.StrokeLine2(draw.LineStyle{Color: quiet, Width: 0.8}, x, g.base, x, g.base+3)
		}
	}
	for _, i := range g.leftOut {
		cross(c, vg.Point{X: g.x.at(g.unit.From(g.axis.Values[i])), Y: g.base})
	}
	if g.rows > 0 {
		c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6, Dashes: []vg.Length{2, 2}}, g.x.from, g.y.from-3, g.x.to, g.y.from-3)
		s := sans(style(small, quiet))
		s.XAlign = draw.XRight
		c.FillText(s, vg.Point{X: g.x.from - 6, Y: g.base + g.none()/2 - 4}, words.SweepNone)
	}
}

// band draws the confidence of a line.
func (g *sweepGraph) band(c draw.Canvas, l *sweepLine) {
	shade := l.stroke.c
	shade.A = 0x2a
	ends := func(i int) (low, high vg.Point, ok bool) {
		e := l.at[i]
		if !words.Finite(e.HalfWidth) || e.HalfWidth <= 0 {
			p, _ := g.point(l, i)
			return p, p, false
		}
		x := g.x.at(g.unit.From(g.axis.Values[i]))
		return vg.Point{X: x, Y: g.y.at(max(g.y.low, e.Mean-e.HalfWidth))}, vg.Point{X: x, Y: g.y.at(min(g.y.high, e.Mean+e.HalfWidth))}, true
	}
	for _, run := range g.runs(l) {
		var up, down []vg.Point
		for _, i := range run {
			low, high, ok := ends(i)
			up, down = append(up, high), append(down, low)
			if ok && len(run) == 1 {
				c.StrokeLine2(draw.LineStyle{Color: l.stroke.c, Width: 1}, low.X, low.Y, high.X, high.Y)
			}
		}
		for i := len(down) - 1; i >= 0; i-- {
			up = append(up, down[i])
		}
		if len(run) > 1 {
			c.FillPolygon(shade, up)
		}
	}
}

// line draws the mean of a line, with marks at most of a dozen points.
func (g *sweepGraph) line(c draw.Canvas, l *sweepLine, index int) {
	for _, run := range g.runs(l) {
		var pts []vg.Point
		for _, i := range run {
			p, _ := g.point(l, i)
			pts = append(pts, p)
		}
		if len(pts) > 1 {
			c.StrokeLines(draw.LineStyle{Color: l.stroke.c, Width: 1.6, Dashes: l.stroke.dashes}, pts)
		}
	}
	every := (len(l.at) + 11) / 12
	for i, e := range l.at {
		if math.IsNaN(e.Mean) {
			continue
		}
		p, none := g.point(l, i)
		switch {
		case none:
			c.DrawGlyphNoClip(draw.GlyphStyle{Color: l.stroke.c, Radius: 2.9, Shape: hollow(l.stroke.glyph)}, p)
		case every == 1 || (i+index)%every == 0 || len(g.runs(l)) == len(l.at):
			l.stroke.marker(c, p)
		}
	}
}

// hollow is the open form of a mark.
func hollow(g draw.GlyphDrawer) draw.GlyphDrawer {
	switch g.(type) {
	case draw.CircleGlyph:
		return draw.RingGlyph{}
	case draw.BoxGlyph:
		return draw.SquareGlyph{}
	case draw.PyramidGlyph:
		return draw.TriangleGlyph{}
	}
	return g
}

// names writes each name at the end of its line.
func (g *sweepGraph) names(c draw.Canvas) {
	var want, heights []vg.Length
	var ends []vg.Point
	for _, l := range g.lines {
		end := 0
		for i, e := range l.at {
			if !math.IsNaN(e.Mean) {
				end = i
			}
		}
		p, _ := g.point(l, end)
		ends, want, heights = append(ends, p), append(want, p.Y), append(heights, g.nameHeight(l))
	}
	at := spread(want, heights, g.base, g.y.to)
	for i, l := range g.lines {
		s := sans(style(small, readable(l.stroke.c)))
		from := g.x.to + 26
		lead := draw.LineStyle{Color: l.stroke.c, Width: 0.7}
		if ends[i].X < g.x.to-25 { // not to be taken for the line itself
			lead = draw.LineStyle{Color: quiet, Width: 0.6, Dashes: []vg.Length{0.6, 2.5}}
		}
		y := at[i] + 6*vg.Length(len(l.words)-1) // at the first line of the name, not between two
		c.StrokeLines(lead, []vg.Point{{X: ends[i].X + 4, Y: ends[i].Y}, {X: g.x.to + 3, Y: ends[i].Y}, {X: from - 4, Y: y}})
		for _, w := range l.words {
			c.FillText(s, vg.Point{X: from, Y: y}, w)
			y -= 12
		}
	}
}

// cross marks what is left out.
func cross(c draw.Canvas, at vg.Point) {
	line := draw.LineStyle{Color: color.NRGBA(ink), Width: 1.1}
	c.StrokeLine2(line, at.X-3, at.Y-3, at.X+3, at.Y+3)
	c.StrokeLine2(line, at.X-3, at.Y+3, at.X+3, at.Y-3)
}
