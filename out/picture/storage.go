package picture

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/sim"
)

// Mark is a level that is marked in a picture.
type Mark struct {
	Label string
	At    float64 // m
}

// StorageMarks are the levels of the storage at one end of a line that its
// content is seen against: the reserve and the interlock at line speed.
func StorageMarks(l *model.Line, rewind bool) []Mark {
	c := model.UnwindCycle(l)
	reserve, interlock, name := c.Reserve, c.Interlock(), "reserve"
	if rewind {
		c = model.RewindCycle(l)
		top := l.Rewind.Storage.Capacity
		reserve, interlock = top-c.Reserve, top-c.Interlock()
		name = "capacity less reserve"
	}
	return []Mark{{"interlock at line speed", interlock}, {name, reserve}}
}

// Storage draws how the lowest (highest) storage content of the cycles is
// distributed, against the levels that matter. It is nil when no cycle was seen.
func Storage(h *sim.Histogram, title string, marks []Mark, sys model.System) *Picture {
	if h == nil || h.Total() == 0 {
		return nil
	}
	u := model.Display(model.Length, sys)
	// From the fine bins to about 60 over the range that was seen and the marks.
	low, high := h.Max, h.Min
	for i, n := range h.Count {
		if n > 0 {
			low = min(low, h.Min+float64(i)*h.Width())
			high = max(high, h.Min+float64(i+1)*h.Width())
		}
	}
	for _, m := range marks {
		low, high = min(low, m.At), max(high, m.At)
	}
	pad := max(0.05*(high-low), 2*h.Width())
	low, high = max(h.Min, low-pad), min(h.Max, high+pad)
	const bars = 60
	share := make([]float64, bars)
	for i, n := range h.Count {
		at := h.Min + (float64(i)+0.5)*h.Width()
		if k := int((at - low) / (high - low) * bars); n > 0 && k >= 0 {
			share[min(bars-1, k)] += float64(n) / float64(h.Total())
		}
	}
	most := 0.0
	for _, s := range share {
		most = max(most, s)
	}
	p := newPlot(title, "storage content, "+u.Name, "share of the cycles, %")
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = u.From(low), u.From(high), 0, 125*most
	p.Add(drawing(func(c draw.Canvas, p *plot.Plot) {
		tx, ty := p.Transforms(&c)
		for k, s := range share {
			if s > 0 {
				x0 := u.From(low + (high-low)*float64(k)/bars)
				x1 := u.From(low + (high-low)*float64(k+1)/bars)
				a := area{tx(x0), tx(x1), ty(0), ty(100 * s)}
				cycleShare.paint(c, a)
				edge(c, a)
			}
		}
		for _, m := range marks {
			x := tx(u.From(m.At))
			c.StrokeLine2(draw.LineStyle{Color: accent, Width: 1.2, Dashes: []vg.Length{4, 3}}, x, ty(0), x, c.Max.Y)
		}
		for i, m := range marks { // over the lines of all, so that none runs through a label
			x := tx(u.From(m.At))
			t := sans(style(9, accent))
			dx := vg.Length(4)
			if x > (c.Min.X+c.Max.X)/2 {
				t.XAlign, dx = draw.XRight, -4
			}
			label := fmt.Sprintf("%s %.3g %s", m.Label, u.From(m.At), u.Name)
			y, from, to := c.Max.Y-8-13*vg.Length(i), x+dx, x+dx+width(t, label)
			if dx < 0 {
				from, to = x+dx-width(t, label), x+dx
			}
			c.FillPolygon(color.White, []vg.Point{{X: from - 1, Y: y - 6}, {X: to + 1, Y: y - 6}, {X: to + 1, Y: y + 6}, {X: from - 1, Y: y + 6}})
			c.FillText(t, vg.Point{X: x + dx, Y: y}, label)
		}
	}))
	return single(p, 560, 300)
}

// drawing is a plotter that is a function.
type drawing func(c draw.Canvas, p *plot.Plot)

// Plot draws.
func (d drawing) Plot(c draw.Canvas, p *plot.Plot) { d(c, p) }
