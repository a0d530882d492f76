package scenarios

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
)

// span is the least size, when it is not 0, and the greatest that a number of a
// dimension may have, SI. They are far beyond any line and keep every sum,
// product and quotient of the engine finite; our estimate, each at least a
// thousand times what any line has.
type span struct{ least, most float64 }

var spans = map[model.Dimension]span{
	model.Length:       {1e-9, 1e9},    // m: a nanometre to 25 times round the earth
	model.Speed:        {1e-9, 1e5},    // m/s
	model.Acceleration: {1e-9, 1e9},    // m/s2; a step is written as a steep ramp
	model.Time:         {1e-9, 8.64e9}, // s: a nanosecond to 100,000 days
	model.Mass:         {1e-9, 1e9},    // kg
	model.Grammage:     {1e-9, 1e6},    // kg/m2
	model.Torque:       {1e-9, 1e9},    // N m
	model.Force:        {1e-9, 1e9},    // N
	model.Share:        {0, 1e6},
	model.Number:       {0, 1e18},
	model.Years:        {1e-6, 1e4},
	model.Money:        {0, 1e15}, model.MoneyPerYear: {0, 1e15}, model.MoneyPerArea: {0, 1e12},
	model.MoneyPerMass: {0, 1e12}, model.MoneyPerHour: {0, 1e12}, model.MoneyPerMetre: {0, 1e12},
}

// believable refuses a number that no line can have.
func believable(dim model.Dimension, v float64) error {
	s, ok := spans[dim]
	if !ok {
		return nil
	}
	unit := dim.Usual()
	switch size := math.Abs(v); {
	case size > s.most:
		return fmt.Errorf("must be at most %s: no line has more", amountText(s.most, unit))
	case v != 0 && size < s.least:
		return fmt.Errorf("must be 0 or at least %s: no line has less", amountText(s.least, unit))
	}
	return nil
}

// plainPower writes 1e+09 as 1e9.
var plainPower = strings.NewReplacer("e+0", "e", "e+", "e", "e-0", "e-")

// amountText is an amount for people, to three digits.
func amountText(si float64, u model.Unit) string {
	if u.Name == "s" && si >= 86400 {
		u, _ = model.UnitOf("d", model.Time)
	}
	s := fmt.Sprintf("%.3g", u.From(si))
	if x, _ := strconv.ParseFloat(s, 64); x >= 1e-4 && x < 1e7 {
		s = strconv.FormatFloat(x, 'f', -1, 64)
	}
	s = plainPower.Replace(s)
	if u.Name != "" {
		s += " " + u.Name
	}
	return s
}

// What a law may be at most: wider ones have no mean that anybody could measure,
// narrower ones do not vary, and both are beyond what their functions are good
// for. Our estimate; task times vary by a tenth to twice their mean.
const (
	widest    = 100  // sd over mean
	narrowest = 1e-6 // sd over mean
)

// spread refuses a law that varies beyond reason, or not at all.
func spread(d model.Dist) error {
	mean, sd := math.Abs(d.Mean()), d.SD()
	switch d.Law {
	case model.Normal, model.Lognormal, model.Gamma, model.Weibull:
	default:
		return nil
	}
	switch {
	case mean > 0 && !d.Signed && sd > widest*mean:
		return fmt.Errorf("varies too much: its sd is %.4g times its mean, at most %d times is allowed", sd/mean, widest)
	case sd < narrowest*mean:
		return fmt.Errorf("hardly varies: its sd is less than a millionth of its mean; write the mean alone")
	}
	return nil
}

// sums refuses quantities that follow from several keys and that no line can
// have, and names the key that makes them so.
func (c *checker) sums(l *model.Line) {
	p, u, w := &l.Process, &l.Unwind, &l.Rewind
	check := func(key, what string, dim model.Dimension, x float64) {
		if _, given := c.v[key]; !given || x <= spans[dim].most && !math.IsNaN(x) {
			return
		}
		c.bad(key, fmt.Sprintf("makes %s %s: no line has that", what, amountText(x, dim.Usual())), "")
	}
	ramp := func(v, a float64) float64 {
		if a <= 0 {
			return 0
		}
		return v * v / (2 * a)
	}
	check("line.decel", "the stopping length", model.Length, ramp(p.Speed, p.Decel))
	check("line.accel", "the ramp up", model.Length, ramp(p.Speed, p.Accel))
	for _, s := range []struct {
		end               string
		kind              model.ChangeKind
		roll              *model.RollSize
		store             *model.Storage
		decel, accel, max float64
	}{{"unwind", u.Change, &u.Roll, &u.Storage, u.Decel, u.Accel, u.MaxSpeed}, {"rewind", w.Change, &w.Roll, &w.Storage, w.Decel, w.Accel, w.MaxSpeed}} {
		if s.roll.ByDiameter && l.Web.Caliper > 0 {
			check(s.end+".roll_diameter", "a roll of", model.Length, s.roll.Mean(l.Web))
		}
		if mean := meanRoll(s.roll, l.Web); mean > 0 && !math.IsInf(mean, 0) {
			check("web.grammage", "a roll of", model.Mass, mean*l.Web.Width*l.Web.Grammage)
		}
		if s.kind.Stores() {
			check(s.end+".storage.travel", "a storage of", model.Length, s.store.Capacity)
			check(s.end+".decel", "the stopping length", model.Length, ramp(p.Speed, s.decel))
			check(s.end+".accel", "the ramp up", model.Length, ramp(s.max, s.accel))
		}
	}
}
