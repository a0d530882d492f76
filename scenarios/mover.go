package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
)

// Mover is a key whose value somebody moves between two ends to see what the answer
// does: a number, a quantity, or a distribution as a whole, whose mean is moved and
// whose shape stays.
type Mover struct {
	Key   string   // as MoverOf takes it
	Path  string   // of the value, elements by their number: "stop[0].every"
	Of    []string // the alternatives that it is for; empty: all that use it
	Row   *Key
	Value float64    // what stands in the scenario, in Unit; of a distribution its mean, to five digits
	Unit  model.Unit // in which it is moved
	Text  string     // what stands in the scenario, as it is written
	Whole bool       // a whole number
	Law   bool       // a distribution

	// The ends and the steps between them, in Unit. Where nobody gave the ends a number of
	// steps leads from the value to each.
	From, To, Step float64

	raw   any
	given bool    // it stands there, and is no default
	mean  float64 // SI, of a distribution
	data  *data
	units model.System // of the scenario
}

// notMoved are tables that say nothing of the line or its prices.
var notMoved = []string{"run.", "sweep[", "records.", "orders.", "live["}

// MoverOf finds what a key stands at, a key as it is given to --set. Where alternatives
// have values of their own, "line.speed@2" is for those that have the second of them. The
// ends are near the value; Between gives it others.
func (s *Scenario) MoverOf(key string) (*Mover, error) {
	key = strings.TrimSpace(key)
	name, which := key, 0
	if i := strings.LastIndexByte(key, '@'); i > strings.LastIndexByte(key, ']') {
		n, err := strconv.Atoi(key[i+1:])
		if err != nil || n < 1 {
			return nil, errors.New("which of its values is a number after the @, from 1")
		}
		name, which = key[:i], n
	}
	x, err := s.named(name)
	if err != nil {
		return nil, err
	}
	bare, parameter := splitParameter(nameless(x.Key))
	m := &Mover{Key: key, Row: rowOf[bare], data: s.data, units: s.Study.Units}
	switch {
	case parameter != "":
		return nil, fmt.Errorf("is one parameter of a distribution, which is moved as a whole: write %s", strings.TrimSuffix(key, "."+parameter))
	case slices.ContainsFunc(notMoved, func(t string) bool { return strings.HasPrefix(bare, t) }):
		return nil, errors.New("says nothing of the line or its prices")
	case !m.Row.moves():
		return nil, errors.New("is not a number or quantity")
	}
	groups, some, err := s.standing(m, x)
	switch {
	case err != nil:
		return nil, err
	case len(groups) == 0 && m.Row.UsedBy != "":
		return nil, fmt.Errorf("no alternative uses it: it is for %s", m.Row.UsedBy)
	case len(groups) == 0:
		return nil, errors.New("is not in the scenario, so there is nothing to move")
	case which > len(groups):
		return nil, fmt.Errorf("has no value %d in the scenario", which)
	case which == 0 && len(groups) > 1:
		return nil, fmt.Errorf("is not the same in all alternatives: say of which, alternative[%s].%s", groups[0].of[0], x.Key)
	}
	g := groups[max(0, which-1)]
	m.Path, m.raw, m.given = g.path, g.raw, g.given
	if which > 0 || some || x.Of != "" {
		m.Of = g.of
	}
	if err := m.stand(); err != nil {
		return nil, err
	}
	m.near()
	return m, nil
}

// standsAt is a value of a key, and the alternatives that have it.
type standsAt struct {
	path  string
	raw   any
	given bool
	of    []string
}

// standing are the values of a key in the alternatives that use it, or in the one that it
// is for, each value once; some says that an alternative that uses it has none.
func (s *Scenario) standing(m *Mover, x *setting) (groups []standsAt, some bool, err error) {
	for i := range s.Study.Alternatives {
		a := &s.Study.Alternatives[i]
		if x.Of != "" && x.Of != a.Name {
			continue
		}
		v := s.laid[a.Name]
		path, what := v.numbered(x.Key)
		if what != "" {
			return nil, false, errors.New(what)
		}
		l, given := v[path]
		if rest, ok := strings.CutPrefix(row(path), "product[]."); ok && !given { // as the line has it
			l, given = v[rest]
			l.line = 0
		}
		if !given && m.Row.Default != "" {
			l, given = leaf{fromText(m.Row.Default), 0}, true
		}
		if !usedIn(m.Row, path, v) {
			continue
		}
		if !given { // the alternative does without
			some = true
			continue
		}
		at := slices.IndexFunc(groups, func(g standsAt) bool { return g.path == path && asWritten(g.raw) == asWritten(l.raw) })
		if at < 0 {
			at = len(groups)
			groups = append(groups, standsAt{path: path, raw: l.raw})
		}
		groups[at].given = groups[at].given || l.line != 0
		groups[at].of = append(groups[at].of, a.Name)
	}
	return groups, some, nil
}

