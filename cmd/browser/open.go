package main

import (
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

// mostLines is how many lines of alternatives are kept with their replications; one takes
// half a megabyte.
const mostLines = 24

// opened is a scenario as the page works on it.
type opened struct {
	name   string
	file   *scenarios.Scenario // as it was read
	movers []*scenarios.Mover
	sets   []set               // what is moved
	now    *scenarios.Scenario // with that, and the alternatives that are on
	steps  *replicate.Steps
	orders *plan.Steps // nil: no list of orders
}

// openScenario reads a scenario and says what can be moved in it.
func (e *engine) openScenario(r request) (any, error) {
	name := legible.Line(r.text("name"))
	if name == "" {
		name = "line.toml"
	}
	held, err := filesOf(r)
	if err != nil {
		return nil, err
	}
	s, err := scenarios.Files{Held: held}.Parse(name, []byte(r.text("text")))
	if wrong := (*scenarios.Errors)(nil); errors.As(err, &wrong) {
		return object{{"problems", problemsOf(wrong)}, {"more", wrong.More}}, nil
	} else if err != nil {
		return nil, err
	}
	o := &opened{name: name, file: s}
	if o.movers, err = moversOf(s, r.texts("vary")); err != nil {
		return nil, err
	}
	e.open = o
	if e.shelf == nil {
		e.shelf, e.plans = replicate.NewShelf(mostLines), plan.NewShelf(mostLines)
	}
	var warnings []string
	for _, w := range s.Warnings {
		warnings = append(warnings, w.String())
	}
	var alternatives, movers, choices []object
	for i := range s.Study.Alternatives {
		alternatives = append(alternatives, object{{"name", s.Study.Alternatives[i].Name}, {"on", true}})
	}
	for _, m := range o.movers {
		movers = append(movers, o.moverJSON(m))
	}
	for _, m := range s.OtherMovers(o.movers) {
		choices = append(choices, object{{"key", m.Key}, {"label", o.choice(m)}, {"unit", o.unit(m)}})
	}
	title := s.Study.Title
	if title == "" {
		title = name
	}
	return object{
		{"title", legible.Line(title)}, {"units", string(s.Study.Units)}, {"currency", o.currency()},
		{"alternatives", alternatives}, {"movers", movers}, {"choices", choices},
		{"replications", s.Study.Run.Replications}, {"orders", s.Study.Listed()}, {"warnings", warnings},
	}, nil
}

// filesOf are the files that a scenario may name, by name, in base64.
func filesOf(r request) (map[string][]byte, error) {
	given, _ := r["files"].(map[string]any)
	files := map[string][]byte{}
	for name, text := range given {
		s, _ := text.(string)
		data, err := base64.StdEncoding.DecodeString(s)
		if err != nil {
			return nil, fmt.Errorf("the file %s of the page cannot be read", legible.Quote(name))
		}
		files[name] = data
	}
	return files, nil
}

func (o *opened) currency() string {
	return words.Shorten(legible.Line(o.file.Study.Alternatives[0].Line.Economics.Currency), 12)
}

// problemsOf is what is wrong with a scenario, each with its line.
func problemsOf(e *scenarios.Errors) []object {
	var list []object
	for _, p := range e.Problems {
		source, column := "", 0
		if p.Line > 0 && p.Line <= len(e.Text) {
			source = e.Text[p.Line-1]
			column = 1 + len(source) - len(strings.TrimLeft(source, " \t"))
		}
		list = append(list, object{{"line", max(0, p.Line)}, {"column", column}, {"key", legible.Visible(p.Key)}, {"message", legible.Visible(p.What)}, {"fix", p.Write}, {"source", legible.Short(strings.ReplaceAll(source, "\t", " "))}})
	}
	return list
}
