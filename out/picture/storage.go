package picture

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim"
)

// mark is a level that is marked in a picture.
type mark struct {
	label string
	at    float64 // m
}

// storageMarks are the levels of the storage at one end of a line that its
// content is seen against: the interlock at line speed and the reserve.
func storageMarks(l *model.Line, rewind bool) []mark {
	c := model.UnwindCycle(l)
	reserve, interlock, name := c.Reserve, c.Interlock(), words.MarkReserve
	if rewind {
		c = model.RewindCycle(l)
		top := l.Rewind.Storage.Capacity
		reserve, interlock = top-c.Reserve, top-c.Interlock()
		name = words.MarkRewindReserve
	}
	return []mark{{words.MarkInterlock, interlock}, {name, reserve}}
}

// Storage draws how the lowest content of the unwind storage, or the highest of
// the rewind storage, is distributed over the cycles of an alternative, against
// the levels that matter. It is nil when no cycle was seen.
func Storage(h *sim.Histogram, alternative string, l *model.Line, rewind bool, sys model.System) *Picture {
	if h == nil || h.Total() == 0 {
		return nil
	}
	marks := storageMarks(l, rewind)
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
		low, high = min(low, m.at), max(high, m.at)
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
	title, across, up := words.StorageTitle(rewind), words.StorageAxis(rewind, u), words.CyclesAxis(rewind)
	p := newPlot(fmt.Sprintf(words.TitleOf, title, alternative), across, up)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = u.From(low), u.From(high), 0, 125*most
	p.Y.Tick.Marker = sharesOf{evenTicks{}}
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
		flags := make([]flag, len(marks))
		for i, m := range marks {
			flags[i] = flag{tx(u.From(m.at)), m.label + " " + words.Short(u.From(m.at), 3) + " " + u.Name}
		}
		raise(c, flags, ty(0), draw.LineStyle{Color: accent, Width: 1.2, Dashes: []vg.Length{4, 3}})
	}))
	return single(p, 560, 300)
}

// drawing is a plotter that is a function.
type drawing func(c draw.Canvas, p *plot.Plot)

// Plot draws.
func (d drawing) Plot(c draw.Canvas, p *plot.Plot) { d(c, p) }
