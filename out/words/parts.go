package words

import (
	"slices"

	"rollchange/sim"
)

// Parts are the metrics that Hours (hours) or Waste draws, of all
// alternatives, in order.
func Parts(rs *sim.Results, ofHours bool) []string {
	var names []string
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			l, e := LabelOf(name), r.Metrics[name]
			is := l.Group == Hours && e.Unit == "1" && name != "time.stopped"
			if !ofHours {
				is = l.Group == WebGoes && name != "waste.total"
			}
			if is && e.Mean > 0 && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}