// moves says whether the values of a key can be moved.
func (k *Key) moves() bool {
	switch k.kind {
	case quantity, varying, level, number, vnumber, integer:
		return !strings.HasSuffix(k.Path, "observed")
	}
	return false
}

// stand reads what stands in the scenario.
func (m *Mover) stand() error {
	m.Text, m.Whole = asWritten(m.raw), m.Row.kind == integer
	x, err := m.Row.read(m.raw, m.data, 1)
	if err != nil {
		return err
	}
	if law, ok := m.raw.(map[string]any); ok {
		switch m.Law, m.mean = true, x.dist.Mean(); {
		case inFile(m.raw):
			return errors.New("its values come from a file")
		case m.mean == 0:
			return errors.New("has a mean of 0, which cannot be scaled")
		}
		m.Unit = m.Row.unitIn(law)
		m.Value = rounded(m.Unit.From(m.mean), 5)
		return nil
	}
	text, _ := m.raw.(string)
	value, unit, ok := SplitQuantity(text)
	if !ok { // a number alone
		value, _ = toFloat(m.raw)
		m.Unit = model.Unit{SI: 1}
	} else if m.Unit = m.Row.unitOf(unit); x.share {
		m.Unit = model.Unit{Name: "%", SI: 0.01}
	}
	m.Value = value
	return nil
}

// unitOf is a unit that a value of the key is written in.
func (k *Key) unitOf(name string) model.Unit {
	if u, ok := model.UnitOf(name, k.Dim); ok && name != "" {
		return u
	}
	return model.Unit{SI: 1}
}

// unitIn is the unit of the first parameter of a law that has one.
func (k *Key) unitIn(law map[string]any) model.Unit {
	for _, p := range parameters {
		text, _ := law[p].(string)
		if _, unit, ok := SplitQuantity(text); ok && unit != "" {
			return k.unitOf(unit)
		}
	}
	if values, ok := law["values"].([]any); ok && len(values) > 0 {
		text, _ := values[0].(string)
		_, unit, _ := SplitQuantity(text)
		return k.unitOf(unit)
	}
	return model.Unit{SI: 1}
}

// TextOf is a value in the unit of the mover, as it is written.
func (m *Mover) TextOf(value float64) string {
	return strings.TrimSpace(strconv.FormatFloat(value, 'f', -1, 64) + " " + m.Unit.Name)
}

// Read reads a value as a person gives it: a number in the unit of the mover, a quantity,
// or a distribution where the key may have one. It returns the value in the unit of the
// mover, of a distribution its mean, and what would stand in the file. The error says
// what the reader of the file says, and write how to write it right.
func (m *Mover) Read(text string) (value float64, said, write string, err error) {
	text = strings.TrimSpace(text)
	if m.Unit.Name != "" && text != "" && model.LeadingNumber(text, ".") == text {
		text += " " + m.Unit.Name // without one it can only be that of the field
	}
	raw := fromText(text)
	x, err := m.Row.read(raw, m.data, 1)
	if err != nil {
		return 0, "", m.Row.write(raw, m.units), errors.New(sayOf(err, m.units))
	}
	mean := x.dist.Mean()
	value = rounded(m.Unit.From(mean), 12)
	if _, law := raw.(map[string]any); law || !m.Law {
		return value, text, "", nil
	}
	return value, m.moved(mean), "", nil
}

// moved is the distribution with another mean, SI, as it is written.
func (m *Mover) moved(mean float64) string {
	law, _ := m.raw.(map[string]any)
	if rounded(m.Unit.From(mean), 5) == m.Value {
		return inTOML(law)
	}
	return inTOML(scaled(law, mean/m.mean))
}

// Set are the changes to a value as a person gives it, one for each alternative that the
// mover is for, or one for all.
func (m *Mover) Set(text string) ([]Override, error) {
	_, said, _, err := m.Read(text)
	if err != nil {
		return nil, err
	}
	o := Override{Key: m.Path, Value: said, said: m.Key + " = " + said}
	if len(m.Of) == 0 {
		return []Override{o}, nil
	}
	var list []Override
	for _, name := range m.Of {
		o.Of = name
		list = append(list, o)
	}
	return list, nil
}
