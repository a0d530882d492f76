package words

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/sim/match"
)

// RecordedFacts are what a line made in its recorded period, each with what it comes to a
// planned hour or of a whole, before any simulation. below says where that is more than
// the line can make at all; lines share the crew, ceiling is of each, m/s.
func RecordedFacts(r *model.Period, lines int, ceiling float64, sys model.System) (facts []Fact, below string) {
	planned := r.Hours * float64(max(1, lines))
	add := func(f match.Figure, unit string, x *float64, note string) {
		if x != nil {
			text, _, _ := MatchTexts(match.Row{Figure: f, Unit: unit, Recorded: *x, Mean: *x, Low: *x, High: *x}, sys)
			facts = append(facts, Fact{MatchLabel(match.Row{Figure: f}), text, note})
		}
	}
	speed := model.Display(model.Speed, sys)
	rate := func(v float64) string { return Short(speed.From(v), 4) + " " + speed.Name }
	if r.Good != nil {
		add(match.Good, "m", r.Good, fmt.Sprintf("%s a line; at best %s", rate(*r.Good/planned), rate(ceiling)))
		if *r.Good > ceiling*planned*(1+1e-9) && !math.IsNaN(ceiling) {
			below = fmt.Sprintf("The records say %s of good web and the line as described makes %s at best: look at its speed, and at the hours and the unit of the records.", rate(*r.Good/planned), rate(ceiling))
		}
	}
	if r.Waste != nil {
		note := ""
		if r.Good != nil && *r.Good+*r.Waste > 0 {
			note = Short(100**r.Waste/(*r.Good+*r.Waste), 3) + " % of good web and waste"
		}
		add(match.Waste, "m", r.Waste, note)
	}
	a := func(x *float64) string {
		if x == nil {
			return ""
		}
		return Short(*x/planned*3600, 3) + " a planned hour"
	}
	add(match.RollChanges, "1", r.RollChanges, a(r.RollChanges))
	add(match.FinishedRolls, "1", r.FinishedRolls, a(r.FinishedRolls))
	add(match.Stops, "1", r.Stops, a(r.Stops))
	if r.Stopped != nil {
		add(match.Stopped, "s", r.Stopped, Short(100**r.Stopped/planned, 3)+" % of the planned hours")
	}
	return facts, below
}

// Fact is a figure with its label and a note.
type Fact struct{ Label, Text, Note string }
