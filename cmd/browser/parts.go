package main

import (
	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// parts are where the hours of each alternative go, or its web, by cause: shares of all
// hours, or of the web supplied.
func parts(rs *replicate.Results, ofHours bool) []object {
	var list []object
	for _, r := range rs.Alternatives {
		var each []object
		for _, name := range r.Names {
			m, _ := metric.Of(name)
			e := r.Metrics[name]
			if m.IsPart() && (m.Group == metric.Hours) == ofHours && e.Mean > 0 {
				each = append(each, object{{"key", name}, {"cause", words.CauseOf(name)}, {"label", words.MetricLabel(name)},
					{"value", e.Mean}, {"share", e.Mean}, {"text", alone(words.Figure(e, model.Unit{SI: 0.01})) + " %"}, {"few", e.Why == estimate.TooFew}})
			}
		}
		list = append(list, object{{"alternative", r.Alternative}, {"parts", each}})
	}
	return list
}
