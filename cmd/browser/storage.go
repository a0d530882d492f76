package main

import (
	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// storages are what each storage holds over one undisturbed change, in closed form with
// the mean of the dwell, and how low it was in the run. A line with orders has as many as
// it has products, and shows none.
func storages(study *model.Study, rs *replicate.Results) []object {
	u := model.Display(model.Length, study.Units)
	var list []object
	for i := range study.Alternatives {
		l := &study.Alternatives[i].Line
		if l.Orders != nil {
			continue
		}
		r := rs.Alternatives[i]
		if l.Unwind.Change.Stores() {
			c := model.UnwindCycle(l)
			list = append(list, storage(r, c, l.Unwind.Storage.Capacity, false, u))
		}
		if l.Rewind.Change.Stores() {
			c := model.RewindCycle(l)
			list = append(list, storage(r, c, l.Rewind.Storage.Capacity, true, u))
		}
	}
	return list
}

// storage is one of them: contents, of a rewind storage what its room leaves.
func storage(r replicate.Result, c model.Cycle, capacity float64, rewind bool, u model.Unit) object {
	content := func(room float64) float64 {
		if rewind {
			room = capacity - room
		}
		return u.From(room)
	}
	dwell := c.Dwell.Mean()
	var points []any
	for _, p := range c.Course(dwell) {
		points = append(points, []float64{p[0], content(p[1])})
	}
	name := metric.UnwindLowest
	if rewind {
		name = metric.RewindHighest
	}
	text := ""
	if e, ok := r.Metrics[name]; ok {
		text = words.MetricLabel(name) + ": " + alone(words.Figure(e, u)) + " " + u.Name
	}
	return object{{"alternative", r.Alternative}, {"end", map[bool]string{false: "unwind", true: "rewind"}[rewind]}, {"capacity", u.From(capacity)}, {"unit", u.Name}, {"points", points},
		{"lowest", content(c.Lowest(dwell))}, {"trip", content(c.Interlock())}, {"text", text}}
}
