package portable

import "math"

// Exp is e to the power x. Its error is below 0.52 ulp, below one where the result is
// below the normal numbers.
//
//	x = k log 2/128 + r,  |r| < log 2/256
//	e^x = 2^(k/128) e^r
//
// with the 128 powers of 2 and what rounding took of them from a table (P. T. P. Tang,
// ACM Trans. Math. Softw. 15 (1989) 144) and five terms of the series, which leave
// out 2^-60.
func Exp(x float64) float64 {
	if !(math.Abs(x) < 708) {
		return expFar(x, 0)
	}
	return expOf(x, 0)
}

// expOf is e^(x+rest) for a result that is a normal number; rest is small beside an
// ulp of 1.
func expOf(x, rest float64) float64 {
	k, r := nearest(x)
	r += rest
	scale, tail := powerOfTwo(k)
	return scale + float64(scale*(tail+above1(r)))
}

// nearest is the multiple of log 2/128 that is nearest to x, and what is left.
func nearest(x float64) (k int64, r float64) {
	const shift = 3 << 51 // a number beside it is rounded to whole ones
	n := float64(x*perStep) + shift - shift
	return int64(n), x - float64(n*stepHi) - float64(n*stepLo)
}

// powerOfTwo is 2^(k/128) and what rounding took of it, as a share.
func powerOfTwo(k int64) (scale, tail float64) {
	row := &expTable[k&(cells-1)]
	return math.Float64frombits(row.bits + uint64(k>>7)<<52), row.tail
}

// above1 is e^r - 1 for |r| below log 2/256.
func above1(r float64) float64 {
	r2 := r * r
	return r + (float64(r2*(0.5+float64(r*(1.0/6)))) + float64(float64(r2*r2)*(1.0/24+float64(r*(1.0/120)))))
}

// expFar is e^(x+rest) where the result or a step to it may be no normal number.
func expFar(x, rest float64) float64 {
	switch {
	case x != x:
		return x
	case x > 710:
		return math.Inf(1)
	case x < -746:
		return 0
	}
	k, r := nearest(x)
	r += rest
	scale, tail := powerOfTwo(k & (cells - 1))
	return math.Ldexp(scale+float64(scale*(tail+above1(r))), int(k>>7))
}

// expOfTwo is e^(x+rest).
func expOfTwo(x, rest float64) float64 {
	if !(math.Abs(x) < 700) {
		return expFar(x, rest)
	}
	return expOf(x, rest)
}

// Expm1 is e^x - 1 without the loss of digits near 0. Its error is below one ulp.
func Expm1(x float64) float64 {
	switch {
	case math.Abs(x) < 1.0/64:
		if math.Abs(x) < 0x1p-54 {
			return x
		}
		x2 := x * x
		far := 1.0/120 + float64(x*(1.0/720)) + float64(x2*(1.0/5040+float64(x*(1.0/40320))))
		return x + (float64(x2*0.5) + float64(float64(x*x2)*(1.0/6+float64(x*(1.0/24))+float64(x2*far))))
	case x < -40:
		return -1
	case !(x < 708):
		return Exp(x) - 1
	}
	k, r := nearest(x)
	scale, tail := powerOfTwo(k)
	more := float64(scale * (tail + above1(r)))
	if scale >= 0.5 && scale < 1<<53 {
		return scale - 1 + more // scale - 1 is exact
	}
	return scale + more - 1
}
