package fit

import (
	"math"

	"rollchange/model"
	"rollchange/model/portable"
)

// curve is a law above its least value in the parameters that it is fitted by:
//
//	exponential   theta[0] = ln mean
//	lognormal     theta[0] = mu, theta[1] = ln sigma, of the logarithm
//	Weibull       theta[0] = ln scale, theta[1] = ln shape
//	gamma         theta[0] = ln mean, theta[1] = ln shape
//
// All are free of bounds, and the likelihood is near a parabola in them.
type curve struct {
	law  model.Law
	a, b float64 // exponential: mean; lognormal: mu, sigma; Weibull, gamma: shape, scale
	lg   float64 // gamma: ln Γ(shape)
}

// point is a place in the parameters of a curve.
type point [2]float64

// families are the laws that are fitted, the simplest first.
var families = [...]model.Law{model.Exponential, model.Lognormal, model.Gamma, model.Weibull}

// free is how many parameters a family has.
func free(law model.Law) int {
	if law == model.Exponential {
		return 1
	}
	return 2
}

// widths are what theta[1] may be: a spread from a thousandth of the mean to what
// model and scenario take. A maximum at an end is none.
func widths(law model.Law) (low, high float64) {
	switch law {
	case model.Lognormal:
		return portable.Log(1e-3), portable.Log(3)
	case model.Gamma:
		return portable.Log(1e-3), portable.Log(1e6)
	}
	return portable.Log(0.2), portable.Log(1e3)
}

func curveAt(law model.Law, p point) curve {
	c := curve{law: law}
	switch law {
	case model.Exponential:
		c.a = portable.Exp(p[0])
	case model.Lognormal:
		c.a, c.b = p[0], portable.Exp(p[1])
	case model.Weibull:
		c.a, c.b = portable.Exp(p[1]), portable.Exp(p[0])
	case model.Gamma:
		c.a = portable.Exp(p[1])
		c.b = portable.Exp(p[0] - p[1])
		c.lg = portable.Lgamma(c.a)
	}
	return c
}

// pointOf is where the curve of d is.
func pointOf(d model.Dist) point {
	switch d.Law {
	case model.Exponential:
		return point{portable.Log(d.A - d.Least)}
	case model.Lognormal:
		mu, sigma := d.LognormalParams()
		return point{mu, portable.Log(sigma)}
	case model.Weibull:
		return point{portable.Log(d.B), portable.Log(d.A)}
	}
	return point{portable.Log(d.A * d.B), portable.Log(d.A)}
}

// dist is the law of a curve that begins at least.
func (c curve) dist(least float64) model.Dist {
	d := model.Dist{Law: c.law, A: c.a, B: c.b, Least: least}
	switch c.law {
	case model.Exponential:
		d.A += least
	case model.Lognormal:
		mean := portable.Exp(c.a + c.b*c.b/2)
		d.A, d.B = least+mean, mean*math.Sqrt(portable.Expm1(c.b*c.b))
	}
	return d
}

// tails are the chances of at most x and of more, each accurate where it is small.
func (c curve) tails(x float64) (lower, upper float64) {
	switch {
	case x <= 0:
		return 0, 1
	case math.IsInf(x, 1):
		return 1, 0
	}
	switch c.law {
	case model.Exponential:
		return -portable.Expm1(-x / c.a), portable.Exp(-x / c.a)
	case model.Weibull:
		h := portable.Pow(x/c.b, c.a)
		return -portable.Expm1(-h), portable.Exp(-h)
	case model.Lognormal:
		z := (portable.Log(x) - c.a) / (c.b * math.Sqrt2)
		if z < 0 {
			lower = portable.Erfc(-z) / 2
			return lower, 1 - lower
		}
		upper = portable.Erfc(z) / 2
		return 1 - upper, upper
	}
	return portable.GammaPQ(c.a, x/c.b)
}

// logUpper is the logarithm of the chance of more than x, also where that is too
// small for a number: there by the first terms of the asymptotic series (NIST Digital
// Library of Mathematical Functions, 7.12.1 and 8.11.2).
func (c curve) logUpper(x float64) float64 {
	if x <= 0 {
		return 0
	}
	switch c.law {
	case model.Exponential:
		return -x / c.a
	case model.Weibull:
		return -portable.Pow(x/c.b, c.a)
	}
	if _, upper := c.tails(x); upper > 1e-280 {
		return portable.Log(upper)
	}
	if c.law == model.Lognormal {
		z := (portable.Log(x) - c.a) / (c.b * math.Sqrt2)
		return -z*z - portable.Log(2*z*math.Sqrt(math.Pi)) + portable.Log1p(-1/(2*z*z))
	}
	y := x / c.b
	return (c.a-1)*portable.Log(y) - y - c.lg - portable.Log1p(-(c.a-1)/y)
}

// logDensity is the logarithm of the density at x.
func (c curve) logDensity(x float64) float64 {
	switch c.law {
	case model.Exponential:
		return -portable.Log(c.a) - x/c.a
	case model.Weibull:
		l := portable.Log(x / c.b)
		return portable.Log(c.a/c.b) + (c.a-1)*l - portable.Exp(c.a*l)
	case model.Lognormal:
		l := portable.Log(x)
		z := (l - c.a) / c.b
		return -l - portable.Log(c.b*math.Sqrt(2*math.Pi)) - z*z/2
	}
	return (c.a-1)*portable.Log(x/c.b) - x/c.b - c.lg - portable.Log(c.b)
}

// chance is the logarithm of the chance of low to high, whose tails are known. Where
// their difference loses digits, which the derivatives of a likelihood would miss, it is
// the integral of the density, by three points of Gauss and Legendre.
func (c curve) chance(low, high float64, tail, next [2]float64) float64 {
	if math.IsInf(high, 1) {
		return c.logUpper(low)
	}
	p, side := next[0]-tail[0], next[0]
	if tail[0] > 0.5 {
		p, side = tail[1]-next[1], tail[1]
	}
	if p > 1e-3*side {
		return portable.Log(p)
	}
	mid, half := (low+high)/2, (high-low)/2
	off := half * math.Sqrt(0.6)
	before, at, after := c.logDensity(mid-off), c.logDensity(mid), c.logDensity(mid+off)
	most := max(before, at, after)
	return most + portable.Log(half*(5*portable.Exp(before-most)+8*portable.Exp(at-most)+5*portable.Exp(after-most))/9)
}
