package sim

import "math"

// Every crossing in the simulation is a root of a quadratic
//
//	q(x) = c0 + c1 x + c2 x²,  x >= 0, s since now
//
// because between two events speeds are linear in time and lengths quadratic.
// The functions here return the time to the crossing, or +Inf for never.

var never = math.Inf(1)

// firstBelow returns the least x >= 0 with q(x) <= 0. Of the two forms of the
// first root it takes the one that does not cancel:
//
//	2 c0 / (-c1 + sqrt(c1² - 4 c0 c2))     c1 <= 0
//	(c1 + sqrt(c1² - 4 c0 c2)) / (-2 c2)   c1 > 0, where c2 < 0
//
// It is right to a few units in the last place of the root for coefficients of
// any sign and size; where the root itself is beyond the largest number it is +Inf.
func firstBelow(c0, c1, c2 float64) float64 {
	if c0 <= 0 {
		return 0
	}
	if c2 == 0 {
		if c1 < 0 {
			return -c0 / c1
		}
		return never
	}
	if c2 > 0 && c1 >= 0 {
		return never
	}
	square, product := c1*c1, 4*c0*c2
	disc := square - product
	if c2 > 0 && disc < square/16 || !(disc < 1e280 && (square > 1e-250 || square == 0) && (product > 1e-250 || product < -1e-250)) {
		return firstBelowExactly(c0, c1, c2)
	}
	if c1 > 0 {
		return (c1 + math.Sqrt(disc)) / (-2 * c2)
	}
	return 2 * c0 / (-c1 + math.Sqrt(disc))
}

// firstBelowExactly is firstBelow where the discriminant cancels, or where its
// terms leave the range of numbers: the coefficients are then scaled by powers of two
// (q by one, x by another), which is exact.
func firstBelowExactly(c0, c1, c2 float64) float64 {
	if fair(c0) && fair(c1) && fair(c2) {
		return rooted(c0, c1, c2)
	}
	f0, e0 := math.Frexp(c0)
	f2, e2 := math.Frexp(c2)
	shift := (e0 - e2) / 2 // x = y 2^shift
	f2 = math.Ldexp(f2, e2+2*shift-e0)
	f1 := math.Ldexp(c1, shift-e0)
	if math.Abs(f1) > 1e100 { // the parabola is a line as far as it goes
		if c1 < 0 {
			return -c0 / c1
		}
		return -c1 / c2
	}
	return math.Ldexp(rooted(f0, f1, f2), shift)
}

// fair says whether products of coefficients, and what rounding cuts off them, are in
// the range of numbers.
func fair(c float64) bool {
	c = math.Abs(c)
	return c < 1e70 && c > 1e-70 || c == 0
}

// rooted is the root of firstBelowExactly: the discriminant is the difference of two
// products with their rounding errors (as analysed for Kahan's by Jeannerod, Louvet and
// Muller, Math. Comp. 82 (2013) 2245), which need no fused operation: that is a hundred
// others on a processor without one, such as that of a page.
func rooted(c0, c1, c2 float64) float64 {
	square, lost := product(c1, c1)
	other, lostOther := product(4*c0, c2)
	disc := (square - other) + (lost - lostOther)
	if disc < 0 {
		return never
	}
	if c1 > 0 {
		return (c1 + math.Sqrt(disc)) / (-2 * c2)
	}
	return 2 * c0 / (-c1 + math.Sqrt(disc))
}

// product is that of two numbers and what rounding cuts off it, exactly: each is split
// into halves whose products are exact (Dekker, Numer. Math. 18 (1971) 224). No step may be
// fused with the next.
func product(a, b float64) (p, lost float64) {
	p = float64(a * b)
	ah, al := halves(a)
	bh, bl := halves(b)
	lost = float64(float64(float64(ah*bh)-p) + float64(ah*bl))
	return p, float64(lost+float64(al*bh)) + float64(al*bl)
}

// halves splits a number into its upper and its lower bits (Veltkamp).
func halves(x float64) (high, low float64) {
	c := float64(x * (1<<27 + 1))
	high = c - float64(c-x)
	return high, x - high
}

// larger and smaller are max and min of two numbers; those of the language are a call on
// some processors, such as that of a page.
func larger(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

func smaller(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}

// firstFall returns the least x >= 0 at which q is at or below 0 and falling.
// It differs from firstBelow where q starts at or below 0 and rises: then the
// crossing that was just passed is not found a second time.
func firstFall(c0, c1, c2 float64) float64 {
	switch {
	case c0 > 0:
		return firstBelow(c0, c1, c2)
	case c1 < 0 || (c1 == 0 && c2 < 0):
		return 0
	case c2 >= 0:
		return never
	}
	turn := -c1 / (2 * c2)
	if c0+c1*turn/2 <= 0 {
		return turn
	}
	return (-c1 - math.Sqrt(c1*c1-4*c0*c2)) / (2 * c2)
}

// shifted returns the coefficients of q(x+by).
func shifted(c0, c1, c2, by float64) (float64, float64, float64) {
	return c0 + (c1+c2*by)*by, c1 + 2*c2*by, c2
}

// risesTo returns the least x >= 0 with d(x) >= 0 and level <= m(x), where the
// content m(x) = m + d0 x + d1 x²/2 and d(x) = d0 + d1 x is its slope.
func risesTo(level, m, d0, d1 float64) float64 {
	wait := 0.0
	if d0 < 0 {
		if d1 <= 0 {
			return never
		}
		wait = -d0 / d1
		m += d0 * wait / 2
		d0 = 0
	}
	return wait + firstBelow(level-m, -d0, -d1/2)
}

// fallsTo returns the least x >= 0 at which the content m(x) = m + d0 x + d1 x²/2
// is falling and g(x) = c0 + c1 x + c2 x² is at or below 0.
func fallsTo(c0, c1, c2, d0, d1 float64) float64 {
	from, to := 0.0, never
	switch {
	case d0 < 0:
		if d1 > 0 {
			to = -d0 / d1
		}
	case d1 >= 0:
		return never
	default:
		from = d0 / -d1
	}
	x := from + firstBelow(shifted(c0, c1, c2, from))
	if x >= to {
		return never
	}
	return x
}
