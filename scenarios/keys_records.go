package scenarios

import "rollchange/model"

// recorded sets a figure that may be missing.
func recorded(field func(*target) **float64) func(*target, value) {
	return func(t *target, v value) {
		x := v.num()
		*field(t) = &x
	}
}

// counted sets a whole number that may be missing.
func counted(field func(*target) **float64) func(*target, value) {
	return func(t *target, v value) {
		x := float64(v.integer)
		*field(t) = &x
	}
}

// recordKeys are what the line really made: nothing of it is simulated.
var recordKeys = []*Key{
	key("records.alternative", text, "", "Which alternative the line was in the recorded period; if not given, the first", func(t *target, v value) { t.study.Recorded.Alternative = v.text }),
	key("records.hours", quantity, model.Time, "Planned hours of each line in the recorded period", func(t *target, v value) { t.study.Recorded.Hours = v.num() }, above0, needed("with any key of records"), like(`"500 h"`)),
	key("records.good", quantity, model.Length, "Good web made in the period, all lines", recorded(func(t *target) **float64 { return &t.study.Recorded.Good }), like(`"4100 km"`)),
	key("records.waste", quantity, model.Length, "Web wasted in the period, all lines", recorded(func(t *target) **float64 { return &t.study.Recorded.Waste }), like(`"60 km"`)),
	key("records.roll_changes", integer, model.Number, "Roll changes at the unwind, all lines", counted(func(t *target) **float64 { return &t.study.Recorded.RollChanges }), within(0, 1e9, "0 or above")),
	key("records.finished_rolls", integer, model.Number, "Good finished rolls, all lines", counted(func(t *target) **float64 { return &t.study.Recorded.FinishedRolls }), within(0, 1e9, "0 or above")),
	key("records.stops", integer, model.Number, "Times the web came to rest, all lines", counted(func(t *target) **float64 { return &t.study.Recorded.Stops }), within(0, 1e9, "0 or above")),
	key("records.stopped", quantity, model.Time, "Hours for which the lines stood still, added up", recorded(func(t *target) **float64 { return &t.study.Recorded.Stopped }), like(`"67 h"`)),
	key("records.cause[].text", text, "", "A cause of stops, as the records spell it", func(t *target, v value) { t.cause.Text = v.text }, needed("always")),
	key("records.cause[].is", choice, "", "What it is here: a [[stop]] of that name, the key whose time it is, or not a stop", func(t *target, v value) { t.cause.Is = model.RecordedKind(v.text) }, oneOf(model.RecordedKinds()...), def(`"stop"`)),
	key("records.cause[].stops", integer, model.Number, "How often it stopped the lines", counted(func(t *target) **float64 { return &t.cause.Stops }), within(0, 1e9, "0 or above")),
	key("records.cause[].hours", quantity, model.Time, "Hours for which the lines stood still for it, added up", recorded(func(t *target) **float64 { return &t.cause.Time }), like(`"20 h"`)),
	key("records.cause[].fitted", flag, "", "Whether distributions of the scenario were fitted to it: it then tests nothing", func(t *target, v value) { t.cause.Fitted = v.flag }, def("false")),
}
