package scenarios

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
)

// Override changes a key of every alternative, as if it stood so in each. Value
// is written as in the file, a quantity without its quotes. The key may name
// one parameter of a distribution that stands there, "unwind.dwell.mean". With
// a Factor above 0 in place of a Value, what stands there is multiplied by it:
// a quantity, or every parameter of a distribution that has a unit. With Of it
// is for the alternative of that name alone. ParseSet makes one that is checked
// and told of as the file is.
type Override struct {
	Key, Value string
	Factor     float64
	Of         string

	said string // how a person gave it, "--set line.speed=100 m/min"; empty: nobody did
	line int    // below 0: stands for it in leaves and problems
}

// parameters are the names that a parameter of a distribution can have.
var parameters = []string{"mean", "sd", "min", "mode", "max", "shape", "scale", "least"}

// splitParameter parts "unwind.dwell.mean" into the key and the parameter.
func splitParameter(path string) (key, parameter string) {
	if rowOf[row(path)] != nil {
		return path, ""
	}
	if i := strings.LastIndexByte(path, '.'); i > 0 && among(parameters, path[i+1:]) {
		if k := rowOf[row(path[:i])]; k != nil && (k.kind == varying || k.kind == vnumber) {
			return path[:i], path[i+1:]
		}
	}
	return path, ""
}

// IsParameter says whether a path names one parameter of a distribution.
func IsParameter(path string) bool {
	_, parameter := splitParameter(path)
	return parameter != ""
}

// Numeric finds the key of a path (PathOf) that can be varied: one that says how the
// line is and is a number or a quantity, or one parameter of a distribution. The error
// says what is near.
func Numeric(path string) (*Key, error) {
	key, parameter := splitParameter(path)
	k := rowOf[row(key)]
	if k != nil && strings.Contains(key, "[]") {
		return nil, fmt.Errorf("say which: %s is the first", strings.ReplaceAll(key, "[]", "[0]"))
	}
	if k == nil {
		return nil, fmt.Errorf("no such key%s", didYouMean(row(path)))
	}
	switch {
	case strings.HasPrefix(key, "economics.") || strings.HasPrefix(key, "alternative"):
		return nil, fmt.Errorf("changes the money, not what the line makes")
	case strings.HasPrefix(key, "run."):
		return nil, fmt.Errorf("says how the line is simulated, not how it is")
	case k.kind == text || k.kind == choice || k.kind == flag || k.kind == perRoll || k.kind == texts || k.kind == wholes || k.kind == days || k.kind == shares || k.kind == amounts:
		return nil, fmt.Errorf("is not a number or quantity")
	}
	if parameter == "shape" {
		k = &Key{Path: path, Meaning: k.Meaning + ": shape", Dim: model.Number, kind: number, Kind: string(number)}
		above0(k)
	}
	return k, nil
}

// Read reads one value of the key, written as in the file without its quotes,
// in SI. Share says that a level was given as a share of its capacity.
func (k *Key) Read(text string) (si float64, share bool, err error) {
	v, err := k.read(fromText(text), &data{dir: "."}, 1)
	return v.num(), v.share, err
}

// change lays the overrides over the values of the alternative of a name: what
// was set as if it stood in the file, then the others.
func change(v leaves, name string, overrides []Override, errs *Errors) leaves {
	over := leaves{}
	for i := range overrides {
		o := &overrides[i]
		if o.said != "" || o.Of != "" && o.Of != name {
			continue
		}
		key, parameter := splitParameter(o.Key)
		if rowOf[row(key)] == nil || !v.holds(key) {
			errs.add(0, o.Key, "no such key"+didYouMean(row(o.Key)), "")
			continue
		}
		if usedIn(rowOf[row(key)], key, v) {
			o.lay(key, parameter, v, over)
		}
	}
	return lay(v, over)
}

// lay writes what the override makes of a key into over, which stands over v. It
// is false for an alternative that has nothing to change there.
func (o *Override) lay(key, parameter string, v, over leaves) bool {
	was, given := over[key]
	if !given {
		was, given = v[key]
	}
	law, varies := was.raw.(map[string]any)
	switch {
	case parameter != "" && (!varies || law[parameter] == nil): // an alternative without it
		return false
	case parameter != "":
		law = maps.Clone(law)
		law[parameter] = o.raw(key)
		over[key] = leaf{law, o.line}
	case o.Factor > 0 && given:
		over[key] = leaf{scaled(was.raw, o.Factor), 0}
	case o.Factor <= 0:
		over[key] = leaf{o.raw(key), o.line}
	}
	return true
}

// raw is the value for a key as the file would give it. Text needs no quotes
// when it is set, whatever it looks like.
func (o *Override) raw(key string) any {
	v := fromText(o.Value)
	if k := rowOf[row(key)]; o.said != "" && (k.kind == text || k.kind == choice || k.kind == days) {
		if _, quoted := v.(string); !quoted {
			return o.Value
		}
	}
	return v
}

// usedIn says whether an alternative's kind of roll change uses a key.
func usedIn(k *Key, key string, v leaves) bool {
	if k.UsedBy == "" {
		return true
	}
	kind, _ := v["unwind.change"].raw.(string)
	if strings.HasPrefix(bare(key), "rewind.") {
		kind, _ = v["rewind.change"].raw.(string)
	}
	return among(strings.Split(k.UsedBy, ", "), kind)
}

// SplitQuantity parts a quantity as written into its number and its unit, which
// may be empty; it is false when it does not begin with a number.
func SplitQuantity(text string) (x float64, unit string, ok bool) {
	const spaces = "\t\n\f\r "
	text = strings.TrimLeft(text, spaces)
	number := model.LeadingDigits(text, "._")
	unit = strings.TrimLeft(text[len(number):], spaces)
	if number == "" || strings.Contains(unit, "\n") {
		return 0, "", false
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(number, "_", ""), 64)
	return x, strings.TrimSpace(unit), err == nil
}

