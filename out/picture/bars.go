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
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// part is a piece of a bar.
type part struct {
	label string
	value float64 // share
	fill  fill
}

// bar is one alternative.
type bar struct {
	name  string
	parts []part
	total string // beside the bar; may be empty
}

// Hours draws where the hours go: a bar for each alternative, all of 100 %.
func Hours(rs *replicate.Results) *Picture {
	fills := fillsOf(rs)
	var bars []bar
	for _, r := range rs.Alternatives {
		b := bar{name: r.Alternative}
		others := part{label: words.OtherStops, fill: otherStops}
		for _, name := range r.Names {
			if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.Hours {
				p := part{words.LabelOf(name).Text, r.Metrics[name].Mean, fills(words.CauseOf(name))}
				if p.fill == otherStops {
					others.value += p.value
					continue
				}
				b.parts = append(b.parts, p)
			}
		}
		b.parts = append(b.parts, others)
		bars = append(bars, b)
	}
	return stacked(words.TitleHours, words.AxisHours, bars, 1)
}

// Waste draws web that does not become good product.
func Waste(rs *replicate.Results) *Picture {
	fills := fillsOf(rs)
	var bars []bar
	most := 0.0
	for _, r := range rs.Alternatives {
		total := r.Metrics[metric.Waste]
		b := bar{name: r.Alternative, total: words.Figure(total, model.Unit{SI: 0.01}) + " %"}
		for _, name := range r.Names {
			if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.WebGoes {
				b.parts = append(b.parts, part{words.LabelOf(name).Text, r.Metrics[name].Mean, fills(words.CauseOf(name))})
			}
		}
		most = max(most, total.Mean)
		bars = append(bars, b)
	}
	return stacked(words.TitleWeb, words.AxisWeb, bars, most)
}

// stacked draws bars of parts from 0 to most (a share), a name above each, a
// label in each part that has room for it, and a key of all parts below.
func stacked(title, axis string, bars []bar, most float64) *Picture {
	var keys []part
	seen := map[fill]bool{}
	for _, b := range bars {
		for _, p := range b.parts {
			if !seen[p.fill] && p.value > 0 {
				seen[p.fill] = true
				keys = append(keys, p)
			}
		}
	}
	if most <= 0 {
		most = 1
	}
	const w, each, top, bottom = 640, 50, 34, 46
	columns := keyColumns(keys, w-22-4)
	rows := (len(keys) + columns - 1) / columns
	h := vg.Length(top + each*len(bars) + bottom + 17*rows)
	return &Picture{W: w, H: h, draw: func(c draw.Canvas) {
		left, right := c.Min.X+4, c.Max.X-92
		c.FillText(sans(style(13, ink)), vg.Point{X: left, Y: c.Max.Y - 8}, title)
		x := func(share float64) vg.Length { return left + vg.Length(share/most)*(right-left) }
		y := c.Max.Y - top
		end := y - vg.Length(each*len(bars))
		scaleTicks(c, x, y, len(bars), each, most, axis)
		for _, b := range bars {
			c.FillText(sans(style(10, ink)), vg.Point{X: left, Y: y - 8}, fit(sans(style(10, ink)), legible.Line(b.name), right-left))
			from := 0.0
			for _, p := range b.parts {
				if p.value <= 0 {
					continue
				}
				a := area{x(from), x(from + p.value), y - 40, y - 16}
				p.fill.paint(c, a)
				edge(c, a)
				labelPart(c, a, p)
				from += p.value
			}
			if b.total != "" {
				c.FillText(sans(style(10, ink)), vg.Point{X: x(from) + 5, Y: y - 28}, b.total)
			}
			y -= each
		}
		key(c, keys, columns, left, end-38, c.Max.X-left)
	}}
}

// scaleTicks draws the scale of shares below the bars, its lines beside the bars
// alone and not through their names.
func scaleTicks(c draw.Canvas, x func(float64) vg.Length, top vg.Length, bars int, each vg.Length, most float64, axis string) {
	bottom := top - each*vg.Length(bars)
	step := math.Pow(10, math.Floor(math.Log10(most)))
	for _, f := range []float64{0.2, 0.5, 1} {
		if most/(step*f) <= 6 {
			step *= f
			break
		}
	}
	s := sans(style(small, quiet))
	s.XAlign = draw.XCenter
	for v := 0.0; v <= most*(1+1e-9); v += step {
		for k := range bars {
			y := top - each*vg.Length(k)
			c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, x(v), y-each, x(v), y-15)
		}
		c.FillText(s, vg.Point{X: x(v), Y: bottom - 7}, words.Short(100*v, 3))
	}
	s.XAlign = draw.XRight
	c.FillText(s, vg.Point{X: c.Max.X, Y: bottom - 20}, axis)
}

