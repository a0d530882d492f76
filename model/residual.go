package model

import (
	"math"

	"rollchange/model/portable"
)

// ResidualCost is what the set point of the residual is weighed with. The true
// rest is the set point plus an error. A set point that is too low runs rolls
// out, one too high leaves web on every core.
type ResidualCost struct {
	Web      float64 // currency per m of web
	SetPoint bool    // the web is counted by the set point, not by what is really left
	RunOut   float64 // currency per run-out
	Short    float64 // currency per m by which the web falls short, in place of RunOut
	Error    Dist    // m, signed
}

// At is the cost of one roll at set point x, m, in closed form for a normal
// error with mean m and standard deviation s, z = (x + m)/s:
//
//	web really left:  c (x+m) Φ(z) + c s φ(z)     by set point:  c x
//	run-outs:         K Φ(-z)
//	web short:        p (s φ(z) - (x+m) Φ(-z))
//
// For any other law the means are sums over 20,000 quantiles. Derived from the
// normal law; the newsvendor and order-point models of stock keeping are of the
// same form.
func (r ResidualCost) At(x float64) float64 {
	e := r.Error
	var left, out, short float64
	if e.Law == Normal && e.Signed && e.B > 0 {
		y := x + e.A
		z := y / e.B
		phi := portable.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
		low := portable.Erfc(z/math.Sqrt2) / 2 // Φ(-z)
		left = y*(1-low) + e.B*phi
		out, short = low, e.B*phi-y*low
	} else {
		const n = 20000
		for i := range n {
			y := x + e.Quantile((float64(i)+0.5)/n)
			if y < 0 {
				out += 1. / n
				short -= y / n
			} else {
				left += y / n
			}
		}
	}
	if r.SetPoint {
		left = x
	}
	return r.Web*left + r.RunOut*out + r.Short*short
}

// Best is the set point in m that costs least a roll, not below 0.
func (r ResidualCost) Best() float64 { return r.BestFrom(0) }

// BestFrom is the set point in m that costs least a roll, of those that are not
// below least. When the error does not vary it is the least that never runs out.
//
// The cost falls, then rises: with a run-out's cost it can also rise below the
// least, so the search begins above, where it only rises, and halves its steps
// down to 1e-9 of the error's spread.
func (r ResidualCost) BestFrom(least float64) float64 {
	spread := r.Error.SD()
	low := max(least, -r.Error.Mean())
	if spread == 0 {
		return low
	}
	// Golden section from the far side of the least, which is the last.
	high := low + 12*spread
	for r.At(low) < r.At(low+1e-6*spread) && low > least {
		low = max(least, low-spread)
	}
	ratio := (math.Sqrt(5) - 1) / 2
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	fa, fb := r.At(a), r.At(b)
	for high-low > 1e-9*spread && low < a && b < high { // or down to neighbouring numbers, far from 0
		if fa <= fb {
			high, b, fb = b, a, fa
			a = high - ratio*(high-low)
			fa = r.At(a)
		} else {
			low, a, fa = a, b, fb
			b = low + ratio*(high-low)
			fb = r.At(b)
		}
	}
	x := (low + high) / 2
	if r.At(least) <= r.At(x) { // web so dear that run-outs are cheaper
		return least
	}
	return x
}

// RunOuts is the chance that a roll runs out at set point x.
func (r ResidualCost) RunOuts(x float64) float64 {
	if r.Error.Law == Normal && r.Error.Signed {
		return portable.Erfc((x+r.Error.A)/r.Error.B/math.Sqrt2) / 2
	}
	return r.Error.cdf(math.Nextafter(-x, math.Inf(-1)))
}
