package main

import (
	"errors"

	"rollchange/model/legible"
)

var errNoScenario = errors.New("no scenario is open")

// check reads one field as the reader of a file does.
func (e *engine) check(r request) (any, error) {
	if e.open == nil {
		return nil, errNoScenario
	}
	m, err := e.open.mover(r.text("key"))
	if err != nil {
		return object{{"ok", false}, {"message", legible.Visible(err.Error())}, {"fix", ""}}, nil
	}
	value, _, write, err := m.Read(e.open.asWritten(m, r.text("value")))
	if err != nil {
		return object{{"ok", false}, {"message", legible.Visible(err.Error())}, {"fix", write}}, nil
	}
	return object{{"ok", true}, {"value", value}, {"text", e.open.text(m, value)}}, nil
}

// anotherMover is a key that is to be moved too, out of the choices.
func (e *engine) anotherMover(r request) (any, error) {
	if e.open == nil {
		return nil, errNoScenario
	}
	m, err := e.open.mover(r.text("key"))
	if err != nil {
		return nil, errors.New(legible.Visible(err.Error()))
	}
	return object{{"mover", e.open.moverJSON(m)}}, nil
}
