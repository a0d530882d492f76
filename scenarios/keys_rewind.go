package scenarios

import "rollchange/model"

// slitKeys are the keys of what is slit and trimmed before the rewind.
var slitKeys = []Key{
	key("rewind.lanes", integer, model.Number, "Lanes that the web is slit into, each with a finished roll; doff and load_core are for the set, pack for each roll", func(t *target, v value) { t.line().Rewind.Lanes = int(v.integer) }, within(1, 200, "1 to 200"), def("1"), usedBy("manual, zero-speed, flying")),
	key("rewind.trim", quantity, model.Length, "Width trimmed off, both edges together: waste, areas and masses are without it", func(t *target, v value) { t.line().Rewind.Trim = v.num() }, def(`"0 mm"`), usedBy("manual, zero-speed, flying")),
}
