package picture

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// Cash draws the cash flow of a savings case: a bar for the net of each
// year, the line of their sum with the band that holds it at the confidence of
// the run, and the year in which it crosses zero.
func Cash(c *savings.Case) *Picture {
	flow, band := words.MeanFlows(c), c.Random.Cumulative
	n := min(len(flow), len(band))
	if n < 2 {
		return nil
	}
	sum := make([]float64, n)
	y := scale{low: 0, high: 0}
	see := func(v float64) {
		if words.Finite(v) {
			y.low, y.high = min(y.low, v), max(y.high, v)
		}
	}
	for t := range n {
		if sum[t] = flow[t].Net; t > 0 {
			sum[t] += sum[t-1]
		}
		for _, v := range []float64{flow[t].Net, sum[t], band[t].Low, band[t].High} {
			see(v)
		}
	}
	unit := amounts(max(-y.low, y.high), c.Currency)
	room := 0.06 * (y.high - y.low)
	y.low, y.high = unit.From(y.low-room), unit.From(y.high+room)
	if y.low == y.high {
		y.high = y.low + 1
	}
	notes := []note{
		{func(c draw.Canvas, at vg.Point) { cashBar(c, at.X-7, at.X+7, at.Y-5, at.Y+5) }, words.CashBars},
		{func(c draw.Canvas, at vg.Point) {
			c.FillPolygon(sumBand.c, area{at.X - 8, at.X + 8, at.Y - 5, at.Y + 5}.corners())
			c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1.8}, at.X-8, at.Y, at.X+8, at.Y)
		}, fmt.Sprintf(words.CashBand, 100*c.Run.Confidence)},
	}
	const w, inner, top, height = 720, 720 - 22, 46, 190
	return &Picture{W: w, H: top + height + 44 + notesHeight(notes, inner-8) + 8, draw: func(cv draw.Canvas) {
		head := sans(style(13, ink))
		cv.FillText(head, vg.Point{X: cv.Min.X + 4, Y: cv.Max.Y - 8}, fit(head, fmt.Sprintf(words.TitleCash, unit.Name, legible.Line(c.Alternative)), inner-8))
		cv.FillText(sans(style(small, quiet)), vg.Point{X: cv.Min.X + 4, Y: cv.Max.Y - 24}, fit(sans(style(small, quiet)), fmt.Sprintf(words.CashUnder, words.TaxWords(c), legible.Line(c.Against)), inner-8))
		ticks := y.ticks()
		y.from, y.to = cv.Max.Y-top-height, cv.Max.Y-top
		left := cv.Min.X + 14 + widest(ticks)
		x := scale{low: -0.6, high: float64(n) - 0.4, from: left, to: cv.Max.X - 6}
		acrossAxis(cv, x, yearTicks(n), y.from, 0, words.CashYear)
		upAxis(cv, y, ticks, x.from, x.to)
		at := func(t int, v float64) vg.Point { return vg.Point{X: x.at(float64(t)), Y: y.at(unit.From(v))} }
		var edge []vg.Point
		for t := range n {
			edge = append(edge, at(t, orSum(band[t].High, sum[t])))
		}
		for t := n - 1; t >= 0; t-- {
			edge = append(edge, at(t, orSum(band[t].Low, sum[t])))
		}
		cv.FillPolygon(sumBand.c, edge)
		half := 0.22 * (x.at(1) - x.at(0))
		for t := range n {
			p, zero := at(t, flow[t].Net), at(t, 0)
			cashBar(cv, p.X-half, p.X+half, min(p.Y, zero.Y), max(p.Y, zero.Y))
		}
		cv.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, x.from, at(0, 0).Y, x.to, at(0, 0).Y)
		var line []vg.Point
		for t := range n {
			line = append(line, at(t, sum[t]))
		}
		cv.StrokeLines(draw.LineStyle{Color: ink, Width: 1.8}, line)
		crossing(cv, c, sum, x, y)
		drawNotes(cv, notes, cv.Min.X+4, y.from-42, inner-8)
	}}
}

func orSum(v, sum float64) float64 {
	if words.Finite(v) {
		return v
	}
	return sum
}

// crossing marks where the mean flows have paid back what was spent.
func crossing(c draw.Canvas, k *savings.Case, sum []float64, x, y scale) {
	years := crossed(sum)
	if k.Random.Invests == 0 || !words.Finite(years) || years < x.low || years > x.high {
		return
	}
	p := vg.Point{X: x.at(years), Y: y.at(0)}
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: 4.2, Shape: draw.CircleGlyph{}}, p)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: ink, Radius: 3.6, Shape: draw.RingGlyph{}}, p)
	s := sans(style(small, ink))
	said := fmt.Sprintf(words.CashRepaid, words.Payback(years))
	to := vg.Point{X: min(p.X+10, c.Max.X-width(s, said)-6), Y: p.Y - 12}
	c.FillPolygon(paper, area{to.X - 2, to.X + width(s, said) + 2, to.Y - 6, to.Y + 7}.corners())
	c.FillText(s, to, said)
}

// crossed is when a running sum first reaches 0, linear within the year; NaN:
// it does not begin below 0, or never comes.
func crossed(sum []float64) float64 {
	for t := 1; t < len(sum) && sum[0] < 0; t++ {
		if sum[t] >= 0 {
			return float64(t-1) + sum[t-1]/(sum[t-1]-sum[t])
		}
	}
	return math.NaN()
}

// cashBar draws the net of a year.
func cashBar(c draw.Canvas, x0, x1, y0, y1 vg.Length) {
	if y1-y0 < 0.3 {
		return
	}
	c.FillPolygon(netOfYear.c, area{x0, x1, y0, y1}.corners())
	c.StrokeLines(draw.LineStyle{Color: ink, Width: 0.7}, append(area{x0, x1, y0, y1}.corners(), vg.Point{X: x0, Y: y0}))
}

// yearTicks are whole years, at most 12 of them.
func yearTicks(n int) []plot.Tick {
	every := int(math.Ceil(float64(n) / 12))
	var ticks []plot.Tick
	for t := 0; t < n; t += every {
		ticks = append(ticks, plot.Tick{Value: float64(t), Label: strconv.Itoa(t)})
	}
	return ticks
}
