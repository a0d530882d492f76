package words

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
)

// LastsLonger is a cause whose stops do not last as long in the model as they were
// recorded, s.
type LastsLonger struct {
	Cause              string
	Recorded, Modelled float64
}

// LastsAsLong says whether the stops of the model last as long as the recorded ones, to
// a share of them or to the error of the simulation.
func LastsAsLong(off []LastsLonger, within float64) string {
	if len(off) == 0 {
		return fmt.Sprintf("walk, waits and ramps were taken off the recorded stops: in the model they last as long as recorded, within %s %% or the error of the simulation", Short(100*within, 2))
	}
	var list []string
	for _, x := range off {
		list = append(list, fmt.Sprintf("%s %s, recorded %s", legible.Quote(x.Cause), Duration(x.Modelled), Duration(x.Recorded)))
	}
	return "walk, waits and ramps were taken off the recorded stops, and still some last longer or shorter in the model: " + strings.Join(list, "; ") + ". Look at the crew of the scenario: with that reaction and load such stops are not possible"
}
