package scenarios

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/cells"
)

// Scenario is a scenario that was read: the study, and what it was read from.
type Scenario struct {
	Name     string // of the file, or "standard input"
	Text     []byte
	Study    model.Study
	Sources  map[string]string // the source notes, by table
	Warnings []Warning

	data      *data             // files that it is read from
	text      *decoded          // Text as TOML
	overrides []Override        // laid over the text
	laid      map[string]leaves // the values of each alternative, by its name
	own       map[string]leaves // those that stand in the alternative itself
	place     map[string]int    // of each alternative in the file, by its name
}

// Files says which files a scenario may name.
type Files struct {
	Anywhere bool // also outside its own folder

	// Workbook reads a sheet of a workbook, the first where it has no name; nil: none
	// can be read.
	Workbook func(name string, data []byte, sheet string) (*cells.Table, error)

	// Held are the files that there are, by the name that a scenario gives them, where none
	// can be read from a disk; nil: they are read.
	Held map[string][]byte
}

// Load reads a scenario from a file, "-" from stdin, that may name these files.
// Errors are one line for a file that cannot be read, or *Errors for what is
// wrong inside.
func (a Files) Load(path string, stdin io.Reader, overrides ...Override) (*Scenario, error) {
	if path == "-" {
		text, err := io.ReadAll(io.LimitReader(stdin, largest+1))
		if err != nil {
			return nil, fmt.Errorf("standard input: cannot be read")
		}
		return parse("standard input", text, &data{dir: ".", anywhere: a.Anywhere, current: true, workbook: a.Workbook}, overrides)
	}
	shown := legible.Visible(path)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such file", shown)
	case err != nil:
		return nil, fmt.Errorf("%s: cannot be read", shown)
	case info.IsDir():
		return nil, fmt.Errorf("%s: is a folder, not a scenario file", shown)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read", shown)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, largest+1))
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read", shown)
	}
	return parse(path, text, &data{dir: filepath.Dir(path), anywhere: a.Anywhere, workbook: a.Workbook}, overrides)
}

// Parse reads a scenario from its text, which may name these files.
func (a Files) Parse(name string, text []byte, overrides ...Override) (*Scenario, error) {
	return parse(name, text, &data{dir: ".", anywhere: a.Anywhere, current: true, workbook: a.Workbook, held: a.Held}, overrides)
}

// Files are the files that the scenario was read from, beside its own text.
func (s *Scenario) Files() []File { return s.data.files }

// Parse reads a scenario from its text. name stands in messages, files are
// looked for in dir. The error is *Errors, with everything that is wrong.
func Parse(name string, text []byte, dir string, overrides ...Override) (*Scenario, error) {
	return parse(name, text, &data{dir: dir}, overrides)
}

// build makes the study of a decoded text.
func (s *Scenario) build(r *reader, raw map[string]any, only []string, overrides []Override) {
	base := leaves{}
	raw = maps.Clone(raw) // it is read again with other changes
	alternatives, _ := tablesOf(raw["alternative"])
	if _, given := raw["alternative"]; given && len(alternatives) == 0 {
		r.errs.add(r.at.lineOf("alternative"), "alternative", "must be a list of tables", "[[alternative]]")
	}
	if n := len(alternatives); n > mostAlternatives {
		r.errs.add(r.at.lineOf("alternative"), "alternative", fmt.Sprintf("%d of them: at most %d", n, mostAlternatives), "")
		alternatives = alternatives[:mostAlternatives]
	}
	delete(raw, "alternative")
	r.flatten(raw, address{}, base)

	b := &builder{s: s, r: r}
	sets := newSettings(alternatives, overrides, r.errs)
	laid := func(v leaves, name string) leaves { return change(sets.lay(v, name), name, overrides, r.errs) }
	if len(alternatives) == 0 {
		b.alternative(laid(base, "base"), "base", r.at)
	}
	seen := map[string]int{}
	for i, m := range alternatives {
		m = maps.Clone(m)
		where := fmt.Sprintf("alternative[%d]", i)
		own := leaves{}
		for _, name := range OfAlternative() {
			if v, ok := m[name]; ok {
				own["alternative[]."+name] = leaf{v, r.at.lineOf(where + "." + name)}
				delete(m, name)
			}
		}
		r.flatten(m, address{where: where}, own)
		given := own["alternative[].name"]
		name, text := given.raw.(string)
		if !text && given.line != 0 {
			// it is told that the name is no text
		} else if strings.TrimSpace(name) == "" {
			r.errs.add(r.at.lineOf(where), where, "needs a name", `name = "by hand as today"`)
		} else if what := badName(name); what != "" {
			r.errs.add(given.line, where+".name", what, `name = "by hand as today"`)
		} else if line, twice := seen[legible.Line(name)]; twice {
			r.errs.add(given.line, where+".name", fmt.Sprintf("%s is also the name of the alternative at line %d", legible.Quote(name), line), "another name")
		}
		seen[legible.Line(name)], s.own[name], s.place[name] = r.at.lineOf(where), own, i
		if len(only) > 0 && !among(only, name) {
			continue
		}
		b.alternative(laid(lay(base, own), name), name, r.at)
	}
	for _, o := range overrides {
		if key, parameter := splitParameter(o.Key); parameter != "" && o.said == "" && !s.Varies(o.Key) {
			r.errs.add(0, o.Key, fmt.Sprintf("%s is not a distribution with a %s", key, parameter), "")
		}
	}
	b.records(laid(base, "base"), s.names())
	if len(only) == 0 && len(overrides) == 0 { // what was set may leave nothing to move
		b.live(base)
	}
	b.unused()
	s.Warnings = append(sets.unused(len(only) == 0), b.warnings...)
}

