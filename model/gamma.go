package model

import (
	"math"

	"rollchange/model/portable"
)

// gammaPQ is the regularized incomplete gamma functions, lower and upper,
//
//	P(a, x) = 1/Gamma(a) * integral from 0 to x of t^(a-1) e^-t dt,  a > 0, x >= 0
//	Q(a, x) = 1 - P(a, x)
//
// P by its series for x < a + 1, Q by Legendre's continued fraction else
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 6.5.29 and
// 6.5.31; the fraction evaluated forward by the modified method of Lentz), so
// that each is accurate where it is small. The front factor x^a e^-x/Gamma(a)
// loses about a ln a units in the last place: relative error below 1e-12 up to
// a = 1000. Both need a number of steps that grows with the root of a, so beyond
// farShape the expansion for large a takes over.
func gammaPQ(a, x float64) (p, q float64) {
	switch {
	case x <= 0:
		return 0, 1
	case math.IsInf(x, 1):
		return 1, 0
	}
	if a > farShape {
		return gammaFar(a, x)
	}
	lg := portable.Lgamma(a)
	front := portable.Exp(a*portable.Log(x) - x - lg)
	if x < a+1 {
		term := 1 / a
		sum := term
		for n := a + 1; term > sum*1e-17; n++ {
			term *= x / n
			sum += term
		}
		p = min(1, front*sum)
		return p, 1 - p
	}
	const tiny = 1e-300
	b := x + 1 - a
	c, d := 1/tiny, 1/b
	h := d
	for i := 1.0; i < 100000; i++ {
		an := -i * (i - a)
		b += 2
		if d = an*d + b; math.Abs(d) < tiny {
			d = tiny
		}
		if c = b + an/c; math.Abs(c) < tiny {
			c = tiny
		}
		d = 1 / d
		delta := d * c
		h *= delta
		if math.Abs(delta-1) < 1e-15 {
			break
		}
	}
	q = min(1, front*h)
	return 1 - q, q
}

const farShape = 1e6

// gammaFar is gammaPQ for large a, by the first term of Temme's uniform expansion
// (NIST Digital Library of Mathematical Functions, 8.12.3, 8.12.4 and 8.12.7):
//
//	Q = erfc(eta sqrt(a/2))/2 + R,    P = erfc(-eta sqrt(a/2))/2 - R
//	R = exp(-a eta²/2)/sqrt(2 pi a) (1/mu - 1/eta)
//	mu = x/a - 1,    eta²/2 = mu - ln(1 + mu),    eta of the sign of mu
//
// The term left out is of the order of 1/a of R, so its relative error is below 1e-6 a far tail out.
func gammaFar(a, x float64) (p, q float64) {
	mu := (x - a) / a
	half := mu - portable.Log1p(mu) // eta²/2
	if math.Abs(mu) < 0.01 {        // where that difference has lost its digits
		half = 0
		for n, power := 2.0, mu*mu; math.Abs(power) > 1e-30*mu*mu && n < 20; n++ {
			half += power / n
			power *= -mu
		}
	}
	eta := math.Copysign(math.Sqrt(2*half), mu)
	c0 := -1./3 + eta/12 // its limit at eta = 0
	if math.Abs(eta) > 1e-3 {
		c0 = 1/mu - 1/eta
	}
	r := portable.Exp(-a*half) / math.Sqrt(2*math.Pi*a) * c0
	s := eta * math.Sqrt(a/2)
	return max(0, min(1, portable.Erfc(-s)/2-r)), max(0, min(1, portable.Erfc(s)/2+r))
}
