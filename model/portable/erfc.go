package portable

import "math"

// The coefficients and the way are those of s_erf.c of FreeBSD, which came with this
// notice:
//
// ====================================================
// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
//
// Developed at SunPro, a Sun Microsystems, Inc. business.
// Permission to use, copy, modify, and distribute this
// software is freely granted, provided that this notice
// is preserved.
// ====================================================

// Erfc is 1 less the error function of x. Its error is below 2 ulp.
//
//	|x| < 27/32      1 - x - x P/Q of x²
//	|x| < 5/4        1 - erf(1) - P/Q of |x| - 1
//	x < 28           exp(-x² - 9/16 + P/Q of 1/x²) / x, and 2 less that of -x
func Erfc(x float64) float64 {
	size := math.Abs(x)
	switch {
	case x != x:
		return x
	case size < 27./32:
		z := x * x
		y := float64(x * rational(&erfSmall, z))
		if x < 0.25 {
			return 1 - (x + y)
		}
		return 0.5 - (y + (x - 0.5))
	case size < 1.25:
		y := rational(&erfMiddle, size-1)
		if x < 0 {
			return 1 + erf1 + y
		}
		return 1 - erf1 - y
	case x > 28:
		return 0
	case x < -6:
		return 2
	}
	part := &erfcFar
	if size < 1/0.35 {
		part = &erfcNear
	}
	more := rational(part, 1/float64(x*x))
	top := math.Float64frombits(math.Float64bits(size) &^ (1<<32 - 1)) // its square is exact
	exact := -float64(top*top) - 0.5625
	more += float64((top - size) * (top + size))
	sum := exact + more
	y := expOfTwo(sum, exact-sum+more) / size
	if x < 0 {
		return 2 - y
	}
	return y
}

// ratio is two polynomials, from their last term.
type ratio struct{ above, below []float64 }

func rational(f *ratio, x float64) float64 { return polynomial(f.above, x) / polynomial(f.below, x) }

// polynomial is that of x with these coefficients, from the highest power to 1.
func polynomial(c []float64, x float64) float64 {
	y := c[0]
	for _, c := range c[1:] {
		y = float64(y*x) + c
	}
	return y
}

const erf1 = 8.45062911510467529297e-01 // erf(1) in 24 bits

var erfSmall = ratio{
	[]float64{-2.37630166566501626084e-05, -5.77027029648944159157e-03, -2.84817495755985104766e-02, -3.25042107247001499370e-01, 1.28379167095512558561e-01},
	[]float64{-3.96022827877536812320e-06, 1.32494738004321644526e-04, 5.08130628187576562776e-03, 6.50222499887672944485e-02, 3.97917223959155352819e-01, 1},
}

var erfMiddle = ratio{
	[]float64{-2.16637559486879084300e-03, 3.54783043256182359371e-02, -1.10894694282396677476e-01, 3.18346619901161753674e-01,
		-3.72207876035701323847e-01, 4.14856118683748331666e-01, -2.36211856075265944077e-03},
	[]float64{1.19844998467991074170e-02, 1.36370839120290507362e-02, 1.26171219808761642112e-01, 7.18286544141962662868e-02,
		5.40397917702171048937e-01, 1.06420880400844228286e-01, 1},
}

var erfcNear = ratio{
	[]float64{-9.81432934416914548592e+00, -8.12874355063065934246e+01, -1.84605092906711035994e+02, -1.62396669462573470355e+02,
		-6.23753324503260060396e+01, -1.05586262253232909814e+01, -6.93858572707181764372e-01, -9.86494403484714822705e-03},
	[]float64{-6.04244152148580987438e-02, 6.57024977031928170135e+00, 1.08635005541779435134e+02, 4.29008140027567833386e+02,
		6.45387271733267880336e+02, 4.34565877475229228821e+02, 1.37657754143519042600e+02, 1.96512716674392571292e+01, 1},
}

var erfcFar = ratio{
	[]float64{-4.83519191608651397019e+02, -1.02509513161107724954e+03, -6.37566443368389627722e+02, -1.60636384855821916062e+02,
		-1.77579549177547519889e+01, -7.99283237680523006574e-01, -9.86494292470009928597e-03},
	[]float64{-2.24409524465858183362e+01, 4.74528541206955367215e+02, 2.55305040643316442583e+03, 3.19985821950859553908e+03,
		1.53672958608443695994e+03, 3.25792512996573918826e+02, 3.03380607434824582924e+01, 1},
}