// builder reads alternatives one after another.
type builder struct {
	s        *Scenario
	r        *reader
	warnings []Warning
	used     map[string]bool   // given keys that some alternative's kind uses
	lines    map[string]int    // given keys that not all kinds use, and their lines
	before   map[string]string // what was given in place of what such a key says
}

// alternative reads the values of one alternative into the study.
func (b *builder) alternative(v leaves, name string, at positions) {
	b.s.laid[name] = v
	study := &b.s.Study
	study.Alternatives = append(study.Alternatives, model.Alternative{Name: name})
	alt := &study.Alternatives[len(study.Alternatives)-1]
	t := &target{study: study, alt: alt, given: make(map[string]bool, len(table)), share: map[string]float64{}}
	c := &checker{t: t, v: v, at: at, errs: b.r.errs, several: name != "base", name: name}
	b.line(v, t, c)
	if len(study.Alternatives) == 1 { // it belongs to the study: read once
		b.elements("sweep", v, func() {
			study.Sweeps = append(study.Sweeps, model.SweepOf{})
			t.sweep = &study.Sweeps[len(study.Sweeps)-1]
		}, t)
		b.elements("live", v, func() {
			study.Live = append(study.Live, "")
			t.live = &study.Live[len(study.Live)-1]
		}, t)
		b.elements("records.cause", v, func() {
			study.Recorded.Causes = append(study.Recorded.Causes, model.RecordedCause{})
			t.cause = &study.Recorded.Causes[len(study.Recorded.Causes)-1]
		}, t)
	}
	b.note(t, v)
	c.rules()
	b.products(t, v, c)
	b.orders(t, v, c)
}

// line reads the values of a line: of an alternative, or of one of its products.
func (b *builder) line(v leaves, t *target, c *checker) {
	alt := t.alt
	alt.Line.Rewind.MaxSplices = -1
	for i := range table {
		k := &table[i]
		if strings.Contains(k.Path, "[]") && !strings.HasPrefix(k.Path, "alternative[]") {
			continue
		}
		b.read(k, k.Path, v, t)
		if k.Path == "unwind.storage.travel" || k.Path == "rewind.storage.travel" {
			c.capacity(strings.TrimSuffix(k.Path, ".travel"))
		}
	}
	b.elements("stop", v, func() {
		alt.Line.Stops = append(alt.Line.Stops, model.Stop{})
		t.stop = &alt.Line.Stops[len(alt.Line.Stops)-1]
	}, t)
	b.elements("crew.duty", v, func() {
		alt.Line.Crew.Duties = append(alt.Line.Crew.Duties, model.Duty{})
		t.duty = &alt.Line.Crew.Duties[len(alt.Line.Crew.Duties)-1]
	}, t)
	b.elements("crew.break", v, func() {
		alt.Line.Crew.Breaks = append(alt.Line.Crew.Breaks, model.Break{})
		t.pause = &alt.Line.Crew.Breaks[len(alt.Line.Crew.Breaks)-1]
	}, t)
	b.elements("changeover.between", v, func() {
		t.pairs = append(t.pairs, pairRead{})
		t.pair = &t.pairs[len(t.pairs)-1]
	}, t)
	b.elements("changeover.when", v, func() {
		t.whens = append(t.whens, model.When{})
		t.when = &t.whens[len(t.whens)-1]
	}, t)
	b.elements("crew.group", v, func() {
		alt.Line.Crew.Groups = append(alt.Line.Crew.Groups, model.Group{})
		t.group = &alt.Line.Crew.Groups[len(alt.Line.Crew.Groups)-1]
	}, t)
}

