package finance

import (
	"math"
	"slices"
)

// IRR returns every internal rate of return of flows above -100 %, rising: the
// rates at which their net present value is 0. No rate means that there is
// none, more than one that it is not unique and should not be used to decide
// (ASTM E1057). Flows that change sign once have at most one (Descartes' rule);
// others are searched for all of theirs. A rate at which the value touches 0
// without crossing is found only when rounding lets it.
func IRR(flows []float64) []float64 {
	flows = trim(flows)
	var rates []float64
	for _, x := range positiveRoots(flows) {
		rates = append(rates, 1/x-1)
	}
	slices.Sort(rates)
	return rates
}

// trim cuts zeros off both ends: years in which nothing flows.
func trim(flows []float64) []float64 {
	for len(flows) > 0 && flows[len(flows)-1] == 0 {
		flows = flows[:len(flows)-1]
	}
	for len(flows) > 0 && flows[0] == 0 {
		flows = flows[1:]
	}
	return flows
}

// Turns counts the changes of sign of a row, zeros left out. Flows have no more internal
// rates of return than that (Descartes' rule).
func Turns(c []float64) int {
	n, last := 0, 0.0
	for _, x := range c {
		if x == 0 {
			continue
		}
		if last != 0 && (x > 0) != (last > 0) {
			n++
		}
		last = x
	}
	return n
}

// positiveRoots returns the roots above 0 of the polynomial with coefficients
// c, lowest power first, rising. Between two neighbouring roots of its
// derivative a polynomial is monotone, so each stretch holds one root at most,
// found by bisection.
func positiveRoots(c []float64) []float64 {
	switch n := Turns(c); {
	case n == 0:
		return nil
	case n == 1:
		if x, ok := bracketed(c, 0, bound(c)); ok {
			return []float64{x}
		}
		return nil
	}
	d := make([]float64, len(c)-1)
	largest := 0.0
	for i := range d {
		d[i] = c[i+1] * float64(i+1)
		largest = max(largest, math.Abs(d[i]))
	}
	for i := range d {
		d[i] /= largest
	}
	for len(d) > 0 && d[0] == 0 {
		d = d[1:]
	}
	var roots []float64
	low := 0.0
	for _, high := range append(positiveRoots(d), bound(c)) {
		if high <= low {
			continue
		}
		if x, ok := bracketed(c, low, high); ok && (len(roots) == 0 || x > roots[len(roots)-1]) {
			roots = append(roots, x)
		}
		low = high
	}
	return roots
}

// bound is above every root: 1 + the largest coefficient over the leading one (Cauchy).
func bound(c []float64) float64 {
	lead, largest := math.Abs(c[len(c)-1]), 0.0
	for _, x := range c[:len(c)-1] {
		largest = max(largest, math.Abs(x))
	}
	return 1 + largest/lead
}

func horner(c []float64, x float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// sloped is a polynomial and its derivative.
func sloped(c []float64, x float64) (y, slope float64) {
	for i := len(c) - 1; i >= 0; i-- {
		slope = slope*x + y
		y = y*x + c[i]
	}
	return y, slope
}

// exact is the step of Newton, as a share of the root, after which the next is rounding:
// the error is then its square times what a root is no double one by.
const exact = 1e-11

// bracketed finds the root of c in (low, high] when its sign changes there, to the last
// bits: by steps of Newton, and by halving where those leave the bracket or creep. A power
// that overflows keeps its sign, so infinite values do no harm.
func bracketed(c []float64, low, high float64) (float64, bool) {
	a, b := horner(c, low), horner(c, high)
	if b == 0 {
		return high, true
	}
	if a == 0 || math.IsNaN(a) || math.IsNaN(b) || (a > 0) == (b > 0) {
		return 0, false
	}
	x := low + (high-low)/2
	if low < 1 && high > 1 { // a rate of 0 %
		x = 1
	}
	for i := 1; i < 400 && high-low > 4e-16*high; i++ {
		y, slope := sloped(c, x)
		if y == 0 {
			return x, true
		}
		if (y > 0) == (a > 0) {
			low = x
		} else {
			high = x
		}
		next := x - y/slope
		if step := math.Abs(next - x); step <= exact*x && !math.IsInf(slope, 0) {
			return min(max(next, low), high), true
		}
		if !(next > low && next < high) || i%6 == 0 {
			next = low + (high-low)/2
		}
		x = next
	}
	return low + (high-low)/2, true
}
