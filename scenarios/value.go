package scenarios

import (
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"rollchange/model"
)

// read turns a raw value into the value of a key. dir is where the files of
// empirical laws are looked for; at finds capacity for a share of it.
func (k *Key) read(raw any, dir string, capacity float64) (value, error) {
	switch k.kind {
	case text:
		s, ok := raw.(string)
		if !ok {
			return value{}, fmt.Errorf("must be text in quotes")
		}
		if len(s) > 200 {
			return value{}, fmt.Errorf("is longer than 200 characters")
		}
		return value{text: s}, nil
	case choice:
		s, _ := raw.(string)
		for _, c := range k.Choices {
			if s == c {
				return value{text: s}, nil
			}
		}
		return value{}, fmt.Errorf("must be one of %s", quoted(k.Choices))
	case flag:
		b, ok := raw.(bool)
		if !ok {
			return value{}, fmt.Errorf("must be true or false, without quotes")
		}
		return value{flag: b}, nil
	case integer:
		n, ok := raw.(int64)
		if !ok {
			return value{}, fmt.Errorf("must be a whole number, without quotes or unit")
		}
		return value{integer: n, dist: model.Const(float64(n))}, k.inRange(float64(n))
	case perRoll:
		if b, ok := raw.(bool); ok && b {
			return value{integer: 1}, nil
		}
		n, ok := raw.(int64)
		if !ok {
			return value{}, fmt.Errorf("must be true, or a whole number of finished rolls")
		}
		return value{integer: n}, k.inRange(float64(n))
	case special:
		if s, ok := raw.(string); ok && s == "auto" {
			return value{text: s, dist: model.Const(0)}, nil
		}
	case level:
		if s, ok := raw.(string); ok && strings.HasSuffix(strings.TrimSpace(s), "%") {
			share, err := model.ParseQuantity(s, model.Share)
			if err == nil && (share < 0 || share > 1) {
				err = fmt.Errorf("a share of the capacity must be within 0 %% to 100 %%")
			}
			return value{share: true, dist: model.Const(share * capacity)}, err
		}
	case fraction:
		if f, ok := toFloat(raw); ok {
			return value{dist: model.Const(f)}, k.inRange(f)
		}
	case varying, vnumber:
		if m, ok := raw.(map[string]any); ok {
			d, err := k.readLaw(m, dir)
			return value{dist: d}, err
		}
	}
	v, err := k.readNumber(raw)
	if err == nil {
		err = k.inRange(v)
	}
	return value{dist: model.Dist{Law: model.Fixed, A: v, Signed: k.signed}}, err
}

// readNumber reads a quantity with its unit, or a plain number where the key
// has none, in SI.
func (k *Key) readNumber(raw any) (float64, error) {
	_, written := raw.(string)
	if k.Dim.Plain() && !(written && k.Dim.Units() != "") {
		f, ok := toFloat(raw)
		if !ok {
			return 0, fmt.Errorf("must be a number, without quotes")
		}
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return 0, fmt.Errorf("must be a finite number")
		}
		return f, nil
	}
	if f, ok := toFloat(raw); ok {
		return 0, fmt.Errorf("%v is a bare number; give it a unit in quotes: %s", f, k.Dim.Units())
	}
	if _, law := raw.(map[string]any); law {
		return 0, fmt.Errorf("cannot vary; it must be one quantity in quotes")
	}
	s, ok := raw.(string)
	if !ok {
		return 0, fmt.Errorf("must be a quantity in quotes")
	}
	return model.ParseQuantity(s, k.Dim)
}

func toFloat(raw any) (float64, bool) {
	switch n := raw.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

func (k *Key) inRange(v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("must be a finite number")
	}
	if k.bounded && (v < k.low || v > k.high || k.lowOpen && v == k.low) {
		return fmt.Errorf("must be %s", k.Range)
	}
	return nil
}

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
func (k *Key) readLaw(m map[string]any, dir string) (model.Dist, error) {
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
			return k.readFile(m, dir)
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
	for p := range m {
		if p != "dist" && !contains(params, p) {
			return none, fmt.Errorf("%s has %s, not %q", name, strings.Join(params, ", "), p)
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

var header = regexp.MustCompile(`^\s*(.*?)\s*(?:\[\s*(.*?)\s*\])?\s*$`)

// readFile reads an empirical law from a column of a CSV file beside the
// scenario; the unit stands in the head of the column, "dwell [s]".
func (k *Key) readFile(m map[string]any, dir string) (model.Dist, error) {
	var none model.Dist
	name, _ := m["file"].(string)
	column, _ := m["column"].(string)
	given, _ := m["unit"].(string)
	for p := range m {
		if p != "dist" && p != "file" && p != "column" && p != "unit" {
			return none, fmt.Errorf("an empirical law from a file has file, column and unit, not %q", p)
		}
	}
	path := name
	if !filepath.IsAbs(path) {
		path = filepath.Join(dir, name)
	}
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return none, fmt.Errorf("file %q: cannot be read", name)
	case info.IsDir() || !info.Mode().IsRegular():
		return none, fmt.Errorf("file %q: is no file", name)
	case info.Size() > 10<<20:
		return none, fmt.Errorf("file %q: is larger than 10 MB", name)
	}
	f, err := os.Open(path)
	if err != nil {
		return none, fmt.Errorf("file %q: cannot be read", name)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return none, fmt.Errorf("file %q: %v", name, err)
	}
	if len(rows) < 2 {
		return none, fmt.Errorf("file %q: needs a head and at least one row", name)
	}
	at, unit := -1, ""
	for i, h := range rows[0] {
		parts := header.FindStringSubmatch(strings.TrimPrefix(h, "\ufeff"))
		if parts != nil && (parts[1] == column || column == "" && len(rows[0]) == 1) {
			at, unit = i, parts[2]
		}
	}
	if at < 0 {
		return none, fmt.Errorf("file %q: no column %q in its head %s", name, column, quoted(rows[0]))
	}
	if unit == "" {
		unit = given
	}
	d := model.Dist{Law: model.Empirical, Signed: k.signed}
	for i, r := range rows[1:] {
		var v float64
		if k.Dim.Plain() && unit == "" {
			v, err = strconv.ParseFloat(strings.TrimSpace(r[at]), 64)
		} else {
			v, err = model.ParseQuantity(r[at]+" "+unit, k.Dim)
		}
		if err != nil {
			return none, fmt.Errorf("file %q, row %d: %w; the head gives the unit, as in \"%s [%s]\", or the key unit does", name, i+2, err, column, strings.Split(k.Dim.Units(), ", ")[0])
		}
		d.Values = append(d.Values, v)
	}
	return d, k.checkLaw(d)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func quoted(list []string) string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return strings.Join(q, ", ")
}
