package estimate

import "math"

// Quantile is that of a sorted row that is not empty, 0 <= p <= 1: linear between the two
// neighbours at 1 + p (n - 1) (Hyndman and Fan, The American Statistician 50 (1996) 361,
// definition 7), and +Inf where the upper one is.
func Quantile(sorted []float64, p float64) float64 {
	h := p * float64(len(sorted)-1)
	i := int(h)
	if i+1 >= len(sorted) || sorted[i] == sorted[i+1] || h == float64(i) {
		return sorted[i]
	}
	if math.IsInf(sorted[i+1], 1) {
		return sorted[i+1]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}
