package fit

import (
	"math"

	"rollchange/model/portable"
)

// Heaping says whether people wrote whole fives: of values rounded to a minute, more
// end in 0 and 5 than their neighbours leave room for.
type Heaping struct {
	Minutes int     // values of 3 minutes or more rounded to the minute, in whole groups of five about a multiple of five
	Fives   int     // of them ending in 0 or 5; a fifth where nobody heaps
	P       float64 // chance of so many or more without heaping; 1 with nothing to test
	Found   bool    // P below 1 in 1,000: values ending in 0 and 5 are taken to be rounded to five minutes
}

const (
	minute  = 60.0
	aFifth  = 0.2
	certain = 1e-3
)

// heapingOf counts as Whipple's index of ages does: groups of five about each
// multiple of five, so that a law whose density falls or rises evenly over a group
// leaves a fifth to the middle.
func heapingOf(values []Value) Heaping {
	h := Heaping{P: 1}
	for _, v := range values {
		if !toTheMinute(v) || v.X < 2.5*minute {
			continue
		}
		h.Minutes++
		if isFive(v) {
			h.Fives++
		}
	}
	if h.Minutes > 0 && h.Fives > 0 { // P(K >= k) = I_p(k, n-k+1)
		h.P, _ = portable.BetaPQ(float64(h.Fives), float64(h.Minutes-h.Fives+1), aFifth)
	}
	h.Found = h.P < certain
	return h
}

// toTheMinute says that a value was rounded to a minute, and is one.
func toTheMinute(v Value) bool {
	return !v.Open && v.Step == minute && math.Abs(v.X/minute-math.Round(v.X/minute)) < 1e-6
}

func isFive(v Value) bool { return math.Mod(math.Round(v.X/minute), 5) == 0 && v.X > 0 }

// widen returns the values with those that were heaped rounded to five minutes.
func (h Heaping) widen(values []Value) []Value {
	if !h.Found {
		return values
	}
	wide := append([]Value(nil), values...)
	for i, v := range wide {
		if toTheMinute(v) && isFive(v) {
			wide[i].Step = 5 * minute
		}
	}
	return wide
}
