package estimate

import (
	"math"

	"rollchange/model/portable"
)

// normalBelow is the chance of a standard normal value below x:
//
//	erfc(-x / sqrt 2) / 2
func normalBelow(x float64) float64 { return 0.5 * portable.Erfc(-x/math.Sqrt2) }

// betaQuantile is the p-quantile of the beta law of a and b, both above 0.
func betaQuantile(a, b, p float64) float64 {
	x, _ := portable.BetaQuantile(a, b, p)
	return x
}
