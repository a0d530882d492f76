package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// part is a piece of a bar.
type part struct {
	label string
	value float64 // share
}

// bar is one alternative.
type bar struct {
	name  string
	parts []part
	total string // beside the bar; may be empty
}

// Hours draws where the hours go: a bar for each alternative, all of 100 %.
func Hours(rs *sim.Results) *Picture {
	var bars []bar
	for _, r := range rs.Alternatives {
		b := bar{name: r.Alternative}
		for _, name := range r.Names {
			if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.Hours {
				b.parts = append(b.parts, part{words.LabelOf(name).Text, r.Metrics[name].Mean})
			}
		}
		bars = append(bars, b)
	}
	return stacked("Where the hours go", "share of the hours", bars, 1)
}

// Waste draws web that does not become good product.
func Waste(rs *sim.Results) *Picture {
	var bars []bar
	most := 0.0
	for _, r := range rs.Alternatives {
		total := r.Metrics[metric.Waste]
		b := bar{name: r.Alternative, total: words.Figure(total, model.Unit{SI: 0.01}) + " %"}
		for _, name := range r.Names {
			if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.WebGoes {
				b.parts = append(b.parts, part{words.LabelOf(name).Text, r.Metrics[name].Mean})
			}
		}
		most = max(most, total.Mean)
		bars = append(bars, b)
	}
	return stacked("Web that does not become good product", "share of the web supplied", bars, most)
}

// stacked draws bars of parts from 0 to most (a share), a name above each, a
// label in each part that has room for it, and a key of all parts below.
func stacked(title, axis string, bars []bar, most float64) *Picture {
	var names []string
	at := map[string]int{}
	for _, b := range bars {
		for _, p := range b.parts {
			if _, ok := at[p.label]; !ok && p.value > 0 {
				at[p.label] = len(names)
				names = append(names, p.label)
			}
		}
	}
	if most <= 0 {
		most = 1
	}
	const w, each, top, bottom = 640, 50, 34, 46
	keyRows := (len(names) + 2) / 3
	h := vg.Length(top + each*len(bars) + bottom + 17*keyRows)
	return &Picture{W: w, H: h, draw: func(c draw.Canvas) {
		left, right := c.Min.X+4, c.Max.X-92
		c.FillText(sans(style(13, ink)), vg.Point{X: left, Y: c.Max.Y - 8}, title)
		x := func(share float64) vg.Length { return left + vg.Length(share/most)*(right-left) }
		y := c.Max.Y - top
		end := y - vg.Length(each*len(bars))
		scaleTicks(c, x, y, end, most, axis)
		for _, b := range bars {
			c.FillText(sans(style(10, ink)), vg.Point{X: left, Y: y - 8}, fit(sans(style(10, ink)), legible.Line(b.name), right-left))
			from := 0.0
			for _, p := range b.parts {
				if p.value <= 0 {
					continue
				}
				k := at[p.label] % len(fills)
				fill := fills[k]
				box(c, x(from), x(from+p.value), y-40, y-16, fill)
				hatch(c, x(from), x(from+p.value), y-40, y-16, k)
				labelPart(c, x(from), x(from+p.value), y-28, p, fill)
				from += p.value
			}
			if b.total != "" {
				c.FillText(sans(style(10, ink)), vg.Point{X: x(from) + 5, Y: y - 28}, b.total)
			}
			y -= each
		}
		key(c, names, left, end-38, (right+88-left)/3)
	}}
}

// scaleTicks draws the scale of shares below the bars.
func scaleTicks(c draw.Canvas, x func(float64) vg.Length, top, bottom vg.Length, most float64, axis string) {
	step := math.Pow(10, math.Floor(math.Log10(most)))
	for _, f := range []float64{0.2, 0.5, 1} {
		if most/(step*f) <= 6 {
			step *= f
			break
		}
	}
	s := sans(style(9, quiet))
	s.XAlign = draw.XCenter
	for v := 0.0; v <= most*(1+1e-9); v += step {
		c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, x(v), bottom, x(v), top-12)
		c.FillText(s, vg.Point{X: x(v), Y: bottom - 7}, fmt.Sprintf("%.3g %%", 100*v))
	}
	s.XAlign = draw.XRight
	c.FillText(s, vg.Point{X: c.Max.X, Y: bottom - 20}, axis)
}

func box(c draw.Canvas, x0, x1, y0, y1 vg.Length, fill color.NRGBA) {
	c.FillPolygon(fill, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
	c.StrokeLines(draw.LineStyle{Color: color.White, Width: 0.7}, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}, {X: x0, Y: y0}})
}

