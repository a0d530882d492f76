package random

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
)

// hook says what a key hangs on, where its range alone would make most
// scenarios invalid, without events, or of far too many.
type hook struct {
	number func(d *drawer, c chance, path string) float64 // SI
	word   func(d *drawer, c chance, path string) string  // as TOML
	least  func(d *drawer, path string) float64           // SI, below which a law may not reach
	given  bool                                           // nearly always: its default is too long for a test
	steady bool                                           // no limits, zeros and twins: it decides how long a run takes
}

// of hangs a key on another of its dimension, a share of which it is.
func of(other string, least, most float64) hook {
	return hook{number: func(d *drawer, c chance, _ string) float64 { return d.si(other) * c.around(least, most) }}
}

func logs(low, high float64) hook {
	return hook{steady: true, number: func(_ *drawer, c chance, _ string) float64 { return c.log(low, high) }}
}

func whole(low, high int) hook {
	return hook{number: func(_ *drawer, c chance, _ string) float64 { return float64(low + c.IntN(high-low+1)) }}
}

// byExample draws about the usual value of the key: what is not of the size of rolls.
func byExample(factor float64) hook {
	return hook{steady: true, number: func(d *drawer, c chance, path string) float64 {
		if low, high, _ := row(path).Bounds(); !math.IsInf(high, 1) {
			return d.within(c, low, high)
		}
		return example(row(path)).SI() * c.log(1/factor, factor)
	}}
}

// hooks by row of the key table, or by the table that a row is in.
var hooks = map[string]hook{}

func hookOf(path string) (hook, bool) {
	row := rowOf(path)
	if h, ok := hooks[row]; ok {
		return h, true
	}
	table, _, _ := strings.Cut(row, ".")
	h, ok := hooks[table]
	return h, ok
}

