package random

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
)

// each returns the scenario with every number changed.
func (s *Scenario) each(change func(path string, n Num, x float64) float64) *Scenario {
	changes := map[string]Value{}
	for path, v := range s.Values {
		if len(v.Nums) > 0 {
			changes[path] = v.each(func(n Num, x float64) float64 { return change(path, n, x) })
		}
	}
	return s.With(changes)
}

// Apart returns the scenario with every number moved by up to a thousandth, so
// that what was equal is not and what happened at one instant does not: a law
// that holds but for the order of simultaneous events is tried on such a one.
func (s *Scenario) Apart() *Scenario {
	return s.each(func(path string, _ Num, x float64) float64 {
		c := stream(s.Seed, "apart "+path)
		for range int(math.Float64bits(x) & 7) { // numbers of one value move by different shares
			c.Float64()
		}
		return x * (1 - 1e-3*c.Float64())
	})
}

// InUnits returns the scenario written in metric or in US units wherever there
// are any.
func (s *Scenario) InUnits(system model.System) *Scenario {
	changes := map[string]Value{}
	for path, v := range s.Values {
		if len(v.Nums) > 0 {
			changes[path] = v.in(func(n Num) string { return unitIn(n, system) })
		}
	}
	return s.With(changes)
}

// american are parts of the names of units that are not metric.
var american = []string{"ft", "in", "mil", "lb"}

func unitIn(n Num, system model.System) string {
	parts := func(u string) []string {
		return strings.FieldsFunc(u, func(r rune) bool { return !(r >= 'a' && r <= 'z') })
	}
	us := func(u string) bool {
		return slices.ContainsFunc(parts(u), func(p string) bool { return slices.Contains(american, p) || p == "lbf" })
	}
	if n.Unit == "" || us(n.Unit) == (system == model.Imperial) {
		return n.Unit
	}
	for _, u := range strings.Split(n.Dim.Units(), ", ") {
		if us(u) == (system == model.Imperial) {
			return u
		}
	}
	return n.Unit // seconds are seconds
}

// Powers says how a dimension grows with lengths and with times, mass left as
// it is.
func Powers(dim model.Dimension) (length, time float64) {
	switch dim {
	case model.Length:
		return 1, 0
	case model.Speed:
		return 1, -1
	case model.Acceleration:
		return 1, -2
	case model.Time:
		return 0, 1
	case model.Grammage:
		return -2, 0
	case model.Torque:
		return 2, -2
	case model.Force:
		return 1, -2
	}
	return 0, 0
}

// Scaled returns the scenario with all lengths and all times multiplied, and
// speeds, ramps, grammage and torque with them; defaults too, which are written
// out. Prices and their like stay.
func (s *Scenario) Scaled(length, time float64) *Scenario {
	defaults := map[string]Value{}
	for path, k := range rows {
		if _, given := s.Values[path]; !given && k.Default != "" && k.Dim != "" && !strings.Contains(path, "[]") {
			if v := fallback(k); v.Nums[0].X[0] != 0 && v.Nums[0].Dim != model.Share && v.Nums[0].Unit != "" {
				defaults[path] = v
			}
		}
	}
	return s.With(defaults).each(func(path string, n Num, x float64) float64 {
		if strings.HasPrefix(path, "economics.") {
			return x
		}
		l, t := Powers(n.Dim)
		return x * math.Pow(length, l) * math.Pow(time, t)
	})
}

// Reversed returns the scenario with the elements of every array of tables but
// the alternatives in the opposite order.
func (s *Scenario) Reversed() *Scenario {
	c := &Scenario{Seed: s.Seed, Values: map[string]Value{}}
	for path, v := range s.Values {
		c.Values[numbered.ReplaceAllStringFunc(path, func(at string) string {
			if strings.HasPrefix(path, "alternative[") {
				return at
			}
			return "[" + strings.Map(func(r rune) rune {
				if r >= '0' && r <= '9' {
					return '0' + '9' - r
				}
				return r
			}, pad(at)) + "]"
		})] = v
	}
	return c
}

// pad writes the number of an element with four digits, so that the order of
// texts is the order of numbers.
func pad(at string) string {
	n := strings.Trim(at, "[]")
	return strings.Repeat("0", max(0, 4-len(n))) + n
}
