package random

import "rollchange/model"

// tapes are strips of tape as a method has them: a heat seal none, a butt splice one
// or two.
func tapes(d *drawer, c chance, _ string) float64 {
	switch d.value("unwind.splice.method").Word {
	case `"` + string(model.HeatSeal) + `"`:
		return 0
	case `"` + string(model.Butt) + `"`:
		return float64(1 + c.IntN(2))
	}
	return float64(c.IntN(3))
}

func init() {
	hooks["unwind.splice.tapes"] = hook{number: tapes}
	hooks["unwind.splice.lock"] = of("unwind.roll_length", 1e-4, 0.1)
	hooks["unwind.splice.tape_thickness"] = byExample(5)
	for _, part := range []string{"trim_time", "tape_time"} {
		hooks["unwind.splice."+part] = hook{number: prepares}
	}
	for _, part := range []string{"press_time", "align_time"} {
		hooks["unwind.splice."+part] = hook{number: func(d *drawer, c chance, path string) float64 {
			return pick(c, 8*c.log(0.03, 30), d.pace(path)*c.log(1e-4, 0.3))
		}}
	}
}
