package words

import (
	"fmt"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// rollNote is a note on a finished roll and the ridge of its seam; "" for another.
func rollNote(n whatif.Note, sys model.System) string {
	switch n := n.(type) {
	case whatif.SeamRidgeOf:
		than := "within the"
		if n.Ridge > n.Allowed*(1+1e-9) {
			than = "above the"
		}
		how := "without oscillation"
		if n.Oscillation > 0 {
			how = "with an oscillation of " + inUnits(n.Oscillation, model.Thickness, sys) + " to each side"
		}
		return fmt.Sprintf("%s, a roll of %s has a ridge of %s, %s %s allowed", how,
			inUnits(n.Length, model.Length, sys), inUnits(n.Ridge, model.Thickness, sys), than, inUnits(n.Allowed, model.Thickness, sys))
	case whatif.RollIs:
		s := fmt.Sprintf("that roll is %s in diameter and has %s wraps", inUnits(n.Diameter, model.Thickness, sys), Short(n.Wraps, 4))
		if n.Mass > 0 {
			s += fmt.Sprintf("; its web weighs %s", inUnits(n.Mass, model.Mass, sys))
		}
		return s
	}
	return ""
}

// rollAnswer is what an answer on a finished roll is, and its value where that says
// more than the figure.
func rollAnswer(a *whatif.Answer, value string) (what, said string) {
	switch {
	case a.Of == whatif.FinishedRoll:
		return "Longest finished roll", value
	case a.Value == 0:
		return "Least oscillation", "none is needed"
	}
	return "Least oscillation", value + " to each side"
}
