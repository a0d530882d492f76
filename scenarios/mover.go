package scenarios

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
)

// Mover is a key whose value somebody moves between two ends to see what the answer
// does: a number, a quantity, or a distribution as a whole, whose mean is moved and
// whose shape stays.
type Mover struct {
	Key   string // as ParseSet takes it
	Path  string // of the value, elements by their number: "stop[0].every"
	Of    string // the alternative that it is for alone; empty: all that use it
	Row   *Key
	Value float64    // what stands in the scenario, in Unit; of a distribution its mean, to five digits
	Unit  model.Unit // in which it is moved
	Text  string     // what stands in the scenario, as it is written
	Whole bool       // a whole number
	Law   bool       // a distribution

	// The ends and the steps between them, in Unit. A step leads from the value to the
	// ends, so that it can be met again.
	From, To, Step float64

	raw  any
	mean float64 // SI, of a distribution
	data *data
}

// notMoved are tables that say nothing of the line or its prices.
var notMoved = []string{"run.", "sweep[", "records.", "orders.", "live["}

// MoverOf finds what a key stands at, a key as it is given to --set. The ends are near
// the value; Between gives it others.
func (s *Scenario) MoverOf(key string) (*Mover, error) {
	x := &setting{Override: Override{Key: strings.TrimSpace(key)}}
	var names []string
	if len(s.place) > 0 {
		names = s.names()
	}
	if what, _ := x.find(names); what != "" {
		return nil, errors.New(what)
	}
	bare, parameter := splitParameter(nameless(x.Key))
	m := &Mover{Key: strings.TrimSpace(key), Of: x.Of, Row: rowOf[bare], data: s.data}
	switch {
	case parameter != "":
		return nil, fmt.Errorf("is one parameter of a distribution, which is moved as a whole: write %s", strings.TrimSuffix(key, "."+parameter))
	case slices.ContainsFunc(notMoved, func(t string) bool { return strings.HasPrefix(bare, t) }):
		return nil, errors.New("says nothing of the line or its prices")
	case !m.Row.moves():
		return nil, errors.New("is not a number or quantity")
	}
	found := ""
	for i := range s.Study.Alternatives {
		a := &s.Study.Alternatives[i]
		if x.Of != "" && x.Of != a.Name {
			continue
		}
		v := s.laid[a.Name]
		path, what := v.numbered(x.Key)
		switch {
		case what != "":
			return nil, errors.New(what)
		case !usedIn(m.Row, path, v):
			continue
		}
		l, given := v[path]
		if !given && m.Row.Default != "" {
			l, given = leaf{fromText(m.Row.Default), 0}, true
		}
		switch {
		case !given: // the alternative does without
		case found == "":
			found, m.Path, m.raw = a.Name, path, l.raw
		case asWritten(l.raw) != asWritten(m.raw):
			return nil, fmt.Errorf("is not the same in all alternatives: say of which, alternative[%s].%s", a.Name, x.Key)
		}
	}
	if found == "" && m.Row.UsedBy != "" {
		return nil, fmt.Errorf("no alternative uses it: it is for %s", m.Row.UsedBy)
	} else if found == "" {
		return nil, errors.New("is not in the scenario, so there is nothing to move")
	}
	if err := m.stand(); err != nil {
		return nil, err
	}
	m.near()
	return m, nil
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
		return 0, "", m.Row.write(raw), err
	}
	mean := x.dist.Mean()
	value = m.Unit.From(mean)
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

// Set is the change to a value as a person gives it.
func (m *Mover) Set(text string) (Override, error) {
	_, said, _, err := m.Read(text)
	return Override{Key: m.Path, Of: m.Of, Value: said, said: "--set " + m.Key + "=" + said}, err
}

// Between gives the mover the ends that a person gives, "100 m/min..250 m/min".
func (m *Mover) Between(text string) error {
	from, to, ok := strings.Cut(text, "..")
	if !ok {
		return fmt.Errorf("write KEY=FROM..TO, as in %s=%s..%s", m.Key, m.TextOf(m.From), m.TextOf(m.To))
	}
	var ends [2]float64
	for i, end := range []string{from, to} {
		if _, law := fromText(strings.TrimSpace(end)).(map[string]any); law {
			return errors.New("the ends are values, not distributions")
		}
		x, _, _, err := m.Read(end)
		if err != nil {
			return fmt.Errorf("%s: %w", strings.TrimSpace(end), err)
		}
		ends[i] = x
	}
	if !(ends[0] < ends[1]) {
		return fmt.Errorf("the range runs backwards: %s is not below %s", strings.TrimSpace(from), strings.TrimSpace(to))
	}
	if m.Value < ends[0] || m.Value > ends[1] {
		return fmt.Errorf("the present value, %s, is not in the range", m.TextOf(m.Value))
	}
	m.From, m.To = ends[0], ends[1]
	if m.Step = niceStep(ends[1] - ends[0]); m.Whole {
		m.Step = max(1, math.Round(m.Step))
	}
	return nil
}

// near are the ends of a mover to which nobody gave any: half as much again either way,
// within the range of the key; of a share near all the fivefold of what it falls short.
func (m *Mover) near() {
	low, high := m.Unit.From(m.Row.limits()[0]), m.Unit.From(m.Row.limits()[1])
	reach := math.Abs(m.Value) / 2
	switch {
	case m.Whole:
		reach = max(3, math.Round(reach))
	case m.Unit.Name == "%" && m.Value > 90 && m.Value < 100:
		reach, high = 5*(100-m.Value), min(high, 100)
	case m.Unit.Name == "%":
		high = min(high, 100)
		if m.Value == 100 {
			reach = 10
		}
	}
	if reach == 0 { // what is none may become some: as much as is usual
		reach = m.Unit.From(m.Row.usual())
	}
	m.Step = niceStep(2 * reach)
	if m.Whole {
		m.Step = 1
	}
	steps := func(room float64) float64 { return m.Step * math.Floor(min(reach, room)/m.Step+1e-9) }
	m.From, m.To = rounded(m.Value-steps(m.Value-low), 12), rounded(m.Value+steps(high-m.Value), 12)
	if m.From <= low && m.Row.lowOpen {
		m.From = rounded(m.From+m.Step, 12)
	}
}

// usual is a usual value of the key, SI.
func (k *Key) usual() float64 {
	if x, _, err := k.Read(unquoted(k.Dim.Example())); err == nil && x > 0 {
		return x
	}
	return 1
}

// niceStep is a step of 1, 2 or 5 that goes into a range 50 to 125 times.
func niceStep(span float64) float64 {
	place := math.Pow(10, math.Floor(math.Log10(span/50)))
	for _, n := range []float64{1, 2, 5} {
		if span/(n*place) <= 125 {
			return rounded(n*place, 3)
		}
	}
	return rounded(10*place, 3)
}

// rounded is a figure to so many digits.
func rounded(x float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return r
}

// ParseMover reads "KEY=FROM..TO", or a key alone, whose ends are then near its value.
func (s *Scenario) ParseMover(text string) (*Mover, error) {
	o := ParseSet(text)
	key := o.Key
	if key == "" {
		key = text
	}
	m, err := s.MoverOf(key)
	if err == nil && o.Key != "" {
		err = m.Between(o.Value)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", legible.Short(key), err)
	}
	return m, nil
}
