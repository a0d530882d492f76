package scenarios

import "rollchange/model"

// slitKeys are the keys of what is slit and trimmed before the rewind.
var slitKeys = []Key{
	key("rewind.lanes", integer, model.Number, "Lanes that the web is slit into, each with a finished roll; doff and load_core are for the set, pack for each roll", func(t *target, v value) { t.line().Rewind.Lanes = int(v.integer) }, within(1, 200, "1 to 200"), def("1"), usedBy("manual, zero-speed, flying")),
	key("rewind.trim", quantity, model.Length, "Width trimmed off, both edges together: waste, areas and masses are without it", func(t *target, v value) { t.line().Rewind.Trim = v.num() }, def(`"0 mm"`), usedBy("manual, zero-speed, flying")),
	key("rewind.splice_at", choice, "", "Where a splice lies that ends a finished roll (trigger): outside, the roll ends just behind it; inside, just before it, and it is at the core of the next. If given, the share of finished rolls without a splice is a result; if not, outside", func(t *target, v value) { t.line().Rewind.SpliceAt = model.SpliceSide(v.text) }, oneOf("outside", "inside"), usedBy("manual, zero-speed, flying")),
	key("rewind.on_late", choice, "", "What the line does when a roll is at its length and the next core is not ready: stop, when the roll has grown by overrun, or slow to late_speed at once, and stop then", func(t *target, v value) { t.line().Rewind.LateSlow = v.text == "slow" }, oneOf("stop", "slow"), def(`"stop"`), usedBy("zero-speed, flying")),
	key("rewind.late_speed", quantity, model.Speed, "Speed of the line until the next core is ready", func(t *target, v value) { t.line().Rewind.LateSpeed = v.num() }, above0, needed(`with on_late = "slow"`), usedBy("zero-speed, flying"), like(`"30 m/min"`)),
}
