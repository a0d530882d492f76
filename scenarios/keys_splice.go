package scenarios

import "rollchange/model"

func splicing(t *target) *model.Splicing { return &t.line().Unwind.Splicing }

// spliceKeys are how splices are made. Their default times and the default thickness
// of tape are common practice, no source.
var spliceKeys = []Key{
	key("unwind.splice.method", choice, "", "How splices are made; what they take and leave then follows by formula, unless it is given", func(t *target, v value) { splicing(t).Method = model.SpliceMethod(v.text) }, oneOf(string(model.Butt), string(model.Overlap), string(model.HeatSeal)), needed("with any key of unwind.splice")),
	key("unwind.splice.tapes", integer, model.Number, "Strips of tape across the web, on one side or both; if not given 1, none for a heat seal", func(t *target, v value) { splicing(t).Tapes = int(v.integer) }, within(0, 2, "0 to 2")),
	key("unwind.splice.in_register", flag, "", "Whether a web printed before is spliced on its print marks", func(t *target, v value) { splicing(t).InRegister = v.flag }, def("false")),
	key("unwind.splice.lock", quantity, model.Length, "Web until print is in register again after a splice out of register", func(t *target, v value) { splicing(t).Lock = v.num() }, def(`"0 m"`), like(`"20 m"`)),
	key("unwind.splice.tape_thickness", quantity, model.Length, "Thickness of a strip of tape; default common practice, no source", func(t *target, v value) { splicing(t).TapeThickness = v.num() }, def(`"0.05 mm"`)),
	key("unwind.splice.trim_time", quantity, model.Time, "Time to square the lead of the next roll, a part of prepare; default common practice, no source", func(t *target, v value) { splicing(t).TrimTime = v.num() }, def(`"60 s"`), usedBy("zero-speed, flying")),
	key("unwind.splice.tape_time", quantity, model.Time, "Time to lay a strip of tape, a part of prepare; default common practice, no source", func(t *target, v value) { splicing(t).TapeTime = v.num() }, def(`"30 s"`), usedBy("zero-speed, flying")),
	key("unwind.splice.press_time", quantity, model.Time, "Time to cut, press and hold, a part of dwell; default common practice, no source", func(t *target, v value) { splicing(t).PressTime = v.num() }, def(`"5 s"`), usedBy("zero-speed")),
	key("unwind.splice.align_time", quantity, model.Time, "Time to bring print marks together, a part of dwell in register; default common practice, no source", func(t *target, v value) { splicing(t).AlignTime = v.num() }, def(`"3 s"`), usedBy("zero-speed")),
}
