package scenarios

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
)

// laws lists the parameters of each law, in the order of model.Dist. A gamma law
// may have mean and sd instead of shape and scale.
var laws = map[string][]string{
	"exponential": {"mean"},
	"normal":      {"mean", "sd"},
	"lognormal":   {"mean", "sd"},
	"uniform":     {"min", "max"},
	"triangular":  {"min", "mode", "max"},
	"gamma":       {"shape", "scale"},
	"weibull":     {"shape", "scale"},
	"empirical":   {"values"},
}

const lawNames = "exponential, normal, lognormal, uniform, triangular, gamma, weibull, empirical"

// readLaw reads { dist = "lognormal", mean = "4 min", sd = "80 s" }.
func (k *Key) readLaw(m map[string]any, data *data) (model.Dist, error) {
	var none model.Dist
	name, _ := m["dist"].(string)
	if s, ok := m["source"].(string); ok && s != "" { // a note for the reader
		m = maps.Clone(m)
		delete(m, "source")
	}
	params, ok := laws[name]
	if !ok {
		return none, fmt.Errorf("needs dist = one of %s", lawNames)
	}
	d := model.Dist{Law: model.Law(name), Signed: k.signed}
	if name == "empirical" {
		if _, ok := m["file"]; ok {
			return k.readFile(m, data)
		}
		list, ok := m["values"].([]any)
		if !ok || len(m) != 2 {
			return none, fmt.Errorf("an empirical law has values = [ … ], or file = \"NAME.csv\" and column = \"NAME\"")
		}
		for i, raw := range list {
			v, err := k.readNumber(raw)
			if err != nil {
				return none, fmt.Errorf("values, number %d: %w", i+1, err)
			}
			d.Values = append(d.Values, v)
		}
		return d, k.checkLaw(d)
	}
	if name == "gamma" && m["shape"] == nil && m["scale"] == nil {
		params = []string{"mean", "sd"} // turned into shape and scale below
	}
	for _, p := range slices.Sorted(maps.Keys(m)) {
		if p != "dist" && !contains(params, p) {
			return none, fmt.Errorf("%s has %s, not %s", name, strings.Join(params, ", "), legible.Quote(p))
		}
	}
	for i, p := range params {
		raw, ok := m[p]
		if !ok {
			return none, fmt.Errorf("%s needs %s; %s is missing", name, strings.Join(params, ", "), p)
		}
		var v float64
		var err error
		if p == "shape" {
			var isNumber bool
			if v, isNumber = toFloat(raw); !isNumber {
				err = fmt.Errorf("must be a number, without quotes or unit")
			}
		} else {
			v, err = k.readNumber(raw)
		}
		if err != nil {
			return none, fmt.Errorf("%s: %w", p, err)
		}
		*[]*float64{&d.A, &d.B, &d.C}[i] = v
	}
	if name == "gamma" && params[0] == "mean" {
		if d.A <= 0 || d.B <= 0 {
			return none, fmt.Errorf("mean and sd must be above 0")
		}
		d.A, d.B = (d.A/d.B)*(d.A/d.B), d.B*d.B/d.A
	}
	return d, k.checkLaw(d)
}

// checkLaw refuses parameters out of range and a support out of the key's range.
func (k *Key) checkLaw(d model.Dist) error {
	if err := d.Validate(); err != nil {
		return err
	}
	if err := spread(d); err != nil {
		return err
	}
	for _, x := range []float64{d.Mean(), d.SD(), d.Quantile(0.5)} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("has no finite mean, sd and median: its parameters are too far apart")
		}
	}
	if d.Signed || !k.bounded {
		return nil
	}
	// The open end of a range is for values given; a law may touch it.
	if d.Min() < k.low || !math.IsInf(k.high, 1) && d.Max() > k.high {
		return fmt.Errorf("its values must be %s", k.Range)
	}
	if k.lowOpen && d.Max() <= k.low {
		return fmt.Errorf("its values must be %s", k.Range)
	}
	return nil
}
