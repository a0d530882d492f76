package main

import (
	"fmt"

	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

// engine is what is kept from one request to the next.
type engine struct {
	open  *opened // nil: no scenario
	shelf *replicate.Shelf
	plans *plan.Shelf
}

// request is a request, by its fields.
type request map[string]any

func (r request) text(name string) string {
	s, _ := r[name].(string)
	return s
}

// texts are those of a list; others in it are left out.
func (r request) texts(name string) []string {
	list, _ := r[name].([]any)
	var texts []string
	for _, x := range list {
		if s, ok := x.(string); ok {
			texts = append(texts, s)
		}
	}
	return texts
}

func (r request) number(name string, otherwise float64) float64 {
	if x, ok := r[name].(float64); ok {
		return x
	}
	return otherwise
}

// answers are who answers which request.
var answers = map[string]func(*engine, request) (any, error){
	"open":    (*engine).openScenario,
	"check":   (*engine).check,
	"mover":   (*engine).anotherMover,
	"begin":   (*engine).begin,
	"step":    (*engine).step,
	"answer":  (*engine).answer,
	"save":    (*engine).save,
	"keys":    (*engine).keys,
	"shipped": (*engine).shipped,
}

// ask answers a request. Whatever goes wrong is told in the reply.
func (e *engine) ask(text string) (reply string) {
	defer func() {
		if x := recover(); x != nil {
			reply = failed(fmt.Errorf("internal error: %v", x))
		}
	}()
	v, err := readJSON(text)
	if err != nil {
		return failed(err)
	}
	m, _ := v.(map[string]any)
	r := request(m)
	answer := answers[r.text("ask")]
	if answer == nil {
		return failed(fmt.Errorf("no such request: %q", r.text("ask")))
	}
	said, err := answer(e, r)
	if err != nil {
		return failed(err)
	}
	return string(appendJSON(nil, said))
}

func failed(err error) string { return string(appendJSON(nil, object{{"error", err.Error()}})) }
