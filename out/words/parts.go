package words

import (
	"slices"

	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Parts are the metrics that Hours (hours) or Waste draws, of all
// alternatives, in order.
func Parts(rs *replicate.Results, ofHours bool) []string {
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
