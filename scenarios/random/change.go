package random

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
)

// with returns the scenario with every value that is a number changed.
func (s *Scenario) with(change func(v Value) Value) *Scenario {
	changes := map[string]Value{}
	for path, v := range s.Values {
		if len(v.Nums) > 0 {
			changes[path] = change(v)
		}
	}
	return s.With(changes)
}

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
		if path == "crew.shift" && s.byShift() {
			return x // a day is a whole number of them
		}
		c := stream(s.Seed, "apart "+path)
		for range int(math.Float64bits(x) & 7) { // numbers of one value move by different shares
			c.Float64()
		}
		return x * (1 - 1e-3*c.Float64())
	})
}

// byShift says whether a group of the crew is on in some shifts only.
func (s *Scenario) byShift() bool {
	return slices.ContainsFunc(s.paths(), func(path string) bool {
		return strings.HasPrefix(path, "crew.group[") && strings.HasSuffix(path, ".shifts")
	})
}

// american is what one of each US unit is in SI units, by the exact definitions
// of NIST Special Publication 811 (2008), appendix B. It stands here apart from the
// units that scenarios are read in, so that the one is checked by the other.
var american = map[string]float64{
	"mil": 2.54e-5, "in": 0.0254, "ft": 0.3048, "ft/min": 0.3048 / 60, "ft/s": 0.3048, "ft/s2": 0.3048,
	"lb": 0.45359237, "lbf": 4.4482216152605, "lbf ft": 4.4482216152605 * 0.3048, "lb/ft2": 0.45359237 / (0.3048 * 0.3048),
	"/ft": 1 / 0.3048, "/ft2": 1 / (0.3048 * 0.3048), "/lb": 1 / 0.45359237,
}

// InUnits returns the scenario written in metric or in US units wherever there
// are any.
func (s *Scenario) InUnits(system model.System) *Scenario {
	return s.with(func(v Value) Value {
		out := v
		out.Nums = nil
		for _, n := range v.Nums {
			out.Nums = append(out.Nums, inUnits(n, system))
		}
		return out
	})
}

// inUnits writes a number in a unit of a system; seconds are seconds in both.
func inUnits(n Num, system model.System) Num {
	factor, us := american[n.Unit]
	if n.Unit == "" || us == (system == model.Imperial) {
		return n
	}
	if !us {
		factor = worth(n.Unit, n.Dim)
	}
	for _, unit := range strings.Split(n.Dim.Units(), ", ") {
		to, us := american[unit]
		if us != (system == model.Imperial) {
			continue
		}
		if !us {
			to = worth(unit, n.Dim)
		}
		n.Unit, n.X = unit, slices.Clone(n.X)
		for i := range n.X {
			n.X[i] *= factor / to
		}
		return n
	}
	return n
}

// powers says how a dimension grows with lengths and with times, mass left as
// it is.
func powers(dim model.Dimension) (length, time float64) {
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
				for _, alternative := range s.places(path) {
					if _, given := s.Values[alternative+path]; !given {
						defaults[alternative+path] = v
					}
				}
			}
		}
	}
	return s.With(defaults).each(func(path string, n Num, x float64) float64 {
		if strings.HasPrefix(path, "economics.") || strings.HasSuffix(path, ".installation_time") {
			return x
		}
		l, t := powers(n.Dim)
		return x * math.Pow(length, l) * math.Pow(time, t)
	})
}

// places are where a default is to be written out: in the base; that of a table in a
// table only where that is, since a key makes a table, and with it a way to make
// splices or to build rolls.
func (s *Scenario) places(path string) []string {
	if strings.Count(path, ".") < 2 {
		return []string{""}
	}
	var list []string
	for _, other := range s.paths() {
		alternative := overlaid.FindString(other)
		if strings.HasPrefix(other[len(alternative):], table(path)) && !slices.Contains(list, alternative) {
			list = append(list, alternative)
		}
	}
	if slices.Contains(list, "") {
		return []string{""}
	}
	return list
}

// Reversed returns the scenario with the elements of every array of tables but
// the alternatives and the products in the opposite order.
func (s *Scenario) Reversed() *Scenario {
	c := &Scenario{Seed: s.Seed, Values: map[string]Value{}}
	for path, v := range s.Values {
		c.Values[numbered.ReplaceAllStringFunc(path, func(at string) string {
			if strings.HasPrefix(path, "alternative[") || strings.HasPrefix(path, "product[") {
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
