package picture

import (
	"fmt"
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

// inputSwings draws what each input does to a metric of an alternative when it
// is moved to its low and its high end: two-sided bars from the base, the
// largest first. It is nil when there is nothing to draw.
func inputSwings(swings []whatif.Swing, metric, alternative string, sys model.System) *Picture {
	list, values := drawable(swings)
	if len(list) == 0 {
		return nil
	}
	read := words.ReadingOf(metric, words.UnitOf(metric), values, sys)
	title := read.Title()
	if alternative != "" {
		title = fmt.Sprintf(words.TitleOf, title, legible.Line(alternative))
	}
	return newSwingGraph(list, read, sys).picture(title, words.SwingUnder, words.SwingHigh)
}

// Stakes draws the inputs of a sensitivity that are shown to move a metric,
// the largest first and at most so many; nil when there are none.
func Stakes(s *whatif.Sensitivities, metric string, most int, sys model.System) *Picture {
	return StakesTold(s, metric, "", most, sys)
}

// StakesTold is Stakes with the amount of the base as it is written elsewhere.
func StakesTold(s *whatif.Sensitivities, metric, told string, most int, sys model.System) *Picture {
	var list []whatif.Swing
	for _, x := range s.Swings[metric] {
		if x.Size() > 0 && len(list) < most {
			list = append(list, x)
		}
	}
	if !whatif.IsMoney(metric) {
		return inputSwings(list, metric, s.Alternative, sys)
	}
	drawn, values := drawable(list)
	if len(drawn) == 0 {
		return nil
	}
	r := words.StakeReading(s, metric, 0, sys)
	read := words.Reading{Label: r.Label, Unit: r.Unit}
	if r.Money {
		largest := 0.0
		for _, v := range values {
			if words.Finite(v) {
				largest = max(largest, math.Abs(v))
			}
		}
		read.Unit = amounts(largest, s.Currency)
	}
	g := newSwingGraph(drawn, read, sys)
	g.told = told
	return g.picture(fmt.Sprintf(words.TitleOf, read.Title(), legible.Line(s.Alternative)), words.SwingUnderBoth, words.SwingHigh)
}

// picture draws the graph under a title; below says what is moved, high what the
// bar of the high end is.
func (g *swingGraph) picture(title, below, high string) *Picture {
	const w, inner, top, each = 720, 720 - 22, 60, 25
	height := vg.Length(each * len(g.rows))
	notes := []note{{func(c draw.Canvas, at vg.Point) { swingBar(c, at.X-7, at.X+7, at.Y-5, at.Y+5, false) }, words.SwingLow},
		{func(c draw.Canvas, at vg.Point) { swingBar(c, at.X-7, at.X+7, at.Y-5, at.Y+5, true) }, high}}
	return &Picture{W: w, H: top + height + 38 + notesHeight(notes, inner-8) + 8, draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(sans(style(13, ink)), title, inner-8))
		c.FillText(sans(style(small, quiet)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 24}, fit(sans(style(small, quiet)), below, inner-8))
		high := c.Max.Y - top
		low := high - height
		g.x.from = c.Min.X + 4 + g.names + 14 + g.texts[0]
		g.x.to = c.Max.X - g.totals - g.texts[1]
		acrossAxis(c, g.x, g.ticks(), low, high, "")
		g.head(c, low, high)
		for i, r := range g.rows {
			g.row(c, r, high-each*(vg.Length(i)+0.5))
		}
		drawNotes(c, notes, c.Min.X+4, low-26, inner-8)
	}}
}

// swingEnd is one end of an input.
type swingEnd struct {
	text        string
	value, half float64 // in the unit of people; NaN: no possible line
	right       bool    // the side of the base at which its text is
	level       int     // 0: the middle of the row, 1: above, -1: below
}

type swingRow struct {
	key, base string
	ends      [2]swingEnd // low, high
	total     float64
}

// swingGraph is what Swings draws.
type swingGraph struct {
	read          words.Reading
	base          estimate.Estimate // in SI
	told          string            // how the base is written elsewhere; empty: as the picture would
	rows          []swingRow
	x             scale
	names, totals vg.Length
	texts         [2]vg.Length // room for texts at the left and the right
}

// drawable are the swings that can be drawn, and their values.
func drawable(swings []whatif.Swing) (list []whatif.Swing, values []float64) {
	for _, s := range swings {
		if words.Finite(s.Base) && (words.Finite(s.Low) || words.Finite(s.Up)) {
			list = append(list, s)
			values = append(values, s.Base, s.Low, s.Up)
		}
	}
	return list, values
}

