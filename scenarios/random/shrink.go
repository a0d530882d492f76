package random

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"rollchange/model"
)

// Shrink makes a scenario as short and plain as it can while it still fails:
// tables, then keys are left out, distributions become their mean, numbers are
// rounded and brought into usual units. fails is asked tries times at most, and
// not after so long a time.
func Shrink(s *Scenario, fails func(*Scenario) bool, tries int, within time.Duration) *Scenario {
	k := &shrinker{best: s, fails: fails, left: tries, end: time.Now().Add(within)}
	for changed := true; changed && k.left > 0 && time.Now().Before(k.end); {
		changed = k.tables()
		changed = k.keys() || changed
		changed = k.values() || changed
	}
	return k.best
}

type shrinker struct {
	best  *Scenario
	fails func(*Scenario) bool
	left  int
	end   time.Time
}

// try takes over a change if the scenario still fails with it.
func (k *shrinker) try(changes map[string]Value) bool {
	if k.left <= 0 || time.Now().After(k.end) {
		return false
	}
	k.left--
	c := k.best.With(changes)
	if c.Text() == k.best.Text() || !k.fails(c) {
		return false
	}
	k.best = c
	return true
}

// tables leaves out tables and elements of arrays, the outer ones first.
func (k *shrinker) tables() bool {
	var prefixes []string
	for _, path := range k.best.paths() {
		for i, r := range path {
			if r == '.' {
				prefixes = append(prefixes, path[:i+1])
			}
		}
	}
	slices.SortFunc(prefixes, func(a, b string) int {
		if d := len(a) - len(b); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	changed := false
	for _, prefix := range slices.Compact(prefixes) {
		without := map[string]Value{}
		for _, path := range k.best.paths() {
			if strings.HasPrefix(path, prefix) {
				without[path] = Value{}
			}
		}
		changed = len(without) > 0 && k.try(without) || changed
	}
	return changed
}

func (k *shrinker) keys() bool {
	changed := false
	for _, path := range k.best.paths() {
		changed = k.try(map[string]Value{path: {}}) || changed
	}
	return changed
}

// values makes each value as plain as it can be.
func (k *shrinker) values() bool {
	changed := false
	for _, path := range k.best.paths() {
		for _, v := range plainer(k.best.Values[path]) {
			if k.try(map[string]Value{path: v}) {
				changed = true
				break
			}
		}
	}
	return changed
}

// plainer lists plainer forms of a value, the plainest first.
func plainer(v Value) []Value {
	var list []Value
	if n, err := strconv.Atoi(v.Word); err == nil {
		for _, x := range []int{1, 2, n / 2} {
			if x < n {
				list = append(list, Value{Word: strconv.Itoa(x)})
			}
		}
		return list
	}
	if len(v.Nums) == 0 {
		return nil
	}
	if v.Law != "" {
		mean := Value{Nums: []Num{{X: []float64{v.SI()}, Dim: v.Nums[0].Dim}}}
		if unit, ok := usual[mean.Nums[0].Dim]; ok {
			mean.Nums[0].Unit = unit
		} else {
			mean.Nums[0].Unit = v.Nums[0].Unit
		}
		mean = mean.each(func(n Num, x float64) float64 { return x / worth(n.Unit, n.Dim) })
		for _, digits := range []int{1, 2, 4} {
			list = append(list, rounded(mean, digits))
		}
		list = append(list, mean)
	}
	plain := v.in(func(n Num) string {
		if unit, ok := usual[n.Dim]; ok && n.Unit != "" {
			return unit
		}
		return n.Unit
	})
	for _, digits := range []int{1, 2, 3, 4, 6, 9} {
		list = append(list, rounded(plain, digits))
	}
	now := len(v.Text())
	return slices.DeleteFunc(list, func(x Value) bool { return len(x.Text()) >= now && x.Law == v.Law })
}

// usual are the units of dimensions that are easiest to calculate with.
var usual = map[model.Dimension]string{model.Length: "m", model.Speed: "m/s", model.Acceleration: "m/s2", model.Time: "s"}

func rounded(v Value, digits int) Value {
	return v.each(func(_ Num, x float64) float64 {
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
		return x
	})
}
