package words

import (
	"fmt"
	"math"

	"rollchange/sim/whatif"
)

// recordsNote says which storage holds the target over what the records leave open; "" of
// another note.
func recordsNote(a *whatif.Answer, n whatif.Note, in func(float64) string) string {
	r, ok := n.(whatif.RecordsNeed)
	if !ok {
		return ""
	}
	changes := changesText(a.Of == whatif.RewindStorage)
	over := fmt.Sprintf("with %g %% confidence over what", 100*r.Confidence)
	if !r.Decides {
		over = "a long dwell does not decide the storage: " + over + " all records of the line leave open, "
		drawn := fmt.Sprintf(" (%d draws of them, each simulated)", r.Draws)
		switch {
		case math.IsNaN(r.Value):
			return "what the records leave open is not known here: a long dwell does not decide the storage, and a target this rare is not simulated for every draw of them"
		case math.IsInf(r.Value, 1):
			return over + "no storage that is considered holds the target" + drawn
		}
		return over + in(r.Value) + " holds the target" + drawn
	}
	s := areObserved(r.Observed) + " observed"
	switch {
	case r.Observed == 0:
		return "what the records leave open is not known here: a long dwell decides the storage, and nothing says how many stand behind its distribution (observed = 37 beside its mean)"
	case math.IsNaN(r.Value):
		s += " and are given as a list, which ends at its longest: beyond that a law must say what they leave open"
	case math.IsInf(r.Value, 1):
		s += fmt.Sprintf(": too few for a storage that holds the target with %g %% confidence over what they leave open", 100*r.Confidence)
	default:
		if r.Listed {
			s += " and are given as a list, which ends at its longest; by a " + LawName(r.Law) + " law, which fits them"
		}
		s += fmt.Sprintf(": %s they leave open, %s holds the target", over, in(r.Value))
		if r.Rival != "" && math.IsInf(r.RivalValue, 1) {
			s += fmt.Sprintf("; with that many a %s law fits as well (AIC within 2), and by it they are too few for any", LawName(r.Rival))
		} else if r.Rival != "" {
			s += fmt.Sprintf("; with that many a %s law fits as well (AIC within 2), and by it %s is needed", LawName(r.Rival), in(r.RivalValue))
		}
	}
	if r.Beyond() {
		s += fmt.Sprintf("; the target, %s of the %s, is rarer than one in all that were observed: the choice of law decides, not data", shareText(r.Target), changes)
	}
	return s
}

// areObserved is how many dwells were, to begin a sentence.
func areObserved(n int) string {
	if n == 1 {
		return "1 dwell was"
	}
	return Grouped(float64(n)) + " dwells were"
}
