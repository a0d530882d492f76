package scenarios

import "rollchange/model"

// slitKeys are the keys of what is slit and trimmed before the rewind.
var slitKeys = []*Key{
	key("rewind.lanes", integer, model.Number, "Lanes that the web is slit into, a finished roll each; doff and load_core are for the set, pack for a roll", func(t *target, v value) { t.line().Rewind.Lanes = int(v.integer) }, within(1, 200, "1 to 200"), def("1"), usedBy("manual, zero-speed, flying")),
	key("rewind.trim", quantity, model.Length, "Width trimmed off as waste, both edges together", func(t *target, v value) { t.line().Rewind.Trim = v.num() }, def(`"0 mm"`), usedBy("manual, zero-speed, flying")),
	key("rewind.splice_at", choice, "", "Where a splice that ends a finished roll lies: outside on it, or inside the next, at its core; if given, finished rolls without a splice are counted", func(t *target, v value) { t.line().Rewind.SpliceAt = model.SpliceSide(v.text) }, oneOf("outside", "inside"), usedBy("manual, zero-speed, flying")),
	key("rewind.on_late", choice, "", "What the line does when a roll is full and the next core is not ready: run on by overrun and stop, or slow to late_speed at once", func(t *target, v value) { t.lateSlow = v.text == "slow" }, oneOf("stop", "slow"), def(`"stop"`), usedBy("zero-speed, flying")),
	key("rewind.late_speed", quantity, model.Speed, "Line speed until the next core is ready", func(t *target, v value) { t.line().Rewind.LateSpeed = v.num() }, above0, needed(`with on_late = "slow"`), usedBy("zero-speed, flying"), like(`"30 m/min"`)),
}
