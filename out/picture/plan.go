package picture

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/plan"
)

// Of the picture of a plan.
const (
	planWide  = wide
	planTop   = 40
	planBar   = 6   // height of the bar of an order, of one alternative
	planGap   = 7   // between two orders
	mostNamed = 165 // width of the names
	mostLate  = 5   // alternatives whose chances to be late stand beside their bars
)

// OrdersDrawn is how many orders of a list the picture shows: fewer with many
// alternatives.
func OrdersDrawn(a *plan.Answer) int {
	return min(len(a.Orders), 120, max(6, 400/len(a.Alternatives)))
}

// Plan draws the orders of a list over time: of each a bar for every alternative, with
// the changeover before it and where its end lies, and when it is due. Of a long list
// the first orders; nil where none was made.
func Plan(a *plan.Answer) *Picture {
	n := OrdersDrawn(a)
	clock := words.ClockOf(a)
	last, made := 0.0, false
	for i := range a.Alternatives {
		for _, o := range a.Alternatives[i].Orders[:n] {
			if !math.IsNaN(o.End.High) {
				last, made = math.Max(last, o.End.High), true
			}
		}
	}
	if !made {
		return nil
	}
	first := 0.0
	for _, o := range a.Orders[:n] { // a due time far away says nothing here
		if o.Due < 1.15*last {
			first, last = math.Min(first, math.Max(o.Due, -0.1*last)), math.Max(last, o.Due)
		}
	}
	x := scale{low: first / 3600, high: last / 3600 * 1.02}
	label := sans(style(small, ink))
	names := vg.Length(0)
	for k := range n {
		names = max(names, width(label, orderName(a, k, label)))
	}
	late := planLate(a, n, label)
	each := vg.Length(planBar*len(a.Alternatives) + planGap)
	height := each * vg.Length(n)
	notes := planNotes(a, n)
	const inner = planWide - 22
	return &Picture{W: planWide, H: planTop + height + 40 + notesHeight(notes, inner-8) + 14, draw: func(c draw.Canvas) {
		c.FillText(sans(style(13, ink)), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - 8}, fit(sans(style(13, ink)), words.TitlePlan, inner))
		high := c.Max.Y - planTop
		low := high - height
		s := x
		s.from, s.to = c.Min.X+4+names+10, c.Max.X-late.wide
		for k := 1; k < n; k += 2 {
			y := high - each*vg.Length(k) + planGap/2
			c.FillPolygon(stripe, []vg.Point{{X: c.Min.X, Y: y - each}, {X: c.Max.X, Y: y - each}, {X: c.Max.X, Y: y}, {X: c.Min.X, Y: y}})
		}
		planAxis(c, s, clock, low, high)
		if late.texts != nil {
			c.FillText(sans(style(small, quiet)), vg.Point{X: s.to + 10, Y: high + 6}, late.head)
		}
		for k := range n {
			if late.texts != nil {
				c.FillText(label, vg.Point{X: s.to + 10, Y: high - each*vg.Length(k) - (each-planGap)/2}, late.texts[k])
			}
			planOrder(c, a, k, s, high-each*vg.Length(k), label)
		}
		drawNotes(c, notes, c.Min.X+4, low-36, inner-8)
	}}
}

// lateColumn are the chances to be late beside the bars; without texts there are none.
type lateColumn struct {
	head  string
	texts []string // by order
	wide  vg.Length
}

// planLate is what stands beside the bars of the first n orders: nothing where no order
// is due, or where the alternatives are too many.
func planLate(a *plan.Answer, n int, label draw.TextStyle) lateColumn {
	if words.Due(a) == 0 || len(a.Alternatives) > mostLate {
		return lateColumn{wide: 14}
	}
	l := lateColumn{head: words.PlanLate}
	if len(a.Alternatives) > 1 {
		l.head = words.PlanLateEach
	}
	l.wide = width(label, l.head)
	for k := range n {
		var each []string
		for i := range a.Alternatives {
			text := words.NotDue
			if e := a.Alternatives[i].Orders[k].Late; e.N > 0 {
				text = fmt.Sprintf("%.0f", 100*e.Mean)
			}
			each = append(each, text)
		}
		if math.IsInf(a.Orders[k].Due, 1) {
			each = []string{words.NotDue}
		}
		l.texts = append(l.texts, strings.Join(each, " / "))
		l.wide = max(l.wide, width(label, l.texts[k]))
	}
	l.wide += 14
	return l
}

// orderName is an order and its product; where both are long, each is cut.
func orderName(a *plan.Answer, k int, label draw.TextStyle) string {
	name, product := legible.Line(a.Orders[k].Name), legible.Line(a.Products[a.Orders[k].Product])
	if width(label, name+"  "+product) > mostNamed {
		name = fit(label, name, max(mostNamed/2, mostNamed-width(label, "  "+product)))
	}
	return fit(label, name+"  "+product, mostNamed)
}

// stripe lies behind every second order, so that the eye finds from a name to its bars.
var stripe = color.NRGBA{0xf5, 0xf7, 0xf8, 0xff}

