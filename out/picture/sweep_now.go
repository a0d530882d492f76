package picture

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/whatif"
)

// presentValue is the value of the key that alternatives have now.
type presentValue struct {
	at    float64 // in the unit of people
	label string
}

// presentValues are what the alternatives that are drawn have now, where that is
// on the scale; one that all have is named once.
func (g *sweepGraph) presentValues() []presentValue {
	var list []presentValue
	x := axisScale(g.axis, g.unit, false, 0, 1)
	for _, l := range g.lines {
		si, ok := g.axis.Now[l.alternative]
		v := g.unit.From(si)
		if !ok || v < x.low || v > x.high {
			continue
		}
		same := slices.IndexFunc(list, func(p presentValue) bool { return p.at == v })
		if same < 0 {
			list = append(list, presentValue{v, words.PresentValue(words.AxisValue(si, g.unit))})
		}
	}
	if len(list) > mostPresent { // of a sweep that gives many lines one value, each has its own before it
		return nil
	}
	return list
}

// mostPresent is the most present values that are marked.
const mostPresent = 4

// now marks what the alternatives have now.
func (g *sweepGraph) now(c draw.Canvas) {
	flags := make([]flag, len(g.flags))
	for i, p := range g.flags {
		flags[i] = flag{g.x.at(p.at), p.label}
	}
	band := c
	band.Min.X, band.Max.X, band.Max.Y = g.x.from, g.x.to, g.y.to+flagRow*vg.Length(len(flags))+2
	raise(band, flags, g.base, draw.LineStyle{Color: quiet, Width: 1, Dashes: []vg.Length{2, 3}})
}

// goalsOf are the limits that a sweep holds a metric against.
func goalsOf(s *whatif.Sweep, metric string, u model.Unit) []float64 {
	var list []float64
	for _, b := range s.Limits.Bounds() {
		if b.Metric == metric && !b.Rate {
			list = append(list, u.From(b.Most))
		}
	}
	return list
}

// target draws the limit on what is drawn, and returns the room of its name.
func (g *sweepGraph) target(c draw.Canvas) []area {
	var taken []area
	inside := area{g.x.from, g.x.to, g.base, g.y.to}
	for _, v := range g.goals {
		if g.y.log && v < g.y.low {
			continue
		}
		y := g.y.at(v)
		c.StrokeLine2(draw.LineStyle{Color: goalInk, Width: 1}, g.x.from, y, g.x.to, y)
		lines := [][]vg.Point{{{X: g.x.from, Y: y}, {X: g.x.to, Y: y}}}
		for _, w := range g.ways() {
			lines = append(lines, w[:])
		}
		for _, p := range g.flags {
			lines = append(lines, []vg.Point{{X: g.x.at(p.at), Y: g.base}, {X: g.x.at(p.at), Y: g.y.to}})
		}
		s := sans(style(small, goalInk))
		label := words.LimitLine(g.metric, g.read.Level(v))
		at := beside(inside, y, width(s, label), lines, taken)
		c.FillText(s, vg.Point{X: at.x0, Y: (at.y0 + at.y1) / 2}, label)
		taken = append(taken, at)
	}
	return taken
}

// ways are the pieces of all lines, and each of their points.
func (g *sweepGraph) ways() [][2]vg.Point {
	var ways [][2]vg.Point
	for _, l := range g.lines {
		for _, run := range g.runs(l) {
			for k := 1; k < len(run); k++ {
				p, _ := g.point(l, run[k-1])
				q, _ := g.point(l, run[k])
				ways = append(ways, [2]vg.Point{p, q})
			}
		}
		for i := range l.at {
			if l.at[i].Mean == l.at[i].Mean {
				p, _ := g.point(l, i)
				ways = append(ways, [2]vg.Point{p, p})
			}
		}
	}
	return ways
}
