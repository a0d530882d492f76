package portable

import "math"

// Pow is x to the power y, with the special values of math.Pow. Its error is below 0.52
// ulp, below one where the result is below the normal numbers.
//
//	x^y = e^(y log x)
//
// with the logarithm in two numbers, and the product too.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case y == 1:
		return x
	case x != x || y != y:
		return math.NaN()
	case y-y != 0:
		return powInfinite(x, y)
	}
	negative := false
	if !(x > 0) {
		whole := y == math.Trunc(y)
		odd := whole && math.Abs(y) < 1<<53 && int64(y)&1 == 1
		switch {
		case x == 0 || x < -math.MaxFloat64:
			to := 0.0
			if (x == 0) == (y < 0) {
				to = math.Inf(1)
			}
			if odd {
				return math.Copysign(to, x)
			}
			return to
		case !whole:
			return math.NaN()
		}
		x, negative = -x, odd
	}
	z := powPositive(x, y)
	if negative {
		return -z
	}
	return z
}

// powInfinite is Pow for an exponent that is infinite.
func powInfinite(x, y float64) float64 {
	switch size := math.Abs(x); {
	case size == 1:
		return 1
	case (size > 1) == (y > 0):
		return math.Inf(1)
	}
	return 0
}

// powPositive is Pow for x above 0.
func powPositive(x, y float64) float64 {
	bits := math.Float64bits(x)
	switch {
	case bits >= infinity:
		if y > 0 {
			return x
		}
		return 0
	case bits < leastNormal:
		bits = math.Float64bits(x*(1<<52)) - 52<<52
	}
	log, rest := split(bits)
	if size := y * log; !(math.Abs(size) < 800) {
		return expFar(size, 0)
	}
	return expOfTwo(times(log, rest, y, 0))
}

// times is the product of two numbers of two parts each, a+aRest and b+bRest.
func times(a, aRest, b, bRest float64) (y, rest float64) {
	aTop := math.Float64frombits(math.Float64bits(a) & topBits)
	bTop := math.Float64frombits(math.Float64bits(b) & topBits)
	aLow, bLow := a-aTop, b-bTop
	y = float64(a * b)
	rest = float64(aTop*bTop) - y + float64(aTop*bLow) + float64(aLow*bTop) + float64(aLow*bLow)
	return y, rest + (float64(a*bRest) + float64(aRest*b))
}
