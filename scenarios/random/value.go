package random

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
)

// A Value is what a key is set to: a word, or numbers with units that can be
// written in other units, scaled and rounded.
type Value struct {
	Word string // as it stands in the text, quotes too; "" when there are numbers
	Law  string // of a distribution; "" for a value that does not vary
	Nums []Num  // the parameters of the law, or one value without a name
}

// Num is one number of a value, or the list of an empirical law.
type Num struct {
	Name string // of the parameter; "" for a value that does not vary
	X    []float64
	Unit string // "" for a bare number
	Dim  model.Dimension
}

// worths is what one of each unit is in SI units, by dimension.
var worths = func() map[model.Dimension]map[string]float64 {
	all := map[model.Dimension]map[string]float64{}
	for _, dim := range dimensions() {
		all[dim] = map[string]float64{"": 1}
		for _, unit := range strings.Split(dim.Units(), ", ") {
			if v, err := model.ParseQuantity("1 "+unit, dim); err == nil {
				all[dim][unit] = v
			}
		}
	}
	return all
}()

// dimensions are those of the key table, and shares, as which levels are written.
func dimensions() []model.Dimension {
	list := []model.Dimension{model.Share, model.Number}
	for _, k := range scenarios.Keys() {
		if k.Dim != "" {
			list = append(list, k.Dim)
		}
	}
	return list
}

// worth is what one of a unit is in SI units.
func worth(unit string, dim model.Dimension) float64 {
	if v, ok := worths[dim][unit]; ok {
		return v
	}
	v, err := model.ParseQuantity("1 "+unit, dim) // another way to write it
	if err != nil {
		panic(err) // units come from the dimension itself, or were read
	}
	return v
}

// SI is the value in SI units; of a law what it is about: its mean, or the
// parameter next to it.
func (v Value) SI() float64 {
	if len(v.Nums) == 0 {
		f, _ := strconv.ParseFloat(v.Word, 64)
		return f
	}
	n := v.Nums[0]
	for _, name := range []string{"scale", "mode", "mean"} {
		for _, x := range v.Nums {
			if x.Name == name {
				n = x
			}
		}
	}
	sum := 0.0
	for _, x := range n.X {
		sum += x
	}
	return sum / float64(len(n.X)) * worth(n.Unit, n.Dim)
}

// Text is the value as TOML.
func (v Value) Text() string {
	switch {
	case len(v.Nums) == 0:
		return v.Word
	case v.Law == "":
		return v.Nums[0].text(v.Nums[0].X[0])
	}
	var b strings.Builder
	fmt.Fprintf(&b, "{ dist = %q", v.Law)
	for _, n := range v.Nums {
		if n.Name != "values" {
			fmt.Fprintf(&b, ", %s = %s", n.Name, n.text(n.X[0]))
			continue
		}
		list := make([]string, len(n.X))
		for i, x := range n.X {
			list[i] = n.text(x)
		}
		fmt.Fprintf(&b, ", values = [%s]", strings.Join(list, ", "))
	}
	return b.String() + " }"
}

func (n Num) text(x float64) string {
	s := strconv.FormatFloat(x, 'g', -1, 64)
	if n.Unit == "" {
		return s
	}
	return strconv.Quote(s + " " + n.Unit)
}

// each returns the value with every number changed, in the unit that it has.
func (v Value) each(change func(n Num, x float64) float64) Value {
	out := v
	out.Nums = make([]Num, len(v.Nums))
	for i, n := range v.Nums {
		out.Nums[i] = n
		out.Nums[i].X = make([]float64, len(n.X))
		for j, x := range n.X {
			out.Nums[i].X[j] = change(n, x)
		}
	}
	return out
}

// in returns the value written in another unit for each number.
func (v Value) in(unit func(n Num) string) Value {
	out := v.each(func(n Num, x float64) float64 { return convert(x, n.Dim, n.Unit, unit(n)) })
	for i, n := range v.Nums {
		out.Nums[i].Unit = unit(n)
	}
	return out
}

// convert turns a number from one unit into another; it stays as it is in its own.
func convert(x float64, dim model.Dimension, from, to string) float64 {
	if from == to {
		return x
	}
	return x * worth(from, dim) / worth(to, dim)
}