func init() {
	for row, h := range map[string]hook{
		"web":                   byExample(5),
		"economics":             byExample(10),
		"unwind.core_diameter":  byExample(3),
		"rewind.core_diameter":  byExample(3),
		"unwind.spindle_torque": {number: torque},

		"line.speed":       logs(1./60, 2000./60),
		"line.accel":       {number: ramp},
		"line.decel":       {number: stopping},
		"line.rated_speed": of("line.speed", 1, 1.5),
		"line.path":        of("unwind.roll_length", 1e-5, 0.3),

		"unwind.roll_length":    logs(20, 100e3),
		"unwind.roll_diameter":  {steady: true, number: diameter, least: core},
		"unwind.residual":       of("unwind.roll_length", 1e-4, 0.3),
		"unwind.residual_least": of("unwind.residual", 0.01, 1),
		"unwind.residual_error": {steady: true, number: residualError},
		"rewind.roll_length":    {steady: true, number: finishedRoll},
		"rewind.roll_diameter":  {steady: true, number: diameter, least: core},
		"rewind.min_length":     of("rewind.roll_length", 0.01, 1),
		"rewind.max_splices":    whole(0, 4),
		"rewind.overrun":        of("rewind.roll_length", 1e-3, 1),
		"rewind.lanes":          whole(1, 8),
		"rewind.trim":           of("web.width", 1e-3, 1),
		"rewind.late_speed":     of("line.speed", 0.05, 1),

		"unwind.storage.slow_speed": of("line.speed", 0.05, 1),
		"rewind.storage.slow_speed": of("line.speed", 0.05, 1),

		"crew.lines": {number: func(_ *drawer, c chance, _ string) float64 { return pick(c, 1.0, 1, 2, 3) }},
		"crew.shift": {steady: true, number: func(d *drawer, c chance, _ string) float64 { return d.rollTime() * c.log(0.3, 10) }},
		"crew.break[].at": {number: func(d *drawer, c chance, _ string) float64 {
			return d.si("crew.shift") * pick(c, 0, c.in(0, 0.9), c.in(0, 0.9))
		}},
		"crew.break[].for":  {number: pause},
		"crew.duty[].every": {steady: true, number: every},
		"stop[].every":      {steady: true, number: every},
		"stop[].repair":     {number: lasts("every")},
		"crew.duty[].takes": {number: lasts("every")},
		"jobs.changeover": {number: func(d *drawer, c chance, _ string) float64 {
			return d.si("jobs.length") / d.si("line.speed") * c.log(1e-3, 0.5)
		}},
		"web_breaks.repair": {number: func(d *drawer, c chance, _ string) float64 {
			return d.si("web_breaks.mean_length") / d.si("line.speed") * c.log(1e-3, 0.5)
		}},
		"stop[].name":        {word: name},
		"crew.duty[].name":   {word: name},
		"alternative[].name": {word: name},
		"product[].name":     {word: name},
		"report.date": {word: func(_ *drawer, c chance, _ string) string {
			return fmt.Sprintf(`"20%02d-%02d-%02d"`, c.IntN(100), 1+c.IntN(12), 1+c.IntN(28))
		}},
		"records.alternative": {word: func(d *drawer, _ chance, _ string) string { return d.value("alternative[0].name").Word }},

		"web_breaks.mean_length": {steady: true, number: func(d *drawer, c chance, _ string) float64 { return d.si("unwind.roll_length") * c.log(0.2, 30) }},
		"web_breaks.at_speed":    {steady: true, number: of("line.speed", 0.5, 2).number},
		"web_breaks.exponent":    {number: func(_ *drawer, c chance, _ string) float64 { return pick(c, 0, 1, 2, 20, c.in(0, 4)) }},
		"jobs.length":            {steady: true, number: func(d *drawer, c chance, _ string) float64 { return d.si("unwind.roll_length") * c.log(0.1, 10) }},

		"run.horizon":      {steady: true, given: true, number: horizon},
		"run.replications": {steady: true, given: true, number: whole(1, 2).number},
		"run.confidence":   {steady: true, number: func(_ *drawer, c chance, _ string) float64 { return pick(c, 0.5, 0.9, 0.95, 0.999, c.in(0.5, 0.99)) }},
		"run.seed":         {number: func(_ *drawer, c chance, _ string) float64 { return float64(c.Int64N(1 << 53)) }},
		"run.warm_up":      {steady: true, number: warmUp},
		"sweep[].vary":     {word: func(*drawer, chance, string) string { return `"line.speed=1 m/s..2 m/s/3"` }},
		"live[].vary":      {word: func(*drawer, chance, string) string { return `"line.speed=1 m/s..2 m/s"` }},
		"sweep[].against":  {word: func(*drawer, chance, string) string { return `"unwind.residual=0 m,1 m"` }},
	} {
		hooks[row] = h
	}
	for _, end := range []string{"unwind", "rewind"} {
		s := end + ".storage."
		hooks[end+".decel"], hooks[end+".accel"] = of("line.decel", 0.1, 10), of("line.accel", 0.1, 10)
		hooks[end+".dwell"] = hook{number: func(d *drawer, c chance, path string) float64 {
			if d.mood.hungry {
				return d.pace(path) * c.log(0.02, 0.2)
			}
			return pick(c, 8*c.log(0.03, 30), d.pace(path)*c.log(1e-4, 1))
		}}
		hooks[end+".max_speed"] = hook{number: func(d *drawer, c chance, _ string) float64 {
			if d.mood.hungry {
				return d.si("line.speed") * (1 + c.log(5e-3, 5e-2))
			}
			return d.si("line.speed") * c.around(1, 3)
		}}
		hooks[s+"capacity"] = hook{number: func(d *drawer, c chance, path string) float64 { return d.room(c, end, path) }}
		hooks[s+"strands"] = whole(1, 40)
		hooks[s+"travel"] = hook{number: func(d *drawer, c chance, path string) float64 { return d.room(c, end, path) / d.si(s+"strands") }}
		hooks[s+"reserve"] = share(s, 1e-3, 0.3)
		hooks[s+"roller_drag"] = byExample(10)
		for _, task := range []string{".load", ".prepare", ".doff", ".load_core"} {
			hooks[end+task] = hook{number: prepares}
		}
	}
	hooks["unwind.storage.run_level"] = share("unwind.storage.", 0.5, 1)
	hooks["unwind.storage.restart_level"] = hook{number: func(d *drawer, c chance, _ string) float64 {
		if d.mood.hungry {
			return d.si("unwind.storage.run_level") * c.log(1e-3, 0.1)
		}
		return d.si("unwind.storage.run_level") * c.around(0.05, 1)
	}}
	hooks["unwind.storage.slow_level"] = of("unwind.storage.run_level", 0.1, 1)
	hooks["rewind.storage.run_level"] = share("rewind.storage.", 0.01, 0.6)
	hooks["rewind.storage.restart_level"] = hook{number: fuller}
	hooks["rewind.storage.slow_level"] = hook{number: fuller}
	groupHooks()
	moneyHooks()
}

