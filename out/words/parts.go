package words

import (
	"slices"

	"rollchange/sim"
	"rollchange/sim/metric"
)

// Parts are the metrics that Hours (hours) or Waste draws, of all
// alternatives, in order.
func Parts(rs *sim.Results, ofHours bool) []string {
	var names []string
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			m, _ := metric.Of(name)
			if m.IsPart() && (m.Group == metric.Hours) == ofHours && r.Metrics[name].Mean > 0 && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}
