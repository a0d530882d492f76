package random

import (
	"fmt"
	"math"
	"strconv"

	"rollchange/model"
	"rollchange/scenarios"
)

// law draws a distribution about the value that the key would have without.
// Laws come from the table of laws; a parameter that is not known here is one
// that nobody has thought of: the tests say so.
//
// Honest exception: the values of an empirical law are written out, never read
// from a file beside the scenario, so that a scenario is one text.
func (d *drawer) law(k *scenarios.Key, path string, c chance) Value {
	low, high, _ := k.Bounds()
	h, _ := hookOf(path)
	bounded, signed := !math.IsInf(high, 1) || h.least != nil, math.IsInf(low, -1)
	var laws []scenarios.LawInfo
	for _, l := range scenarios.Laws() {
		if !bounded || l.Params[0] == "min" || l.Params[0] == "values" {
			laws = append(laws, l)
		}
	}
	law := pick(c, laws...)
	name, params := law.Name, law.Params
	if len(law.Or) > 0 && law.Or[0] != "file" && c.is(0.5) {
		params = law.Or
	}
	mean := math.Abs(d.number(k, path, c))
	if mean == 0 {
		mean = example(k).SI() * 1e-3
	}
	from := pick(c, 0, 0, c.in(0, 1), 1-1e-6) * mean
	to := mean * pick(c, c.in(1.01, 3), 10)
	if bounded {
		to = min(to, high)
		from = min(from, to/2)
	}
	if h.least != nil {
		least := 1.05 * h.least(d, path)
		from, mean, to = max(from, least), max(mean, least*1.1), max(to, least*1.3)
	}
	shift := 0.0
	if signed && (params[0] == "min" || name == "normal" || params[0] == "values") {
		shift = mean * c.in(0, 2)
	}
	v := Value{Law: name}
	for _, p := range params {
		switch p {
		case "mean":
			v.Nums = append(v.Nums, d.num(k, c, p, mean-shift))
		case "sd":
			v.Nums = append(v.Nums, d.num(k, c, p, mean*pick(c, c.in(0.02, 1), c.in(0.02, 0.3), 1e-3, 3)))
		case "min":
			v.Nums = append(v.Nums, d.num(k, c, p, from-shift))
		case "mode":
			v.Nums = append(v.Nums, d.num(k, c, p, pick(c, from, c.in(from, to), to)-shift))
		case "max":
			v.Nums = append(v.Nums, d.num(k, c, p, to-shift))
		case "scale":
			v.Nums = append(v.Nums, d.num(k, c, p, mean))
		case "shape":
			x, _ := strconv.ParseFloat(strconv.FormatFloat(pick(c, c.log(0.4, 5), 1, 50), 'g', 3, 64), 64)
			v.Nums = append(v.Nums, Num{Name: p, X: []float64{x}, Dim: model.Number})
		case "values":
			list := make([]float64, 1+c.IntN(6))
			for i := range list {
				list[i] = pick(c, from, mean, to, c.in(from, to)) - shift
			}
			v.Nums = append(v.Nums, d.num(k, c, p, list...))
		default:
			panic(fmt.Sprintf("no way to draw %s of %s", p, name))
		}
	}
	if len(law.May) > 0 && c.is(0.25) { // at most what keeps the mean above it
		v.Nums = append(v.Nums, d.num(k, c, "least", pick(c, 0, c.in(0, 0.9)*mean, 0.99*mean)))
	}
	return v
}
