package finance

import "math"

// Payback is the time in years after which the flows have paid back what was
// spent, the first time that their running sum reaches 0. Within the year of
// recovery a flow counts as even, so the fraction is linear (the convention of
// published tables). It is 0 when nothing was spent
// in year 0, and +Inf when the flows never pay back.
func Payback(flows []float64) float64 { return DiscountedPayback(0, flows) }

// DiscountedPayback is Payback of the flows at their present value.
func DiscountedPayback(rate float64, flows []float64) float64 {
	sum, factor := 0.0, 1.0
	for t, f := range flows {
		before := sum
		sum += f * factor
		factor /= 1 + rate
		switch {
		case sum < 0 && t == len(flows)-1:
			return math.Inf(1)
		case sum < 0:
			continue
		case t == 0:
			return 0
		}
		return float64(t-1) + before/(before-sum)
	}
	return math.Inf(1)
}
