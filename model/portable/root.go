package portable

import "math"

// Hypot is the root of x² + y². Its error is below 1.5 ulp. Infinite when one of them
// is, else NaN when one is.
func Hypot(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	switch {
	case x > math.MaxFloat64 || y > math.MaxFloat64:
		return math.Inf(1)
	case x < y:
		x, y = y, x
	}
	switch {
	case x > 0x1p500:
		return math.Sqrt(square(x*0x1p-600)+square(y*0x1p-600)) * 0x1p600
	case x < 0x1p-450:
		return math.Sqrt(square(x*0x1p600)+square(y*0x1p600)) * 0x1p-600
	}
	return math.Sqrt(square(x) + square(y))
}

func square(x float64) float64 { return float64(x * x) }

// Cbrt is the root of the third order. Its error is below 0.52 ulp.
func Cbrt(x float64) float64 {
	if x == 0 || x-x != 0 {
		return x
	}
	const third, thirdRest = 1.0 / 3, 1.0/3 - 0x15555555555555p-54
	bits := math.Float64bits(math.Abs(x))
	if bits < leastNormal {
		bits = math.Float64bits(math.Abs(x)*(1<<52)) - 52<<52
	}
	log, rest := split(bits)
	return math.Copysign(expOf(times(log, rest, third, thirdRest)), x)
}