// ramp is a ramp of the process by the time that it takes, now and then so steep
// that it takes none.
func ramp(d *drawer, c chance, _ string) float64 {
	v := d.si("line.speed")
	if c.is(0.05) {
		return 1e4
	}
	return v / pick(c, c.log(0.1, 60), d.rollTime()*c.log(1e-4, 0.1), d.rollTime()*c.log(1e-4, 0.1))
}

// stopping is a ramp down; of a hungry line one that takes much of a roll.
func stopping(d *drawer, c chance, path string) float64 {
	if v := d.si("line.speed"); d.mood.hungry {
		return v * v / (2 * d.si("unwind.roll_length") * c.log(0.02, 0.2))
	}
	return ramp(d, c, path)
}

// diameter is that of a roll with the length that would be drawn.
func diameter(d *drawer, c chance, path string) float64 {
	end, _, _ := strings.Cut(overlaid.ReplaceAllString(path, ""), ".")
	inner := core(d, path)
	return math.Sqrt(inner*inner + 4*d.si("web.caliper")*d.si(end+".roll_length")/math.Pi)
}

func core(d *drawer, path string) float64 {
	end, _, _ := strings.Cut(overlaid.ReplaceAllString(path, ""), ".")
	return d.si(end + ".core_diameter")
}

// prepares is a time by how often rolls change; in a hungry mood so short that the
// next roll is ready before the storage is full again.
func prepares(d *drawer, c chance, path string) float64 {
	if d.mood.hungry {
		return d.pace(path) * c.log(1e-4, 1e-2)
	}
	return d.pace(path) * c.log(1e-4, 1)
}

func finishedRoll(d *drawer, c chance, _ string) float64 {
	return max(5, d.si("unwind.roll_length")*c.around(0.02, 3))
}

// residualError is about the residual, or the millimetre by which a roll may
// miss its end.
func residualError(d *drawer, c chance, _ string) float64 {
	rest := d.si("unwind.residual")
	return math.Abs(pick(c, rest*c.log(0.01, 2), rest, rest+1e-3, rest+5e-4, 5e-4, 1e-3, c.log(1e-4, 1e-2)))
}

// room is a storage that is just large enough to stop the line, or holds some
// splices; larger when that was refused.
func (d *drawer) room(c chance, end, path string) float64 {
	v := d.si("line.speed")
	stop := v * v / (2 * d.si("line.decel"))
	splice := v*v/(2*d.si(end+".decel")) + v*v/(2*d.si(end+".accel")) + v*d.si(end+".dwell")
	switch {
	case c.is(0.15):
		return stop * c.around(1, 1.5)
	case d.mood.hungry:
		return stop * c.log(1.2, 2.2) * math.Pow(2, float64(d.tries[path]))
	}
	return (stop*c.log(1.05, 2) + splice*c.log(0.1, 4)) * math.Pow(2, float64(d.tries[path]))
}

// capacity is what a storage of the end can hold, m.
func (d *drawer) capacity(path string) float64 {
	end, _, _ := strings.Cut(overlaid.ReplaceAllString(path, ""), ".")
	if s := end + ".storage."; d.given[s+"strands"] && !d.given[s+"capacity"] {
		return d.si(s+"strands") * d.si(s+"travel")
	}
	return d.si(end + ".storage.capacity")
}

