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

// LawInfo is a law that a quantity can follow, for the reference.
type LawInfo struct {
	Name    string
	Params  []string // in the order of model.Dist
	Or      []string // that may stand in their place
	May     []string // that may stand beside them
	Meaning string   // what it is for, in the words of the trade
}

// least is where a law begins that would begin at 0. Mean and sd are those of the
// whole, shape and scale of what is above it.
var least = []string{"least"}

// lawTable is every law, in the order of the reference.
var lawTable = []LawInfo{
	{"exponential", []string{"mean"}, nil, least, "Times between random events, independent of the time since the last"},
	{"normal", []string{"mean", "sd"}, nil, nil, "Errors of measurement; redrawn below 0 where a quantity cannot be negative"},
	{"lognormal", []string{"mean", "sd"}, nil, least, "Times of manual work: never below 0, with a long upper tail"},
	{"uniform", []string{"min", "max"}, nil, nil, "Anything between two limits, all values equally likely"},
	{"triangular", []string{"min", "mode", "max"}, nil, nil, "An estimate: at least, usually, at most"},
	{"gamma", []string{"shape", "scale"}, []string{"mean", "sd"}, least, "Times made up of several steps"},
	{"weibull", []string{"shape", "scale"}, nil, least, "Times to a failure that gets more likely with age (shape above 1) or less"},
	{"empirical", []string{"values"}, []string{"file", "column", "unit"}, nil, "Measured values, all equally likely: a list, or a column of a CSV file"},
}

// Laws returns the laws, in the order of the reference.
func Laws() []LawInfo { return append([]LawInfo(nil), lawTable...) }

// Example is how the law is written for a time.
func (l LawInfo) Example() string {
	values := map[string]string{"mean": `"4 min"`, "sd": `"80 s"`, "min": `"2 min"`, "mode": `"3 min"`, "max": `"8 min"`, "shape": "1.5", "scale": `"3 min"`, "values": `["175 s", "190 s", "240 s"]`}
	text := fmt.Sprintf("{ dist = %q", l.Name)
	for _, p := range l.Params {
		text += fmt.Sprintf(", %s = %s", p, values[p])
	}
	return text + " }"
}

// laws are the laws, by their names.
var laws = func() map[string]LawInfo {
	m := map[string]LawInfo{}
	for _, l := range lawTable {
		m[l.Name] = l
	}
	return m
}()

// lawNames are the names of the laws, for messages.
var lawNames = func() string {
	var names []string
	for _, l := range lawTable {
		names = append(names, l.Name)
	}
	return strings.Join(names, ", ")
}()

// readLaw reads { dist = "lognormal", mean = "4 min", sd = "80 s" }.
func (k *Key) readLaw(m map[string]any, data *data) (model.Dist, error) {
	name, _ := m["dist"].(string)
	if s, ok := m["source"].(string); ok && s != "" { // a note for the reader
		m = less(m, "source")
	}
	law, ok := laws[name]
	if !ok {
		return model.Dist{}, fmt.Errorf("needs dist = one of %s", lawNames)
	}
	if raw, ok := m["observed"]; ok {
		n, err := k.readObserved(raw)
		if err != nil {
			return model.Dist{}, err
		}
		d, err := k.readLaw(less(m, "observed"), data)
		d.Observed = n
		return d, err
	}
	if name != "empirical" {
		return k.readParams(&law, m)
	}
	if _, ok := m["file"]; ok {
		return k.readFile(m, data)
	}
	return k.readValues(m)
}

// less is a table without one of its keys.
func less(m map[string]any, key string) map[string]any {
	m = maps.Clone(m)
	delete(m, key)
	return m
}

// readValues reads the measured values that stand in the scenario.
func (k *Key) readValues(m map[string]any) (model.Dist, error) {
	list, ok := m["values"].([]any)
	if !ok || len(m) != 2 {
		return model.Dist{}, fmt.Errorf("an empirical distribution has values = [ … ], or file = \"NAME.csv\" and column = \"NAME\"")
	}
	d := model.Dist{Law: model.Empirical, Signed: k.signed}
	for i, raw := range list {
		v, err := k.readNumber(raw)
		if err != nil {
			return model.Dist{}, fmt.Errorf("values, number %d: %w", i+1, err)
		}
		d.Values = append(d.Values, v)
	}
	return d, k.checkLaw(d)
}

// readParams reads the parameters of a law.
func (k *Key) readParams(law *LawInfo, m map[string]any) (model.Dist, error) {
	params := law.Params
	byMean := law.Name == "gamma" && m["shape"] == nil && m["scale"] == nil
	if byMean {
		params = law.Or
	}
	for _, p := range slices.Sorted(maps.Keys(m)) {
		if p != "dist" && !among(params, p) && !among(law.May, p) {
			return model.Dist{}, fmt.Errorf("%s has %s, not %s", law.Name, strings.Join(params, ", ")+mayHave(law), legible.Quote(p))
		}
	}
	d := model.Dist{Law: model.Law(law.Name), Signed: k.signed}
	to := append([]*float64{&d.A, &d.B, &d.C}[:len(params)], &d.Least) // the only one that it may have
	for i, p := range slices.Concat(params, law.May) {
		raw, ok := m[p]
		if !ok && i >= len(params) {
			continue
		}
		if !ok {
			return model.Dist{}, fmt.Errorf("%s needs %s; %s is missing", law.Name, strings.Join(params, ", "), p)
		}
		v, err := k.readParam(p, raw)
		if err != nil {
			return model.Dist{}, fmt.Errorf("%s: %w", p, err)
		}
		*to[i] = v
	}
	if byMean {
		if err := shapeOf(&d); err != nil {
			return model.Dist{}, err
		}
	}
	return d, k.checkLaw(d)
}

// readParam reads a parameter of a law: a quantity, or a shape, which has no unit.
func (k *Key) readParam(name string, raw any) (float64, error) {
	if name != "shape" {
		return k.readNumber(raw)
	}
	v, ok := toFloat(raw)
	if !ok {
		return 0, fmt.Errorf("must be a number, without quotes or unit")
	}
	return v, nil
}

// shapeOf turns the mean and sd of a gamma law into its shape and scale.
func shapeOf(d *model.Dist) error {
	if d.A <= 0 || d.B <= 0 {
		return fmt.Errorf("mean and sd must be above 0")
	}
	mean := d.A - d.Least
	if mean <= 0 {
		return fmt.Errorf("least must be below mean")
	}
	d.A, d.B = (mean/d.B)*(mean/d.B), d.B*d.B/mean
	return nil
}

// mostObserved is the most values that can stand behind a law.
const mostObserved = 1e9

// readObserved reads how many values stand behind a law. Prices have none: what is
// not known of them is their distribution itself.
func (k *Key) readObserved(raw any) (int, error) {
	if strings.HasPrefix(k.Path, "economics.") || strings.HasPrefix(k.Path, "alternative[]") {
		return 0, &fileError{"observed is for what was recorded of the line; a price says what is not known by its own distribution", ""}
	}
	n, ok := raw.(int64)
	if !ok || n < 1 || n > mostObserved {
		return 0, &fileError{"observed must be a whole number of values, 1 or above, without quotes", "observed = 37"}
	}
	return int(n), nil
}

// mayHave is what a law may have besides its parameters, for messages.
func mayHave(l *LawInfo) string {
	if len(l.May) == 0 {
		return ""
	}
	return " (and " + strings.Join(l.May, ", ") + ")"
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
	if d.Signed && k.bounded && (d.Quantile(0.001) < k.low || d.Quantile(0.999) > k.high) {
		return fmt.Errorf("its values must be %s", k.Range)
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
