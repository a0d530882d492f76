package sim

import "rollchange/sim/metric"

// setFinished calls for what follows each finished roll of a set, one a lane:
// packing and duties.
func (c *crew) setFinished(l *line) {
	for range l.spec.Rewind.LaneCount() {
		c.rollFinished(l)
	}
}

// wasteOfTrim measures the waste of a share of the width of good web.
func wasteOfTrim(share float64) Gauge {
	return Gauge{Name: metric.WasteTrim, of: func(m *measured) figure {
		return m.mean(func(_ *tally, i int) float64 { return per(share*m.good[i], m.supply[i]) })
	}}
}
