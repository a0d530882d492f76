package portable

import "math"

// Log is the natural logarithm. Its error is below 0.52 ulp. NaN below 0, -Inf at 0.
//
//	x = 2^k z,  z in [11/16, 11/8)
//	log x = k log 2 - log c + log(1+r),  r = c z - 1
//
// c is the reciprocal of the middle of the 128th in which z lies, in 16 bits, from a
// table with -log c (P. T. P. Tang, ACM Trans. Math. Softw. 16 (1990) 378). c is 1 on
// both sides of 1, where the result is small. |r| < 1/127, so that eight terms of the
// series leave out 1e-19 of r.
func Log(x float64) float64 {
	bits := math.Float64bits(x)
	if bits-leastNormal >= infinity-leastNormal {
		if x = special(x); x != x || x-x != 0 {
			return x
		}
		bits = math.Float64bits(x) - 52<<52 // below the normal numbers, raised by 2^52
	}
	k, cell, r, rest := reduce(bits)
	hi := float64(k*ln2Hi) + cell.hi // exact
	w := hi + r
	lo := hi - w + r + (float64(k*ln2Lo) + (cell.lo + rest))
	r2 := float64(r * r)
	return w + (lo + (float64(r2*-0.5) + float64(float64(r*r2)*series(r, r2))))
}

const (
	leastNormal = 1 << 52     // bits of 2^-1022
	infinity    = 0x7ff << 52 // bits
	cells       = 128
	lowest      = 0x3fe6 << 48 // bits of 11/16
	topBits     = 1<<64 - 1<<27
)

// special is the logarithm of what is not a normal number above 0 where it is not
// finite; a number below the normal ones is raised by 2^52.
func special(x float64) float64 {
	switch {
	case x == 0:
		return math.Inf(-1)
	case !(x > 0):
		return math.NaN()
	case x > math.MaxFloat64:
		return x
	}
	return x * (1 << 52)
}

// reduce splits a normal number: its power of 2, the row of the table, and c z - 1 = r
// + rest to the last bit: the products of c and each half of z are exact.
func reduce(bits uint64) (k float64, cell *logCell, r, rest float64) {
	from := bits - lowest
	exponent := int64(from) >> 52
	cell = &logTable[from>>45&(cells-1)]
	bits -= uint64(exponent) << 52
	z, top := math.Float64frombits(bits), math.Float64frombits(bits&topBits)
	r1 := float64(top*cell.c) - 1
	r2 := float64((z - top) * cell.c)
	r = r1 + r2
	return float64(exponent), cell, r, r2 - (r - r1)
}

// series is 1/3 - r/4 + r²/5 - r³/6 + r⁴/7 - r⁵/8, log(1+r) from its third term.
func series(r, r2 float64) float64 {
	return 1.0/3 + float64(r*(-1.0/4)) + float64(r2*(1.0/5+float64(r*(-1.0/6))+float64(r2*(1.0/7+float64(r*(-1.0/8))))))
}

// split is the logarithm of a normal number as the sum of two: the error is below
// 2^-68 of it.
func split(bits uint64) (y, rest float64) {
	k, cell, r, off := reduce(bits)
	hi := float64(k*ln2Hi) + cell.hi
	w := hi + r
	lo := hi - w + r + (float64(k*ln2Lo) + (cell.lo + (off - float64(off*r))))
	// The square of r, in two parts as well.
	top := math.Float64frombits(math.Float64bits(r) & topBits)
	half := float64(float64(top*top) * -0.5)
	sum := w + half
	lo += w - sum + half + float64(float64((r+top)*(r-top))*-0.5)
	r2 := float64(r * r)
	far := float64(float64(r2*r2) * float64(r2*(1.0/9+float64(r*(-1.0/10))+float64(r2*(1.0/11)))))
	lo += float64(float64(r*r2) * (series(r, r2) + far))
	y = sum + lo
	return y, sum - y + lo
}

// Log1p is log(1+x) without the loss of digits near 0. Its error is below 0.6 ulp.
func Log1p(x float64) float64 {
	switch {
	case math.Abs(x) < 1.0/256:
		if math.Abs(x) < 0x1p-54 {
			return x
		}
		x2 := float64(x * x)
		return x + (float64(x2*-0.5) + float64(float64(x*x2)*series(x, x2)))
	case !(x > -1):
		return Log(1 + x)
	case x >= 0x1p54:
		return Log(x)
	}
	y := 1 + x
	off := x - (y - 1) // what rounding took
	if x > 1 {
		off = 1 - (y - x)
	}
	log, rest := split(math.Float64bits(y))
	return log + (rest + off/y)
}

// Log10 is the logarithm to the base of 10. Its error is below 0.51 ulp, so that powers
// of 10 have whole ones.
func Log10(x float64) float64 {
	bits := math.Float64bits(x)
	if bits-leastNormal >= infinity-leastNormal {
		if x = special(x); x != x || x-x != 0 {
			return x
		}
		bits = math.Float64bits(x) - 52<<52
	}
	log, rest := split(bits)
	y, off := times(log, rest, log10e, log10eRest)
	return y + off
}
