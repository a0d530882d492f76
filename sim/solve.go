package sim

import "math"

// Every crossing in the simulation is a root of a quadratic
//
//	q(x) = c0 + c1 x + c2 x²,  x >= 0, s since now
//
// because between two events speeds are linear in time and lengths quadratic.
// The functions here return the time to the crossing, or +Inf for never.

var never = math.Inf(1)

// firstBelow returns the least x >= 0 with q(x) <= 0. It uses the form of the
// root that does not cancel, 2 c0 / (-c1 + sqrt(c1² - 4 c0 c2)): with c0 > 0 it
// is the first root for either sign of c2.
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
	disc := c1*c1 - 4*c0*c2
	if disc < 0 {
		return never
	}
	den := -c1 + math.Sqrt(disc)
	if den <= 0 {
		return never
	}
	return 2 * c0 / den
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
