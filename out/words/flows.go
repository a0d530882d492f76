package words

import (
	"math"

	"rollchange/model/finance"
	"rollchange/sim/savings"
)

// Idle says whether a cause saves and costs nothing in any draw.
func Idle(s savings.Saving, r savings.Spread) bool {
	return s.Value == 0 && s.HalfWidth == 0 && r.Low == 0 && r.High == 0 && r.Mean == 0
}

// MeanFlows are the mean flows of the years that a share of the draws worth
// telling of lives to see.
func MeanFlows(c *savings.Case) []finance.Year {
	n := 0
	for n < len(c.Random.Flow) && c.Random.Flow[n].Known >= 0.01 {
		n++
	}
	return c.Random.Tally.Flow[:n]
}

// MeanOf is the mean of a figure that every draw has; that of one which some
// draws lack, or in which it never comes, is none.
func MeanOf(s savings.Spread) float64 {
	if s.Known < 1 || math.IsInf(s.Mean, 0) {
		return math.NaN()
	}
	return s.Mean
}