// newSwingGraph lays out swings that can be drawn, the largest first.
func newSwingGraph(list []whatif.Swing, read words.Reading, sys model.System) *swingGraph {
	g := &swingGraph{read: read}
	size := func(s whatif.Swing) float64 {
		most := 0.0
		for _, v := range []float64{s.Low, s.Up} {
			d := math.Abs(v - s.Base)
			if g.read.Log {
				d = math.Abs(math.Log(max(v, 1e-15) / max(s.Base, 1e-15)))
			}
			if words.Finite(d) {
				most = max(most, d)
			}
		}
		return most
	}
	slices.SortStableFunc(list, func(a, b whatif.Swing) int {
		switch d := size(b) - size(a); {
		case d > 0:
			return 1
		case d < 0:
			return -1
		}
		return 0
	})
	g.base = estimate.Estimate{Mean: list[0].Base, HalfWidth: list[0].BaseHalf}
	for _, s := range list {
		g.rows = append(g.rows, g.newRow(s, sys))
	}
	g.scale()
	g.room()
	return g
}

// newRow decides at which side each end is; two ends at the same side, or too
// near to tell apart, get a half of the row each.
func (g *swingGraph) newRow(s whatif.Swing, sys model.System) swingRow {
	u, at := g.read.Unit, func(k int) string { return legible.Line(words.SettingText(s.At[k], sys)) }
	r := swingRow{key: words.KeyOf(s.Key, s.Of), base: at(1), total: s.Total, ends: [2]swingEnd{
		{text: at(0), value: u.From(s.Low), half: u.From(s.LowHalf)}, {text: at(2), value: u.From(s.Up), half: u.From(s.UpHalf)}}}
	var side [2]float64
	for k, v := range []float64{s.Low, s.Up} {
		if words.Finite(v) {
			side[k] = v - s.Base
		} else {
			r.ends[k].value = math.NaN()
			if math.IsInf(v, 1) {
				r.ends[k].text = fmt.Sprintf(words.SwingNever, r.ends[k].text)
			} else {
				r.ends[k].text = fmt.Sprintf(words.SwingNotPossible, r.ends[k].text)
			}
		}
	}
	if g.read.Log {
		for k := range r.ends {
			if r.ends[k].value == 0 {
				r.ends[k].text = fmt.Sprintf(words.SwingNoneSeen, r.ends[k].text)
			}
		}
	}
	switch {
	case side[0]*side[1] > 0: // the same side
		r.ends[0].right, r.ends[1].right = side[0] > 0, side[0] > 0
		r.ends[0].level, r.ends[1].level = 1, -1
	case side[0] > 0 || side[1] < 0:
		r.ends[0].right = true
	default:
		r.ends[1].right = true
	}
	if a, b := r.ends[0], r.ends[1]; !g.read.Log && math.Abs(a.value-b.value) < a.half+b.half { // whiskers that would meet
		r.ends[0].level, r.ends[1].level = 1, -1
	}
	return r
}

// scale finds the range of the metric.
func (g *swingGraph) scale() {
	b := g.read.Unit.From(g.base.Mean)
	g.x = scale{low: math.Inf(1), high: math.Inf(-1), log: g.read.Log}
	see := func(v float64) {
		if words.Finite(v) && (!g.x.log || v > 0) {
			g.x.low, g.x.high = min(g.x.low, v), max(g.x.high, v)
		}
	}
	see(b)
	for _, r := range g.rows {
		for _, e := range r.ends {
			see(e.value)
			if !g.x.log && words.Finite(e.half) {
				see(e.value - e.half)
				see(e.value + e.half)
			}
		}
	}
	switch {
	case g.x.log:
		g.x.low, g.x.high = g.x.low/1.3, g.x.high*1.3
		for _, r := range g.rows {
			if r.ends[0].value == 0 || r.ends[1].value == 0 || b == 0 { // none: at the edge, clear of the least
				g.x.low /= 1.6
				break
			}
		}
	case g.x.low == g.x.high:
		half := 0.05 * math.Abs(b)
		if b == 0 {
			half = 1
		}
		g.x.low, g.x.high = b-half, b+half
	}
}

// room measures the names and the texts at the ends.
func (g *swingGraph) room() {
	name, text := sans(style(10, ink)), sans(style(small, ink))
	for i := range g.rows {
		r := &g.rows[i]
		r.key, r.base = fit(name, r.key, 190), fit(text, r.base, 190)
		g.names = max(g.names, width(name, r.key), width(text, r.base))
		for k := range r.ends {
			e := &r.ends[k]
			e.text = fit(text, e.text, 130)
			side := 0
			if e.right {
				side = 1
			}
			g.texts[side] = max(g.texts[side], width(text, e.text)+10)
		}
		if !math.IsNaN(r.total) {
			g.totals = 62
		}
	}
	g.texts[1] += 4
}

func (g *swingGraph) ticks() []plot.Tick {
	list := g.x.ticks()
	if g.read.Log {
		for i, k := range list {
			list[i].Label = words.OneIn(k.Value * g.read.Unit.SI)
		}
	}
	return list
}

