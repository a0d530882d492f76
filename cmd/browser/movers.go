package main

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/scenarios"
)

// moversOf are what can be moved: what is asked for, else what the scenario names, else
// what usually moves an answer; and always the prices.
func moversOf(s *scenarios.Scenario, vary []string) ([]*scenarios.Mover, error) {
	var list []*scenarios.Mover
	if len(vary) == 0 {
		vary = s.Study.Live
	}
	for _, v := range vary {
		more, err := s.ParseMovers(v)
		if err != nil {
			return nil, err
		}
		list = append(list, more...)
	}
	if len(list) == 0 {
		list = s.UsualMovers()
	}
	return append(list, s.Prices(list)...), nil
}

// mover finds what a key moves, of those that the page shows or any other.
func (o *opened) mover(key string) (*scenarios.Mover, error) {
	for _, m := range o.movers {
		if m.Key == key {
			return m, nil
		}
	}
	return o.file.MoverOf(key)
}

func (o *opened) moverJSON(m *scenarios.Mover) object {
	j := object{{"key", m.Key}, {"label", o.label(m)}, {"group", o.group(m)}, {"unit", o.unit(m)}, {"value", m.Value}, {"text", o.text(m, m.Value)},
		{"from", m.From}, {"to", m.To}, {"step", m.Step}, {"money", money(m)}, {"decimals", max(decimals(m.Value), decimals(m.Step))}}
	if m.Law {
		j = append(j, field{"distribution", legible.Line(m.Text)})
	}
	return j
}

// label is what a mover is called, with the name of the stop, duty or group it belongs to.
func (o *opened) label(m *scenarios.Mover) string {
	if rest, ok := strings.CutPrefix(m.Path, "product["); ok { // its group says of which
		_, rest, _ = strings.Cut(rest, "].")
		return where(m, words.KeyWords(rest))
	}
	return where(m, words.KeyOf(m.Path, o.file.NameOf(m.Path)))
}

// choice is a mover in a list of all, with its group where that is not the line.
func (o *opened) choice(m *scenarios.Mover) string {
	if _, name, ok := strings.Cut(o.group(m), " "); ok {
		return name + ": " + o.label(m)
	}
	return o.label(m)
}

// where adds the value that a mover is for where others have another.
func where(m *scenarios.Mover, label string) string {
	if len(m.Of) > 1 {
		return fmt.Sprintf("%s where it is %s", label, legible.Line(m.Text))
	}
	return label
}

// group is where a mover stands on the page.
func (o *opened) group(m *scenarios.Mover) string {
	switch {
	case len(m.Of) == 1:
		return "alternative " + legible.Line(m.Of[0])
	case strings.HasPrefix(m.Path, "product["):
		return "product " + legible.Line(o.file.NameOf(m.Path))
	case strings.HasPrefix(m.Path, "economics."):
		return "price"
	}
	return "line"
}

// money says whether a mover changes no line, and so nothing is simulated for it.
func money(m *scenarios.Mover) bool {
	return strings.HasPrefix(m.Path, "economics.") || strings.HasPrefix(m.Path, "alternative")
}

// unit is that of a mover for people: a price has the currency.
func (o *opened) unit(m *scenarios.Mover) string {
	switch m.Row.Dim {
	case model.Money, model.MoneyPerYear, model.MoneyPerArea, model.MoneyPerMass, model.MoneyPerHour, model.MoneyPerMetre:
		name := m.Unit.Name
		if name == "" {
			name = m.Row.Dim.Usual().Name
		}
		return o.currency() + name
	case model.Years:
		return "years"
	}
	return m.Unit.Name
}

// text is a value of a mover with its unit.
func (o *opened) text(m *scenarios.Mover, value float64) string {
	return words.Written(strings.TrimSpace(strconv.FormatFloat(value, 'f', -1, 64) + " " + o.unit(m)))
}

// decimals is how many a value has, six at most.
func decimals(x float64) int {
	_, after, _ := strings.Cut(strconv.FormatFloat(x, 'f', -1, 64), ".")
	return min(6, len(after))
}

// asWritten is a value of a field as a file would have it: without the currency, which
// no price of a file has.
func (o *opened) asWritten(m *scenarios.Mover, text string) string {
	text = strings.TrimSpace(text)
	if i := strings.Index(text, o.currency()); i > 0 && o.unit(m) != m.Unit.Name && o.currency() != "" {
		text = strings.TrimSpace(text[:i]) + " " + strings.TrimSpace(text[i+len(o.currency()):])
		if x, unit, ok := scenarios.SplitQuantity(text); ok && m.Unit.Name == "" && unit == strings.TrimPrefix(o.unit(m), o.currency()) {
			text = strconv.FormatFloat(x, 'g', -1, 64)
		}
	}
	return strings.TrimSpace(text)
}
