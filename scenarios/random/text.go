package random

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// section is one table of the text: its values, the tables in it, and the arrays
// of tables, each in the order in which they are written.
type section struct {
	values []string
	tables map[string]*section
	arrays map[string][]*section
	at     map[string]*section // elements of the arrays, by name and number
}

func newSection() *section {
	return &section{tables: map[string]*section{}, arrays: map[string][]*section{}, at: map[string]*section{}}
}

// child is the table that one part of a path leads to: "stop[1]", "unwind".
// The numbers only tell elements apart, so that one may be left out.
func (t *section) child(part string) *section {
	name, _, element := strings.Cut(part, "[")
	if element {
		if t.at[part] == nil {
			t.at[part] = newSection()
			t.arrays[name] = append(t.arrays[name], t.at[part])
		}
		return t.at[part]
	}
	if t.tables[name] == nil {
		t.tables[name] = newSection()
	}
	return t.tables[name]
}

// Text is the scenario as TOML.
func (s *Scenario) Text() string {
	root := newSection()
	for _, path := range s.paths() {
		parts := strings.Split(path, ".")
		at := root
		for _, part := range parts[:len(parts)-1] {
			at = at.child(part)
		}
		at.values = append(at.values, parts[len(parts)-1]+" = "+s.Values[path].Text())
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# drawn by scenarios/random, seed %d\n", s.Seed)
	root.write(&b, "")
	return b.String()
}

func (t *section) write(b *strings.Builder, name string) {
	for _, v := range t.values {
		b.WriteString(v + "\n")
	}
	dot := ""
	if name != "" {
		dot = name + "."
	}
	for _, n := range slices.Sorted(maps.Keys(t.tables)) {
		if len(t.tables[n].values) > 0 {
			fmt.Fprintf(b, "[%s]\n", dot+n)
		}
		t.tables[n].write(b, dot+n)
	}
	for _, n := range slices.Sorted(maps.Keys(t.arrays)) {
		for _, x := range t.arrays[n] {
			fmt.Fprintf(b, "[[%s]]\n", dot+n)
			x.write(b, dot+n)
		}
	}
}
