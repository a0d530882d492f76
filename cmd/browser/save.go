package main

import (
	"rollchange/out/words"
	"rollchange/scenarios"
)

// save is the text of the scenario with what is moved written into it.
func (e *engine) save(request) (any, error) {
	o := e.open
	if o == nil {
		return nil, errNoScenario
	}
	var changes []scenarios.Change
	for _, x := range o.sets {
		m, err := o.mover(x.key)
		if err != nil {
			return nil, err
		}
		changes = append(changes, scenarios.Change{Mover: m, To: o.asWritten(m, x.value)})
	}
	text, err := o.file.Edited(changes, words.ChangedMark)
	if err != nil {
		return nil, err
	}
	return object{{"text", text}}, nil
}