// unscaled are the parts of a law that have no unit.
var unscaled = []string{"shape", "dist", "source", "file", "column", "observed"}

// scaled multiplies a raw value by a factor; the shape of a law stays.
func scaled(raw any, factor float64) any {
	switch v := raw.(type) {
	case string:
		x, unit, ok := SplitQuantity(v)
		if !ok {
			return raw
		}
		return strconv.FormatFloat(x*factor, 'g', -1, 64) + " " + unit
	case float64:
		return v * factor
	case int64:
		return float64(v) * factor
	case []any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = scaled(v[i], factor)
		}
		return out
	case map[string]any:
		out := maps.Clone(v)
		for name, x := range v {
			if !among(unscaled, name) {
				out[name] = scaled(x, factor)
			}
		}
		return out
	}
	return raw
}

// Input is one value that an alternative is described by.
type Input struct {
	Key    string
	Dim    model.Dimension
	Text   string     // as it stands in the file
	Dist   model.Dist // SI
	Whole  bool       // a whole number
	Share  bool       // a level given as a share of the capacity
	InFile bool       // its values come from a file of their own, which a change cannot reach
	Bounds [2]float64 // SI, of the value
}

// Inputs lists the numbers and quantities that stand in the scenario and that
// an alternative uses, in the order of the reference.
func (s *Scenario) Inputs(alternative int) []Input {
	v := s.laid[s.Study.Alternatives[alternative].Name]
	line := &s.Study.Alternatives[alternative].Line
	var list []Input
	for _, path := range slices.Sorted(maps.Keys(v)) {
		k, err := Numeric(path)
		if err != nil || v[path].line == 0 || !k.usedIn(path, line) {
			continue
		}
		capacity := line.Unwind.Storage.Capacity
		if strings.HasPrefix(path, "rewind") {
			capacity = line.Rewind.Storage.Capacity
		}
		x, err := k.read(v[path].raw, s.data, capacity)
		if err != nil {
			continue
		}
		list = append(list, Input{Key: path, Dim: k.Dim, Text: asWritten(v[path].raw), Dist: x.dist, Whole: k.kind == integer, Share: x.share, InFile: inFile(v[path].raw), Bounds: k.limits()})
	}
	rank := map[string]int{}
	for i := range table {
		rank[table[i].Path] = i
	}
	slices.SortStableFunc(list, func(a, b Input) int { return rank[row(a.Key)] - rank[row(b.Key)] })
	return list
}

// inFile says whether a law takes its values from a file.
func inFile(raw any) bool {
	law, _ := raw.(map[string]any)
	return law["file"] != nil
}

// limits are the bounds of a value, SI.
func (k *Key) limits() [2]float64 {
	if k.bounded {
		return [2]float64{k.low, k.high}
	}
	return [2]float64{-inf, inf}
}

// asWritten is a raw value as a person would write it.
func asWritten(raw any) string {
	switch v := raw.(type) {
	case string:
		return v
	case map[string]any:
		name, _ := v["dist"].(string)
		law := laws[name]
		params := law.Params
		if name == "gamma" && v["shape"] == nil {
			params = law.Or
		}
		parts := []string{name}
		for _, p := range slices.Concat(params, law.May) {
			x, ok := v[p]
			values, many := x.([]any)
			switch {
			case many && len(values) == 1:
				parts = append(parts, fmt.Sprint(values[0]))
			case many:
				parts = append(parts, fmt.Sprintf("%d values", len(values)))
			case ok:
				parts = append(parts, fmt.Sprintf("%s %v", p, x))
			}
		}
		return strings.Join(parts, ", ")
	case []any:
		parts := make([]string, len(v))
		for i, x := range v {
			parts[i] = fmt.Sprint(x)
		}
		return strings.Join(parts, ", ")
	}
	return fmt.Sprint(raw)
}

// usedIn says whether a line uses the key.
func (k *Key) usedIn(path string, line *model.Line) bool {
	if k.UsedBy == "" {
		return true
	}
	kind := line.Unwind.Change
	if strings.HasPrefix(bare(path), "rewind.") {
		kind = line.Rewind.Change
	}
	return among(strings.Split(k.UsedBy, ", "), kind.String())
}

// Uses says whether some alternative uses the key.
func (s *Scenario) Uses(path string) bool {
	key, _ := splitParameter(path)
	k := rowOf[row(key)]
	for i := range s.Study.Alternatives {
		if k != nil && k.usedIn(key, &s.Study.Alternatives[i].Line) {
			return true
		}
	}
	return false
}

// Varies says whether a key is a distribution in some alternative, and for one
// parameter of it whether one has that.
func (s *Scenario) Varies(path string) bool {
	key, parameter := splitParameter(path)
	for i := range s.Study.Alternatives {
		law, ok := s.laid[s.Study.Alternatives[i].Name][key].raw.(map[string]any)
		if ok && (parameter == "" || law[parameter] != nil) {
			return true
		}
	}
	return false
}

// Again reads the same scenario with more overrides, and of its alternatives
// those that the study still has, in its order.
func (s *Scenario) Again(overrides ...Override) (*Scenario, error) {
	var names []string
	for i := range s.Study.Alternatives {
		names = append(names, s.Study.Alternatives[i].Name)
	}
	again, err := s.text.parse(s.Name, s.Text, s.data, names, append(slices.Clone(s.overrides), overrides...))
	if err != nil {
		return again, err
	}
	in := make([]model.Alternative, len(names)) // their order
	for _, a := range again.Study.Alternatives {
		in[slices.Index(names, a.Name)] = a
	}
	again.Study.Alternatives = in
	return again, nil
}
