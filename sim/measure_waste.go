package sim

import (
	"math"

	"rollchange/model"
	"rollchange/sim/metric"
)

// leastWaste is a share of the web below which waste is what rounding leaves of none.
const leastWaste = 1e-12

// waste measures the web that is lost, by class. Lengths are of the web as it runs, so
// trim is waste of the width of good web.
func (g *gauges) waste(l *model.Line) {
	trims, trimmed := trimsOf(l)
	trim := func(m *measured, i int) float64 { return m.goodTimes(trims, i) }
	add := func(name string, lost ofLine) {
		g.add(name, func(m *measured) figure {
			f := m.ofSupply(func(t *tally, i int) float64 { return lost(m, t, i) })
			if math.Abs(f.Num) < leastWaste*f.Den {
				f.Num = 0
			}
			return f
		})
	}
	add(metric.Waste, func(m *measured, t *tally, i int) float64 {
		lost := t.residual.value + trim(m, i)
		for _, x := range m.scrap[i] {
			lost += x
		}
		return lost
	})
	add(metric.WasteResidual, func(_ *measured, t *tally, _ int) float64 { return t.residual.value })
	for c, name := range wasteNames {
		if (wasteClass(c) == wTransfer || wasteClass(c) == wRejected) && l.Rewind.Change == model.None {
			continue
		}
		add(name, func(m *measured, _ *tally, i int) float64 { return m.scrap[i][c] })
	}
	if trimmed {
		add(metric.WasteTrim, func(m *measured, _ *tally, i int) float64 { return trim(m, i) })
	}
}