// labelPart writes what a part is inside it, when there is room: name and
// share, or the share alone.
func labelPart(c draw.Canvas, x0, x1, y vg.Length, p part, fill color.NRGBA) {
	on := color.NRGBA{0xff, 0xff, 0xff, 0xff}
	if bright(fill) {
		on = ink
	}
	s := sans(style(9, on))
	s.XAlign = draw.XCenter
	share := fmt.Sprintf("%.3g %%", 100*p.value)
	for _, t := range []string{p.label + "  " + share, share} {
		if width(s, t) < x1-x0-6 {
			half := width(s, t)/2 + 2
			c.FillPolygon(fill, []vg.Point{{X: (x0+x1)/2 - half, Y: y - 6}, {X: (x0+x1)/2 + half, Y: y - 6}, {X: (x0+x1)/2 + half, Y: y + 6}, {X: (x0+x1)/2 - half, Y: y + 6}})
			c.FillText(s, vg.Point{X: (x0 + x1) / 2, Y: y}, t)
			return
		}
	}
}

// key names the fills, three to a row.
func key(c draw.Canvas, names []string, left, top, column vg.Length) {
	s := sans(style(9, ink))
	for i, name := range names {
		x := left + column*vg.Length(i%3)
		y := top - 17*vg.Length(i/3)
		box(c, x, x+12, y-5, y+5, fills[i%len(fills)])
		hatch(c, x, x+12, y-5, y+5, i)
		c.FillText(s, vg.Point{X: x + 17, Y: y}, fit(s, legible.Line(name), column-20))
	}
}

// Output draws the good output of each alternative with its limits.
func Output(rs *sim.Results, sys model.System) *Picture {
	u := model.Display(model.Speed, sys)
	const w, each, top, bottom = 640, 40, 40, 44
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rs.Alternatives {
		e := r.Metrics[metric.GoodRate]
		half := e.HalfWidth
		if math.IsNaN(half) {
			half = 0
		}
		low, high = min(low, u.From(e.Mean-half)), max(high, u.From(e.Mean+half))
	}
	span := max(high-low, 0.02*math.Abs(high), 1e-9)
	low, high = max(0, low-0.25*span), high+0.15*span
	return &Picture{W: w, H: vg.Length(top + each*len(rs.Alternatives) + bottom), draw: func(c draw.Canvas) {
		left, right := c.Min.X+4, c.Max.X-10
		c.FillText(sans(style(13, ink)), vg.Point{X: left, Y: c.Max.Y - 8}, fmt.Sprintf("Good output, with its limits at %g %% confidence", 100*rs.Run.Confidence))
		x := func(v float64) vg.Length { return left + vg.Length((v-low)/(high-low))*(right-left) }
		y := c.Max.Y - top
		end := y - vg.Length(each*len(rs.Alternatives))
		s := sans(style(9, quiet))
		s.XAlign = draw.XCenter
		for _, t := range (evenTicks{}).Ticks(low, high) {
			if t.Label == "" {
				continue
			}
			c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, x(t.Value), end, x(t.Value), y)
			c.FillText(s, vg.Point{X: x(t.Value), Y: end - 8}, t.Label)
		}
		s.XAlign = draw.XRight
		c.FillText(s, vg.Point{X: c.Max.X, Y: end - 22}, "good web, "+u.Name+"; the scale does not begin at 0")
		for _, r := range rs.Alternatives {
			e := r.Metrics[metric.GoodRate]
			t := sans(style(10, ink))
			c.FillText(t, vg.Point{X: left, Y: y - 8}, fit(t, legible.Line(r.Alternative)+"   "+words.Figure(e, u)+" "+u.Name, right-left))
			m := x(u.From(e.Mean))
			if !math.IsNaN(e.HalfWidth) {
				a, b := x(u.From(e.Mean-e.HalfWidth)), x(u.From(e.Mean+e.HalfWidth))
				line := draw.LineStyle{Color: deep, Width: 2}
				c.StrokeLine2(line, a, y-24, b, y-24)
				c.StrokeLine2(line, a, y-29, a, y-19)
				c.StrokeLine2(line, b, y-29, b, y-19)
			}
			c.DrawGlyph(draw.GlyphStyle{Color: deep, Radius: 3.5, Shape: draw.CircleGlyph{}}, vg.Point{X: m, Y: y - 24})
			y -= each
		}
	}}
}
