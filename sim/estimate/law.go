package estimate

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"rollchange/model/portable"
)

// The quantiles that intervals are made of, from the special functions alone: the
// package of laws that has them too brings linear algebra, which a small program
// with this one should not carry.

// normalBelow is the chance of a standard normal value below x:
//
//	erfc(-x / sqrt 2) / 2
func normalBelow(x float64) float64 { return 0.5 * portable.Erfc(-x/math.Sqrt2) }

// betaQuantile is the p-quantile of the beta law of a and b, both above 0; its CDF is
// the regularized incomplete beta function.
func betaQuantile(a, b, p float64) float64 { return mathext.InvRegIncBeta(a, b, p) }

// gammaQuantile is the p-quantile of the gamma law of shape a, above 0, and scale 1;
// its CDF is the regularized lower incomplete gamma function.
func gammaQuantile(a, p float64) float64 { return mathext.GammaIncRegInv(a, p) }

// studentQuantile is the p-quantile of Student's t with nu degrees of freedom, 0 < p < 1.
// With x = nu/(nu + t²), both tails together hold (Abramowitz and Stegun 26.7.1, 26.5.27)
//
//	P(|T| > t) = I_x(nu/2, 1/2)
func studentQuantile(p, nu float64) float64 {
	if p == 0.5 {
		return 0
	}
	x := mathext.InvRegIncBeta(nu/2, 0.5, 2*min(p, 1-p))
	return math.Copysign(math.Sqrt(nu*(1-x)/x), p-0.5)
}
