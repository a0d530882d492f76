package finance

import "math"

// Payback is the time in years after which the flows have paid back what was
// spent, the first time that their running sum comes from below 0 to 0. Within the
// year of recovery a flow counts as even, so the fraction is linear (the convention of
// published tables). It is 0 when the sum is never below 0, since nothing had to be
// paid back, and +Inf when the flows never pay back.
func Payback(flows []float64) float64 { return DiscountedPayback(0, flows) }

// DiscountedPayback is Payback of the flows at their present value.
func DiscountedPayback(rate float64, flows []float64) float64 {
	sum, factor := 0.0, 1.0
	for t, f := range flows {
		before := sum
		sum += f * factor
		factor /= 1 + rate
		if before < 0 && sum >= 0 {
			return float64(t-1) + before/(before-sum)
		}
	}
	if sum < 0 {
		return math.Inf(1)
	}
	return 0
}
