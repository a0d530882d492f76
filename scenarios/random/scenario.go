package random

import (
	"maps"
	"regexp"
	"slices"

	"rollchange/scenarios"
)

// Scenario is a scenario as keys and their values: paths as in the key table
// with the number of the element where it has [], after "alternative[0]." where
// an alternative lays a value over the base.
type Scenario struct {
	Seed   uint64
	Values map[string]Value // not to be changed: With makes another

	parsed *scenarios.Scenario // once it was read
	err    error
}

// row says which row of the key table a path is of.
var (
	numbered = regexp.MustCompile(`\[\d+\]`)
	overlaid = regexp.MustCompile(`^(alternative|product)\[\d+\]\.`)
	rows     = func() map[string]*scenarios.Key {
		m := map[string]*scenarios.Key{}
		keys := scenarios.Keys()
		for i := range keys {
			m[keys[i].Path] = &keys[i]
		}
		return m
	}()
)

// row is the row of the key table that says what the path holds; nil for none.
func row(path string) *scenarios.Key { return rows[rowOf(path)] }

// rowOf is the path of that row: of a key that an alternative or a product has of its
// own, that of the line's.
func rowOf(path string) string {
	if own := numbered.ReplaceAllString(path, "[]"); rows[own] != nil {
		return own
	}
	return numbered.ReplaceAllString(overlaid.ReplaceAllString(path, ""), "[]")
}

// With returns a copy with some values changed; a Value without anything in it
// takes the key away.
func (s *Scenario) With(changes map[string]Value) *Scenario {
	c := &Scenario{Seed: s.Seed, Values: maps.Clone(s.Values)}
	for path, v := range changes {
		if v.Word == "" && len(v.Nums) == 0 {
			delete(c.Values, path)
		} else {
			c.Values[path] = v
		}
	}
	return c
}

// paths are the keys that are given, in order.
func (s *Scenario) paths() []string { return slices.Sorted(maps.Keys(s.Values)) }

// Parse reads the scenario from its own text, once.
func (s *Scenario) Parse() (*scenarios.Scenario, error) {
	if s.parsed == nil && s.err == nil {
		s.parsed, s.err = scenarios.Parse("drawn.toml", []byte(s.Text()), ".")
	}
	return s.parsed, s.err
}
