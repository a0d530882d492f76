package portable

import "math"

// Gamma is the gamma function of x above 0; NaN elsewhere. Its error is below 5 ulp,
// from x = 10 on below one. The ratio is that of gamma.c of S. L. Moshier's Cephes
// Math Library, for 2 to 3; recurrence leads there from below 10. Above it is
//
//	e^((x-1/2) log x - x + log(2 pi)/2 + w(x))
//
// in numbers of two parts, with Stirling's series w.
func Gamma(x float64) float64 {
	const halfLog2Pi, itsRest = 0.91893853320467274178, 0.91893853320467274178032973640562 - 0x1d67f1c864beb5p-53
	switch {
	case !(x > 0):
		return math.NaN()
	case x > 172:
		return math.Inf(1)
	case x >= 10:
		log, rest := split(math.Float64bits(x))
		y, rest := times(log, rest, x-0.5, 0)
		y, rest = plus(y, rest, -x)
		y, rest = plus(y, rest, halfLog2Pi)
		y, rest = plus(y, rest, stirling(x))
		return expOfTwo(y, rest+itsRest)
	}
	z := 1.0
	for x >= 3 {
		x--
		z *= x
	}
	for ; x < 2; x++ {
		z /= x
	}
	return float64(z*polynomial(gammaAbove, x-2)) / polynomial(gammaBelow, x-2)
}

// plus adds b, which is not larger, to a number of two parts.
func plus(a, rest, b float64) (sum, off float64) {
	sum = a + b
	return sum, rest + (a - sum + b)
}

var gammaAbove = []float64{1.60119522476751861407e-04, 1.19135147006586384913e-03, 1.04213797561761569935e-02, 4.76367800457137231464e-02,
	2.07448227648435975150e-01, 4.94214826801497100753e-01, 9.99999999999999996796e-01}

var gammaBelow = []float64{-2.31581873324120129819e-05, 5.39605580493303397842e-04, -4.45641913851797240494e-03, 1.18139785222060435552e-02,
	3.58236398605498653373e-02, -2.34591795718243348568e-01, 7.14304917030273074085e-02, 1.00000000000000000320e+00}

// stirling is what the logarithm of the gamma function is above (x-1/2) log x - x +
// log(2 pi)/2, for x from 8 on (Abramowitz and Stegun 6.1.42):
//
//	sum over n from 1 of B(2n) / (2n (2n-1) x^(2n-1))
func stirling(x float64) float64 {
	return polynomial(bernoulli, 1/float64(x*x)) / x
}

var bernoulli = []float64{1. / 156, -691. / 360360, 1. / 1188, -1. / 1680, 1. / 1260, -1. / 360, 1. / 12}

// Lgamma is the logarithm of the gamma function of x above 0; NaN elsewhere. Its error
// is below 8 ulp, beside its zeros at 1 and 2 as well.
//
//	about 2     the series (Abramowitz and Stegun 6.1.33), for 3/2 to 5/2
//	below       that of x+1, less log x
//	to 8        that of x-1, more log (x-1)
//	from 8 on   (x-1/2) (log x - 1) + (log(2 pi) - 1)/2, and Stirling's series
func Lgamma(x float64) float64 {
	const halfLog2Pi1 = 0.41893853320467274178032973640562
	switch {
	case !(x > 0):
		return math.NaN()
	case x < 0.5:
		return aboutTwo(x) - Log1p(x) - Log(x)
	case x < 1.5:
		return aboutTwo(x-1) - Log1p(x-1)
	case x < 2.5:
		return aboutTwo(x - 2)
	case x < 8:
		z := 1.0
		for x >= 2.5 {
			x--
			z *= x
		}
		return Log(z) + aboutTwo(x-2)
	case x > math.MaxFloat64:
		return x
	case x > 1<<56:
		return x * (Log(x) - 1)
	}
	return float64((x-0.5)*(Log(x)-1)) + (halfLog2Pi1 + stirling(x))
}

// aboutTwo is the logarithm of the gamma function of 2+s, |s| at most a half.
func aboutTwo(s float64) float64 { return float64(s * polynomial(lgammaTable[:], s)) }