// edge draws a white border, so that parts are told apart.
func edge(c draw.Canvas, a area) {
	c.StrokeLines(draw.LineStyle{Color: color.White, Width: 0.7}, closed(a.corners()))
}

// labelPart writes what a part is inside it, when there is room: name and
// share, or the share alone.
func labelPart(c draw.Canvas, a area, p part) {
	s := sans(style(small, paper))
	if bright(p.fill.c) {
		s = sans(style(small, ink))
	}
	s.XAlign = draw.XCenter
	share := words.Short(100*p.value, 3) + " %"
	for _, t := range []string{p.label + "  " + share, share} {
		if width(s, t) < a.x1-a.x0-6 {
			middle := vg.Point{X: (a.x0 + a.x1) / 2, Y: (a.y0 + a.y1) / 2}
			c.FillPolygon(p.fill.c, around(middle, width(s, t)+4, 12).corners())
			c.FillText(s, middle, t)
			return
		}
	}
}

// keyColumns is how many names stand side by side below a picture: three, or
// fewer where a name is longer.
func keyColumns(keys []part, most vg.Length) int {
	longest := vg.Length(0)
	for _, p := range keys {
		longest = max(longest, width(sans(style(small, ink)), legible.Line(p.label)))
	}
	n := 3
	for n > 1 && most/vg.Length(n)-20 < longest {
		n--
	}
	return n
}

// key names the fills, so many side by side.
func key(c draw.Canvas, keys []part, columns int, left, top, most vg.Length) {
	s := sans(style(small, ink))
	column := most / vg.Length(columns)
	for i, p := range keys {
		x := left + column*vg.Length(i%columns)
		y := top - 17*vg.Length(i/columns)
		p.fill.paint(c, area{x, x + 12, y - 5, y + 5})
		c.FillText(s, vg.Point{X: x + 17, Y: y}, fit(s, legible.Line(p.label), column-20))
	}
}

// notFromZero is said of a scale that does not begin at 0.
func notFromZero(low float64) string {
	if low > 0 {
		return words.NotFromZero
	}
	return ""
}

// Output draws the good output of each alternative with its limits.
func Output(rs *replicate.Results, sys model.System) *Picture {
	u := model.Display(model.Speed, sys)
	title := fmt.Sprintf(words.TitleOutput, 100*rs.Run.Confidence)
	if rs.Open != nil {
		rs, title = rs.WithRecords(), title+words.WithRecords
	}
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
		c.FillText(sans(style(13, ink)), vg.Point{X: left, Y: c.Max.Y - 8}, title)
		x := func(v float64) vg.Length { return left + vg.Length((v-low)/(high-low))*(right-left) }
		y := c.Max.Y - top
		end := y - vg.Length(each*len(rs.Alternatives))
		s := sans(style(small, quiet))
		s.XAlign = draw.XCenter
		for _, t := range (evenTicks{}).Ticks(low, high) {
			if t.Label == "" {
				continue
			}
			for k := range rs.Alternatives { // beside the marks alone, not through the names
				row := y - each*vg.Length(k)
				c.StrokeLine2(draw.LineStyle{Color: faint, Width: 0.6}, x(t.Value), row-each, x(t.Value), row-15)
			}
			c.FillText(s, vg.Point{X: x(t.Value), Y: end - 8}, t.Label)
		}
		s.XAlign = draw.XRight
		c.FillText(s, vg.Point{X: c.Max.X, Y: end - 22}, fmt.Sprintf(words.AxisOutput, u.Name)+notFromZero(low))
		for k, r := range rs.Alternatives {
			e, own := r.Metrics[metric.GoodRate], strokeOf(k)
			t := sans(style(10, ink))
			c.FillText(t, vg.Point{X: left, Y: y - 8}, fit(t, legible.Line(r.Alternative)+"   "+words.Figure(e, u)+" "+u.Name, right-left))
			m := x(u.From(e.Mean))
			if !math.IsNaN(e.HalfWidth) {
				a, b := x(u.From(e.Mean-e.HalfWidth)), x(u.From(e.Mean+e.HalfWidth))
				line := draw.LineStyle{Color: own.c, Width: 2}
				c.StrokeLine2(line, a, y-24, b, y-24)
				c.StrokeLine2(line, a, y-29, a, y-19)
				c.StrokeLine2(line, b, y-29, b, y-19)
			}
			own.marker(c, vg.Point{X: m, Y: y - 24})
			y -= each
		}
	}}
}
