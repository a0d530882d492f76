package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
)

// set is a key that was moved, and the value as the page gave it.
type set struct{ key, value string }

// begin lays what was moved over the scenario and begins to simulate it, with what is
// known of its lines.
func (e *engine) begin(r request) (any, error) {
	o := e.open
	if o == nil {
		return nil, errNoScenario
	}
	sets := setsOf(r)
	now, problems, err := o.with(sets)
	if err != nil {
		return nil, err
	}
	if len(problems) > 0 {
		return object{{"problems", problems}}, nil
	}
	if err := keep(now, r); err != nil {
		return nil, err
	}
	steps, err := replicate.NewSteps(context.Background(), &now.Study, e.shelf)
	if err != nil {
		return nil, err
	}
	var orders *plan.Steps
	if now.Study.Listed() {
		if orders, err = plan.NewSteps(&now.Study, steps.Prints(), e.plans); err != nil {
			return nil, err
		}
	}
	o.sets, o.now, o.steps, o.orders = sets, now, steps, orders
	return object{{"problems", []object(nil)}, {"need", steps.Need()}, {"done", o.done()}}, nil
}

// done is how many replications there are of all that is told.
func (o *opened) done() int {
	if o.orders != nil {
		return min(o.steps.Done(), o.orders.Done())
	}
	return o.steps.Done()
}

// setsOf are the keys and values of a request.
func setsOf(r request) []set {
	list, _ := r["set"].([]any)
	var sets []set
	for _, x := range list {
		m, _ := x.(map[string]any)
		sets = append(sets, set{request(m).text("key"), request(m).text("value")})
	}
	return sets
}

// with is the scenario with what was moved, or what is wrong with that, by its key.
func (o *opened) with(sets []set) (*scenarios.Scenario, []object, error) {
	var overrides []scenarios.Override
	var problems []object
	var from []string // the key of each override
	bad := func(key, message, fix string) {
		problems = append(problems, object{{"key", key}, {"label", words.KeyOf(key, o.file.NameOf(key))}, {"message", legible.Visible(message)}, {"fix", fix}})
	}
	for _, x := range sets {
		m, err := o.mover(x.key)
		if err != nil {
			bad(x.key, err.Error(), "")
			continue
		}
		text := o.asWritten(m, x.value)
		if _, _, write, err := m.Read(text); err != nil {
			bad(x.key, err.Error(), write)
			continue
		}
		list, err := m.Set(text)
		if err != nil {
			return nil, nil, err
		}
		for range list {
			from = append(from, x.key)
		}
		overrides = append(overrides, list...)
	}
	if len(problems) > 0 || len(overrides) == 0 {
		return o.again(), problems, nil
	}
	now, err := o.file.Again(overrides...)
	if wrong := (*scenarios.Errors)(nil); errors.As(err, &wrong) {
		for _, p := range wrong.Problems {
			key := p.Key
			if i := len(from) + p.Line; p.Line < 0 && i >= 0 {
				key = from[i]
			}
			bad(key, words.Keyless(p.What), p.Write)
		}
		return nil, problems, nil
	}
	return now, problems, err
}

// again is the scenario as it was read, to be cut down to the alternatives that are on.
func (o *opened) again() *scenarios.Scenario {
	s := *o.file
	s.Study.Alternatives = slices.Clone(s.Study.Alternatives)
	return &s
}

// keep leaves the alternatives that are on; without a list all are.
func keep(s *scenarios.Scenario, r request) error {
	on, given := r["on"]
	if !given || on == nil {
		return nil
	}
	names := r.texts("on")
	s.Study.Alternatives = slices.DeleteFunc(s.Study.Alternatives, func(a model.Alternative) bool { return !slices.Contains(names, a.Name) })
	if len(s.Study.Alternatives) == 0 {
		return fmt.Errorf("no alternative is on")
	}
	return nil
}

// step simulates one replication more of every alternative that is on.
func (e *engine) step(request) (any, error) {
	o := e.open
	if o == nil || o.steps == nil {
		return nil, errors.New("nothing was begun")
	}
	before := o.done()
	if err := o.steps.Step(context.Background()); err != nil {
		return nil, err
	}
	for o.orders != nil && o.orders.Done() < min(before+1, o.steps.Done()) {
		if err := o.orders.Step(context.Background()); err != nil {
			return nil, err
		}
	}
	return object{{"done", o.done()}, {"need", o.steps.Need()}}, nil
}
