package words

import (
	"fmt"
	"math"

	"rollchange/sim/whatif"
)

// recordsNote says which storage holds the target over what the records of the dwell
// leave open; "" of another note.
func recordsNote(a *whatif.Answer, n whatif.Note, in func(float64) string) string {
	r, ok := n.(whatif.RecordsNeed)
	if !ok {
		return ""
	}
	changes := changesText(a.Of == whatif.RewindStorage)
	s := ""
	switch {
	case !r.Decides:
		return fmt.Sprintf("what the records leave open is not known here: %s observed, but a long dwell does not decide the storage", areObserved(r.Observed))
	case math.IsNaN(r.Value):
		s = fmt.Sprintf("%s observed and stand as a list, which ends at its longest: what they leave open of a longer one takes a law", areObserved(r.Observed))
	case math.IsInf(r.Value, 1):
		s = fmt.Sprintf("%s observed: too few for a storage that holds the target with %g %% confidence over what they leave open", areObserved(r.Observed), 100*r.Confidence)
	default:
		s = fmt.Sprintf("%s observed: with %g %% confidence over what they leave open, %s holds the target", areObserved(r.Observed), 100*r.Confidence, in(r.Value))
	}
	if r.Beyond() {
		s += fmt.Sprintf("; the target, %s of the %s, is rarer than one in those that were observed: no data speak of it, only the family of the law does", shareText(r.Target), changes)
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