// share is a level by the capacity of its storage.
func share(storage string, least, most float64) hook {
	return hook{number: func(d *drawer, c chance, _ string) float64 { return d.capacity(storage) * c.around(least, most) }}
}

// fuller is a level of the rewind storage between its run level and its capacity.
func fuller(d *drawer, c chance, path string) float64 {
	run, top := d.si("rewind.storage.run_level"), d.capacity(path)
	return run + (top-run)*pick(c, 0, 1, c.in(0, 1), c.in(0, 1), c.in(0.9, 1))
}

// rollTime is how long a parent roll runs, s.
func (d *drawer) rollTime() float64 { return d.si("unwind.roll_length") / d.si("line.speed") }

// pace is how often the rolls of a station change, s; of all else the parent rolls.
func (d *drawer) pace(path string) float64 {
	if strings.HasPrefix(overlaid.ReplaceAllString(path, ""), "rewind.") {
		return d.si("rewind.roll_length") / d.si("line.speed")
	}
	return d.rollTime()
}

func every(d *drawer, c chance, _ string) float64 { return d.rollTime() * c.log(0.05, 10) }

// lasts is a time by how often it comes: what takes longer than the time between
// leaves a line nothing to run in.
func lasts(every string) func(*drawer, chance, string) float64 {
	return func(d *drawer, c chance, path string) float64 {
		return d.si(path[:strings.LastIndexByte(path, '.')+1]+every) * c.log(1e-4, 0.5)
	}
}

// torque is what limits the ramp of a full roll to about the ramp that the
// unwind has: torque = J a / R, J = m (R² + r²)/2.
func torque(d *drawer, c chance, _ string) float64 {
	inner := d.si("unwind.core_diameter") / 2
	outer := diameter(d, c, "unwind.roll_diameter") / 2
	mass := d.si("unwind.roll_length") * d.si("web.width") * d.si("web.grammage")
	return mass * (outer*outer + inner*inner) / 2 * d.si("unwind.decel") / outer * c.log(0.05, 20)
}

// pause is a break that ends within the shift, or with it.
func pause(d *drawer, c chance, path string) float64 {
	left := d.si("crew.shift") - d.si(strings.TrimSuffix(path, "for")+"at")
	if !d.mood.round && c.is(0.1) {
		return left
	}
	return left * pick(c, c.log(0.01, 0.1), c.log(0.01, 0.1), c.log(0.01, 0.9))
}

// horizon is some parent rolls with what is done about each, and never shorter
// than a roll at either end.
func horizon(d *drawer, c chance, _ string) float64 {
	work, kind := 0.0, strings.Trim(d.value("unwind.change").Word, `"`)
	if kind == model.Manual.String() {
		work = d.si("unwind.change_time")
	} else {
		work = d.si("unwind.load") + d.si("unwind.prepare")
	}
	roll := d.rollTime() * math.Pow(3, float64(d.tries["run.horizon"]))
	if k := strings.Trim(d.value("rewind.change").Word, `"`); k != model.None.String() {
		roll = max(roll, d.si("rewind.roll_length")/d.si("line.speed"))
	}
	if c.is(0.03) {
		return roll
	}
	return roll*c.log(1.2, 3) + d.rollTime()*d.mood.rolls + min(work, 20*roll)*math.Sqrt(d.mood.rolls)
}

// warmUp ends anywhere, or about where a roll does: inside its change.
func warmUp(d *drawer, c chance, _ string) float64 {
	h := d.si("run.horizon")
	return pick(c, h*c.in(0, 1), min(h*0.999, d.rollTime()*c.in(0.98, 1.1)), 0, h*1e-9)
}

var names = []string{"jam", "Messer – stumpf", "x.y[0]", "100 %", "a, b", "line", "clean \u03b1"}

// name is one that no other element of its array has.
func name(_ *drawer, c chance, path string) string {
	i := numbered.FindString(path)
	return strconv.Quote(fmt.Sprint(pick(c, names...), " ", strings.Trim(i, "[]")))
}