// place is where a value is drawn; none on a scale of ratios is at its edge.
func (g *swingGraph) place(v float64) vg.Length {
	if g.x.log && v < g.x.low {
		return g.x.from
	}
	return g.x.at(v)
}

// head draws the line of the base with its value above it, and the head of the
// totals.
func (g *swingGraph) head(c draw.Canvas, low, high vg.Length) {
	s := sans(style(small, ink))
	s.XAlign = draw.XCenter
	said := fmt.Sprintf(words.SwingBase, words.Figure(g.base, g.read.Unit)+" "+g.read.Unit.Name)
	if g.read.Log {
		said = words.SwingBaseNone
		if g.base.Mean > 0 {
			said = fmt.Sprintf(words.SwingBase, words.OneIn(g.base.Mean))
		}
	}
	if math.IsNaN(g.base.HalfWidth) && !g.read.Log {
		said = fmt.Sprintf(words.SwingBase, g.read.Level(g.read.Unit.From(g.base.Mean)))
	}
	if g.told != "" {
		said = fmt.Sprintf(words.SwingBase, g.told)
	}
	x := g.place(g.read.Unit.From(g.base.Mean))
	half := width(s, said) / 2
	c.FillText(s, vg.Point{X: min(max(x, c.Min.X+half+4), c.Max.X-g.totals-half-4), Y: high + 9}, said)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, x, low, x, high+3)
	if g.totals > 0 {
		s = sans(style(small, quiet))
		s.XAlign = draw.XRight
		c.FillText(s, vg.Point{X: c.Max.X - 4, Y: high + 9}, words.SwingTotal)
	}
}

// middle is the height of the bar of an end in the row at y, and half its breadth.
func (e swingEnd) middle(y vg.Length) (mid, half vg.Length) {
	if e.level == 0 {
		return y, 8
	}
	return y + 6.5*vg.Length(e.level), 5.5
}

// row draws one input at the height y.
func (g *swingGraph) row(c draw.Canvas, r swingRow, y vg.Length) {
	name, text := sans(style(10, ink)), sans(style(small, quiet))
	if r.base == "" {
		c.FillText(name, vg.Point{X: c.Min.X + 4, Y: y}, r.key)
	} else {
		c.FillText(name, vg.Point{X: c.Min.X + 4, Y: y + 5.5}, r.key)
		c.FillText(text, vg.Point{X: c.Min.X + 4, Y: y - 6}, r.base)
	}
	if !math.IsNaN(r.total) {
		t := sans(style(small, ink))
		t.XAlign = draw.XRight
		c.FillText(t, vg.Point{X: c.Max.X - 4, Y: y}, fmt.Sprintf("%.2f", r.total))
	}
	from := g.place(g.read.Unit.From(g.base.Mean))
	clear := map[int]*area{} // what bars and their whiskers take, by level
	for k, e := range r.ends {
		mid, half := e.middle(y)
		if clear[e.level] == nil {
			clear[e.level] = &area{x0: from, x1: from}
		}
		if math.IsNaN(e.value) {
			continue
		}
		x, taken := g.place(e.value), clear[e.level]
		swingBar(c, min(from, x), max(from, x), mid-half, mid+half, k == 1)
		taken.x0, taken.x1 = min(taken.x0, x), max(taken.x1, x)
		if words.Finite(e.half) && e.half > 0 && !g.x.log {
			a, b := g.place(e.value-e.half), g.place(e.value+e.half)
			line := draw.LineStyle{Color: ink, Width: 1}
			c.StrokeLine2(line, a, mid, b, mid)
			c.StrokeLine2(line, a, mid-2.5, a, mid+2.5)
			c.StrokeLine2(line, b, mid-2.5, b, mid+2.5)
			taken.x0, taken.x1 = min(taken.x0, a), max(taken.x1, b)
		}
	}
	for _, e := range r.ends {
		mid, _ := e.middle(y)
		t := sans(style(small, ink))
		if e.right {
			c.FillText(t, vg.Point{X: clear[e.level].x1 + 5, Y: mid}, e.text)
		} else {
			t.XAlign = draw.XRight
			c.FillText(t, vg.Point{X: clear[e.level].x0 - 5, Y: mid}, e.text)
		}
	}
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, from, y-12.5, from, y+12.5)
}

// swingBar draws a bar: full for the high end of an input, hatched for the low.
func swingBar(c draw.Canvas, x0, x1, y0, y1 vg.Length, high bool) {
	if x1-x0 < 0.3 {
		return
	}
	a := area{x0, x1, y0, y1}
	if high {
		highEnd.paint(c, a)
	} else {
		lowEnd.paint(c, a)
	}
	c.StrokeLines(draw.LineStyle{Color: ink, Width: 0.5}, append(a.corners(), a.corners()[0]))
}
