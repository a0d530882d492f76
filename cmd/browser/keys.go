package main

import (
	"rollchange/model/legible"
	"rollchange/scenarios"
)

// keys are those of a scenario that a word leads to, all without one.
func (e *engine) keys(r request) (any, error) {
	list := []object{}
	for _, k := range scenarios.Find(r.text("find")) {
		list = append(list, object{{"key", k.Path}, {"meaning", k.Meaning}, {"unit", k.Dim.Units()}, {"kind", k.Kind}, {"range", k.Range},
			{"default", k.Default}, {"needed", k.Needed}, {"example", k.Example()}})
	}
	for _, l := range scenarios.FindLaws(r.text("find")) {
		list = append(list, object{{"key", "dist = " + l.Name}, {"meaning", l.Meaning}, {"unit", ""}, {"kind", "distribution"}, {"range", ""}, {"default", ""}, {"needed", ""}, {"example", l.Example()}})
	}
	return list, nil
}

// shipped are the scenarios that the tool has, or the text of one.
func (e *engine) shipped(r request) (any, error) {
	name := r.text("name")
	list := []object{}
	for _, t := range scenarios.Templates() {
		if t.Name == name {
			return object{{"text", string(t.Text)}}, nil
		}
		list = append(list, object{{"name", t.Name}, {"title", t.Title}})
	}
	if name != "" {
		return nil, &unknown{name}
	}
	return list, nil
}

type unknown struct{ name string }

func (u *unknown) Error() string { return "no scenario is called " + legible.Quote(u.name) }
