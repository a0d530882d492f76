package fit

import (
	"rollchange/model"
	"rollchange/model/portable"
)

// narrow is how wide an interval may be, of its middle x and of the standard deviation of
// all, for its chance to be told by the density f there,
//
//	ln(w f(x)) + w²/24 f''(x)/f(x)
//
// with a next term of w⁴/1920 times the fourth derivative over f, of the order of 1e-10. A
// log in seconds of gaps of hours then costs a few sums a likelihood, as exact values do.
const narrow = 0.02

// mostBent is the mean correction for the width beyond which a curve is so much narrower
// than the values that it does not hold: no such curve is their law.
const mostBent = 0.01

// bends are the sums that the corrections for the widths take, of n w²/24 and that over
// powers of x, with the logarithm of x.
type bends struct{ all, overX, overXX, log, logs float64 }

func (b *bends) take(r row) {
	k := r.n * r.width * r.width / 24
	b.all += k
	k /= r.x
	b.overX += k
	k /= r.x
	b.overXX += k
	b.log += k * r.log
	b.logs += k * r.log * r.log
}

// of is the sum of n w²/24 f”/f of a curve; the rows are needed where sums do not do.
func (b *bends) of(c curve, rows []row) float64 {
	if b.all == 0 {
		return 0
	}
	switch c.law {
	case model.Exponential:
		return b.all / (c.a * c.a)
	case model.Lognormal: // f''/f = (A² + A - 1/sigma²)/x², A = 1 + (ln x - mu)/sigma²
		k := 1 / (c.b * c.b)
		at := 1 - c.a*k
		return (at*at+at-k)*b.overXX + (2*at+1)*k*b.log + k*k*b.logs
	case model.Gamma:
		return (c.a-1)*(c.a-2)*b.overXX - 2*(c.a-1)/c.b*b.overX + b.all/(c.b*c.b)
	}
	sum, scale := 0.0, portable.Log(c.b)
	for _, r := range rows {
		if r.width > 0 {
			h := portable.Exp(c.a * (r.log - scale))
			at := c.a - 1 - c.a*h
			sum += r.n * r.width * r.width / 24 / (r.x * r.x) * (at*at - (c.a - 1) - c.a*(c.a-1)*h)
		}
	}
	return sum
}
