package portable

import "math"

// GammaQuantile is x with the chance p below it, 0 <= p <= 1, by the gamma law of shape
// a, above 0, and scale 1. Relative error below 1e-12 up to a = 1e6.
func GammaQuantile(a, p float64) float64 { return gammaQuantile(a, p, 1-p) }

// GammaQuantileAbove is x with the chance q above it.
func GammaQuantileAbove(a, q float64) float64 { return gammaQuantile(a, 1-q, q) }

func gammaQuantile(a, p, q float64) float64 {
	switch {
	case !(p > 0):
		return p - p // NaN stays
	case !(q > 0):
		return math.Inf(1)
	}
	// Wilson's and Hilferty's cube, and the first term of the series where it fails.
	c := 1 / (9 * a)
	root := 1 - c + float64(normalOf(p, q)*math.Sqrt(c))
	u := (Log(p) + Lgamma(a+1)) / a
	if root > 0.2 {
		u = Log(a) + float64(3*Log(root))
	}
	return Exp(inverse(u, p, q, func(u float64) (p, q, density float64) { return gammaPQ(a, Exp(u)) }))
}

// BetaQuantile is x with the chance p below it, 0 <= p <= 1, by the beta law of a and b,
// both above 0, and 1-x in digits of its own. Relative errors below 1e-12 up to a + b =
// 1e6.
func BetaQuantile(a, b, p float64) (x, y float64) {
	q := 1 - p
	switch {
	case !(p > 0):
		return p - p, 1
	case !(q > 0):
		return 1, 0
	}
	u := Log(a/b) + float64(normalOf(p, q)*math.Sqrt(1/a+1/b)) // as if log(x/y) were normal
	u = inverse(u, p, q, func(u float64) (p, q, density float64) {
		x, y := shares(u)
		return betaPQ(a, b, x, y)
	})
	return shares(u)
}

// shares are x and y = 1-x with log(x/y) = u.
func shares(u float64) (x, y float64) {
	e := Exp(-math.Abs(u))
	if u < 0 {
		return e / (1 + e), 1 / (1 + e)
	}
	return 1 / (1 + e), e / (1 + e)
}

// StudentQuantile is t with the chance p below it, 0 <= p <= 1, by Student's law of nu
// degrees of freedom. With x = nu/(nu + t²), both tails together hold (Abramowitz and
// Stegun 26.7.1, 26.5.27)
//
//	P(|T| > t) = I_x(nu/2, 1/2)
func StudentQuantile(p, nu float64) float64 {
	if p == 0.5 {
		return 0
	}
	x, y := BetaQuantile(nu/2, 0.5, 2*min(p, 1-p))
	return math.Copysign(math.Sqrt(float64(nu*y)/x), p-0.5)
}

// normalOf is the normal quantile of p, with q = 1-p in digits of its own.
func normalOf(p, q float64) float64 {
	if p < q {
		return NormalQuantile(p)
	}
	return -NormalQuantile(q)
}

// inverse is u where the law has p below and q above: Newton's method from a guess, on
// the logarithm of the smaller, which is concave for the laws here, so that each step
// falls short after the first. That is held back, for where it goes there may be nothing.
func inverse(u, p, q float64, law func(u float64) (p, q, density float64)) float64 {
	for range 100 {
		below, above, density := law(u)
		var step float64
		if p < q {
			step = Log(p/below) * below / density
		} else {
			step = Log(above/q) * above / density
		}
		switch {
		case step == step:
			most := 4 + float64(math.Abs(u)/2)
			step = max(-most, min(most, step))
		case p < q: // nothing below, no density: it is too far below
			step = 4
		default:
			step = -4
		}
		u += step
		if math.Abs(step) <= 1e-15*max(1, math.Abs(u)) {
			break
		}
	}
	return u
}
