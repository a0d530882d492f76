package words

import (
	"slices"
	"strings"

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

// CauseOf is what a metric of hours or of web is lost to; hours and web that are lost to
// one thing have one cause: "web_break", "stop.plate cleaning".
func CauseOf(name string) string {
	switch name {
	case metric.WasteSplice:
		return metric.HoldUnwindChange
	case metric.WasteTransfer:
		return metric.HoldRewindChange
	case metric.WasteRestart:
		return "ramping"
	case metric.WasteStop:
		return "stops"
	}
	if hold, ok := metric.HoldOf(name); ok {
		return hold
	}
	_, cause, _ := strings.Cut(name, ".")
	return cause
}
