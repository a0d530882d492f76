package random

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
)

// example is a usual value of a key, as its row says.
func example(k *scenarios.Key) Value {
	_, text, _ := strings.Cut(k.Example(), " = ")
	x, unit, ok := scenarios.SplitQuantity(strings.Trim(text, `"`))
	if _, err := model.ParseQuantity(strings.Trim(text, `"`), k.Dim); !ok || x == 0 || err != nil && unit != "" {
		x, unit, _ = scenarios.SplitQuantity(strings.Trim(k.Dim.Example(), `"`))
	}
	return Value{Nums: []Num{{X: []float64{x}, Unit: unit, Dim: k.Dim}}}
}

// fallback is the default of a key.
func fallback(k *scenarios.Key) Value {
	x, unit, _ := scenarios.SplitQuantity(strings.Trim(k.Default, `"`))
	dim := k.Dim
	if unit == "%" {
		dim = model.Share
	}
	return Value{Nums: []Num{{X: []float64{x}, Unit: unit, Dim: dim}}}
}

// measures are keys that others of their dimension are usually compared with:
// what is long or short on a line is so beside its rolls, its speed, its ramps.
var measures = map[model.Dimension]string{model.Length: "unwind.roll_length", model.Speed: "line.speed", model.Acceleration: "line.decel"}

// number draws a value of a key in SI.
func (d *drawer) number(k *scenarios.Key, path string, c chance) float64 {
	low, high, open := k.Bounds()
	h, hooked := hookOf(path)
	var x float64
	key, own := ownOf(path)
	switch {
	case own && (h.steady || key == "line.speed") && d.given[key]:
		x = d.si(key) * c.around(0.5, 2)
	case hooked && h.number != nil:
		x = h.number(d, c, path)
	case !math.IsInf(high, 1):
		x = d.within(c, low, high)
	case k.Dim == model.Time && c.is(0.8):
		x = d.pace(path) * c.log(1e-4, 1)
	case measures[k.Dim] != "" && measures[k.Dim] != path && c.is(0.8):
		x = d.si(measures[k.Dim]) * c.log(1e-5, 0.1)
	default:
		x = example(k).SI() * c.log(0.03, 30)
	}
	if !h.steady && c.is(d.mood.edge) {
		x = d.edge(k, path, c, x)
	}
	if math.IsInf(low, -1) && c.is(0.3) {
		x = -x
	}
	x = min(max(x, low), high)
	if open && x <= low {
		x = low + tiny(k.Dim)*example(k).SI()
	}
	return x
}

// within draws between two limits: the limits themselves, near to either, anywhere.
func (d *drawer) within(c chance, low, high float64) float64 {
	near := (high - low) * math.Pow(10, -c.in(0.3, 4))
	switch c.IntN(8) {
	case 0:
		return low
	case 1, 2:
		return high
	case 3:
		return low + near
	case 4, 5:
		return high - near
	}
	return c.in(low, high)
}

// edge is a value where things go wrong: at a limit, nothing, next to nothing,
// very much, or the same as another key of its dimension.
func (d *drawer) edge(k *scenarios.Key, path string, c chance, x float64) float64 {
	low, high, _ := k.Bounds()
	switch c.IntN(6) {
	case 0, 1:
		return max(0, low)
	case 2:
		return x * tiny(k.Dim)
	case 3:
		if !math.IsInf(high, 1) {
			return high
		}
		return x * huge(k.Dim)
	}
	twin, best := "", uint64(0)
	for _, row := range scenarios.Keys() {
		if r := rank(d.seed, path+row.Path); row.Dim == k.Dim && row.Path != path && !strings.Contains(row.Path, "[]") && r > best {
			twin, best = row.Path, r
		}
	}
	if twin == "" {
		return x
	}
	return d.si(twin)
}

// tiny is next to nothing of a dimension. A ramp or a speed of a billionth asks
// for storages of a million kilometres and tells nothing.
func tiny(dim model.Dimension) float64 {
	if dim == model.Acceleration || dim == model.Speed {
		return 1e-2
	}
	return 1e-9
}

// huge is very much of a dimension; a storage of a million kilometres again
// tells nothing.
func huge(dim model.Dimension) float64 {
	if dim == model.Length {
		return 30
	}
	return 1e3
}

// whole draws a whole number of a key.
func (d *drawer) whole(k *scenarios.Key, path string, c chance) int64 {
	low, high, _ := k.Bounds()
	if h, ok := hookOf(path); ok && h.number != nil {
		return int64(h.number(d, c, path))
	}
	if c.is(d.mood.edge) {
		return int64(pick(c, low, min(high, low+1), min(high, 50)))
	}
	return int64(min(high, low+math.Floor(c.log(1, 8))))
}

// level draws a level of a storage, as a length or a share of the capacity.
func (d *drawer) level(k *scenarios.Key, path string, c chance) Value {
	x := d.number(k, path, c)
	if capacity := d.capacity(path); c.is(0.5) && x <= capacity {
		return d.one(&scenarios.Key{Dim: model.Share}, c, x/capacity)
	}
	return d.one(k, c, x)
}

// si is a value in SI as the line will have it: the default where a key is not
// given. A level that is a share of the capacity is one of length.
func (d *drawer) si(path string) float64 {
	v := d.value(path)
	if k := row(path); !d.given[path] && k.Default != "" {
		v = fallback(k)
	}
	if k := row(path); k.Kind == "quantity or share of capacity" && len(v.Nums) > 0 && v.Nums[0].Dim == model.Share {
		return v.SI() * d.capacity(path)
	}
	return v.SI()
}

// one is a value that does not vary, in a unit that a person might take.
func (d *drawer) one(k *scenarios.Key, c chance, si float64) Value {
	return Value{Nums: []Num{d.num(k, c, "", si)}}
}

// num writes numbers of one parameter in one unit.
func (d *drawer) num(k *scenarios.Key, c chance, name string, si ...float64) Num {
	unit := unitFor(k.Dim, c, slices.Max(si))
	n := Num{Name: name, Unit: unit, Dim: k.Dim}
	for _, x := range si {
		x /= worth(unit, k.Dim)
		if d.mood.round {
			x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
		}
		n.X = append(n.X, x)
	}
	return n
}

// unitFor picks a unit of a dimension in which the number is neither very small
// nor very large, if there is one.
func unitFor(dim model.Dimension, c chance, si float64) string {
	var all, fit []string
	if dim.Plain() {
		all = append(all, "", "")
	}
	for _, u := range strings.Split(dim.Units(), ", ") {
		if u != "" {
			all = append(all, u)
		}
	}
	for _, u := range all {
		if x := math.Abs(si / worth(u, dim)); x >= 0.05 && x < 1e5 {
			fit = append(fit, u)
		}
	}
	switch {
	case len(fit) > 0:
		return pick(c, fit...)
	case len(all) > 0:
		return pick(c, all...)
	}
	panic(fmt.Sprintf("no unit for %s", dim))
}
