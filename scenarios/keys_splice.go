package scenarios

import "rollchange/model"

func splicing(t *target) *model.Splicing { return &t.line().Unwind.Splicing }

// made is a quantity of how splices are made, as usual where it is not given.
func made(name string, dim model.Dimension, usual, users, meaning string, field func(*model.Splicing) *float64) *Key {
	return key("unwind.splice."+name, quantity, dim, meaning, func(t *target, v value) { *field(splicing(t)) = v.num() }, def(usual), usedBy(users))
}

// spliceKeys are how splices are made. Their default times and the default thickness
// of tape are common practice, no source.
var spliceKeys = []*Key{
	key("unwind.splice.method", choice, "", "How splices are made; what they take and leave then follows by formula, unless it is given", func(t *target, v value) { splicing(t).Method = model.SpliceMethod(v.text) }, oneOf(string(model.Butt), string(model.Overlap), string(model.HeatSeal)), needed("with any key of unwind.splice")),
	key("unwind.splice.tapes", integer, model.Number, "Strips of tape across the web, on one side or both; if not given, 1, or none for a heat seal", func(t *target, v value) { splicing(t).Tapes = int(v.integer) }, within(0, 2, "0 to 2")),
	key("unwind.splice.in_register", flag, "", "Whether a web printed before is spliced on its print marks", func(t *target, v value) { splicing(t).InRegister = v.flag }, def("false")),
	made("lock", model.Length, `"0 m"`, "", "Web until print is in register again after a splice out of register", func(s *model.Splicing) *float64 { return &s.Lock }),
	made("tape_thickness", model.Length, `"0.05 mm"`, "", "Thickness of a strip of tape; default common practice, no source", func(s *model.Splicing) *float64 { return &s.TapeThickness }),
	made("trim_time", model.Time, `"60 s"`, "zero-speed, flying", "Time to square the leading edge of the next roll, a part of prepare; default common practice, no source", func(s *model.Splicing) *float64 { return &s.TrimTime }),
	made("tape_time", model.Time, `"30 s"`, "zero-speed, flying", "Time to apply a strip of tape, a part of prepare; default common practice, no source", func(s *model.Splicing) *float64 { return &s.TapeTime }),
	made("press_time", model.Time, `"5 s"`, "zero-speed", "Time to cut, press and hold, a part of dwell; default common practice, no source", func(s *model.Splicing) *float64 { return &s.PressTime }),
	made("align_time", model.Time, `"3 s"`, "zero-speed", "Time to bring print marks together, a part of dwell in register; default common practice, no source", func(s *model.Splicing) *float64 { return &s.AlignTime }),
}