// planNotes say what bars and marks are.
func planNotes(a *plan.Answer, n int) []note {
	var notes []note
	for i := range a.Alternatives {
		f := planFill(i)
		notes = append(notes, note{func(c draw.Canvas, at vg.Point) { f.paint(c, area{at.X - 7, at.X + 7, at.Y - 4, at.Y + 4}) }, legible.Line(a.Alternatives[i].Name)})
	}
	notes = append(notes,
		note{func(c draw.Canvas, at vg.Point) {
			causeFills[metric.HoldChangeover].paint(c, area{at.X - 7, at.X + 7, at.Y - 4, at.Y + 4})
		}, words.PlanChangeover},
		note{func(c draw.Canvas, at vg.Point) { planBand(c, at.X-7, at.X+7, at.Y, at.X, at.X) }, words.PlanBand})
	if words.Due(a) > 0 {
		notes = append(notes, note{func(c draw.Canvas, at vg.Point) { planDue(c, at.X, at.Y-6, at.Y+6) }, words.PlanDue})
	}
	if n < len(a.Orders) {
		notes = append(notes, note{nil, fmt.Sprintf(words.PlanMore, len(a.Orders)-n)})
	}
	return notes
}

// planFill is the bar of an alternative: the colour that its line has elsewhere.
func planFill(alternative int) fill { return fill{strokeOf(alternative).c, plain} }

// planOrder draws one order from the height top down.
func planOrder(c draw.Canvas, a *plan.Answer, k int, s scale, top vg.Length, label draw.TextStyle) {
	bottom := top - planBar*vg.Length(len(a.Alternatives))
	c.FillText(label, vg.Point{X: c.Min.X + 4, Y: (top + bottom) / 2}, orderName(a, k, label))
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		o := &x.Orders[k]
		y := top - planBar*vg.Length(i)
		if math.IsNaN(o.End.Mean) {
			continue
		}
		at := func(seconds float64) vg.Length { return s.at(seconds / 3600) }
		change := 0.0
		for h, t := range o.Stopped {
			if x.Causes[h] == metric.HoldChangeover {
				change = t
			}
		}
		if change > 0 && o.Begin.Mean > change {
			causeFills[metric.HoldChangeover].paint(c, area{at(o.Begin.Mean - change), at(o.Begin.Mean), y - planBar + 1, y - 1})
		}
		planFill(i).paint(c, area{at(o.Begin.Mean), max(at(o.End.Mean), at(o.Begin.Mean)+0.8), y - planBar + 1, y - 1})
		if o.End.High > o.End.Low {
			planBand(c, at(o.End.Low), at(o.End.High), y-planBar/2, at(o.Begin.Mean), at(o.End.Mean))
		}
	}
	if due := a.Orders[k].Due; due/3600 <= s.high && due/3600 >= s.low {
		planDue(c, s.at(due/3600), bottom-1, top+1)
	}
}

// planBand is where an end lies, 5 to 95 % of the replications: dark, and light as far
// as it lies on a bar from begin to end.
func planBand(c draw.Canvas, from, to, y, begin, end vg.Length) {
	dark, light := draw.LineStyle{Color: ink, Width: 1}, draw.LineStyle{Color: paper, Width: 0.9}
	c.StrokeLine2(dark, from, y, to, y)
	if x0, x1 := max(from, begin), min(to, end); x0 < x1 {
		c.StrokeLine2(light, x0, y, x1, y)
	}
	for _, x := range []vg.Length{from, to} {
		line := dark
		if x > begin && x < end {
			line = light
		}
		c.StrokeLine2(line, x, y-2.5, x, y+2.5)
	}
}

// planDue is when an order is due.
func planDue(c draw.Canvas, x, from, to vg.Length) {
	c.StrokeLine2(draw.LineStyle{Color: goalInk, Width: 1.6}, x, from, x, to)
	c.FillPolygon(goalInk, []vg.Point{{X: x, Y: to - 3}, {X: x - 3, Y: to + 1.5}, {X: x + 3, Y: to + 1.5}})
}

// planAxis draws the time below the bars, on the clock of the plant where it is known.
func planAxis(c draw.Canvas, s scale, clock words.PlanClock, low, high vg.Length) {
	var ticks []plot.Tick
	var step float64
	for _, step = range []float64{1. / 12, 0.25, 0.5, 1, 2, 4, 6, 12, 24, 48, 168, 336, 672, 2016, 8064} {
		if (s.high-s.low)/step <= 10 {
			break
		}
	}
	for v := clock.FirstTick(s.low, step); v <= s.high; v += step {
		ticks = append(ticks, plot.Tick{Value: v, Label: clock.Tick(v, step, len(ticks) == 0)})
	}
	line := draw.LineStyle{Color: faint, Width: 0.6}
	t := sans(style(small, quiet))
	t.XAlign = draw.XCenter
	free := c.Min.X
	for _, x := range ticks {
		at, half := s.at(x.Value), width(t, x.Label)/2
		c.StrokeLine2(line, at, low, at, high)
		if at-half >= free && at+half <= c.Max.X { // labels do not run into one another
			c.FillText(t, vg.Point{X: at, Y: low - 8}, x.Label)
			free = at + half + 6
		}
	}
	t.XAlign = draw.XRight
	c.FillText(t, vg.Point{X: s.to, Y: low - 21}, clock.Axis())
}