func (b *builder) elements(name string, v leaves, next func(), t *target) {
	n, _ := v[name].raw.(int)
	of := name + "[]."
	for i := range n {
		next()
		prefix := fmt.Sprintf("%s[%d].", name, i)
		for j := range table {
			k := &table[j]
			if rest, ok := strings.CutPrefix(k.Path, of); ok {
				b.read(k, prefix+rest, v, t)
			}
		}
	}
}

// read reads the value of one key, or its default.
func (b *builder) read(k *Key, path string, v leaves, t *target) {
	l, given := v[path]
	t.given[path] = given
	if !given {
		if k.Default == "" {
			return
		}
		l = leaf{fromText(k.Default), 0}
	}
	capacity := 0.0
	if k.kind == level {
		capacity = t.line().Unwind.Storage.Capacity
		if strings.HasPrefix(k.Path, "rewind") {
			capacity = t.line().Rewind.Storage.Capacity
		}
	}
	x, err := k.read(l.raw, b.s.data, capacity)
	for _, note := range b.s.data.told() {
		b.warn(Warning{l.line, path, note})
	}
	if err != nil {
		write := k.write(l.raw, t.study.Units)
		var inFile *fileError
		if errors.As(err, &inFile) {
			write = inFile.write
		}
		b.r.errs.add(l.line, path, sayOf(err, t.study.Units), write)
		return
	}
	k.set(t, x)
}

// warn warns once, however many alternatives use the value.
func (b *builder) warn(w Warning) {
	if !slices.Contains(b.warnings, w) {
		b.warnings = append(b.warnings, w)
	}
}

// sayOf is an error in words, for people who write the units of a system; how to write it
// right follows on a line of its own.
func sayOf(err error, system model.System) string {
	var q *model.QuantityError
	if errors.As(err, &q) {
		return strings.Replace(err.Error(), q.Error(), q.In(system), 1)
	}
	return err.Error()
}

// note remembers which given keys the kinds of this alternative use.
func (b *builder) note(t *target, v leaves) {
	if b.used == nil {
		b.used, b.lines, b.before = map[string]bool{}, map[string]int{}, map[string]string{}
	}
	for path, l := range v {
		k := rowOf[row(path)]
		if k == nil || l.line <= 0 || k.UsedBy == "" && !strings.HasPrefix(path, "unwind.splice.") {
			continue
		}
		b.lines[path] = l.line
		if !k.usedIn(path, t.line()) {
			continue
		}
		b.before[path] = goesBefore(path, t)
		b.used[path] = b.used[path] || b.before[path] == ""
	}
}

// unused warns of keys that no alternative's kind of roll change uses.
func (b *builder) unused() {
	for path, line := range b.lines {
		switch {
		case b.used[path]:
		case b.before[path] != "":
			b.warnings = append(b.warnings, Warning{line, path, "is not used: " + b.before[path]})
		default:
			b.warnings = append(b.warnings, Warning{line, path, "is not used: it is for " + rowOf[row(path)].UsedBy})
		}
	}
	sort.Slice(b.warnings, func(i, j int) bool {
		if x, y := b.warnings[i], b.warnings[j]; x.Line != y.Line {
			return x.Line < y.Line
		} else {
			return x.Key < y.Key
		}
	})
}

// names are those of all alternatives of the file, in its order; "base" where it has none.
func (s *Scenario) names() []string {
	if len(s.place) == 0 {
		return []string{"base"}
	}
	return slices.SortedFunc(maps.Keys(s.place), func(a, b string) int { return s.place[a] - s.place[b] })
}
