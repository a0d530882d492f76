package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// CurveHead says what the curve of an answer is: the chance at other capacities, from
// the changes recorded at the answer. It is empty where there is none.
func CurveHead(a *whatif.Answer, sys model.System) string {
	if len(a.Curve) == 0 {
		return ""
	}
	return "Calculated from the changes recorded at " + SizedText(a.Value, a.Dim, sys)
}

// AgainSentence says that more storage than the answer misses the target again, and
// from where on it is met anew, or that a faster line holds every limit again; empty
// where it does not.
func AgainSentence(a *whatif.Answer, sys model.System) string {
	if len(a.Again) == 0 {
		return ""
	}
	var list []string
	if a.Kind == whatif.Speed {
		for i, x := range a.Again {
			list = append(list, fmt.Sprintf("%s above %s", []string{"again", "but no longer"}[i%2], SizedText(x, a.Dim, sys)))
		}
		return "Faster is not always worse here: every limit holds " + strings.Join(list, ", ") + "."
	}
	for i, x := range a.Again {
		list = append(list, fmt.Sprintf("%s from %s on", []string{"missed again", "met again"}[i%2], inUnits(x, a.Dim, sys)))
	}
	return "More is not always better here: the target is " + strings.Join(list, ", ") + "."
}
