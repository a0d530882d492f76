package model

import "math"

// gammaUpper is the regularized upper incomplete gamma function
//
//	Q(a, x) = 1/Gamma(a) * integral from x to infinity of t^(a-1) e^-t dt,  a > 0, x >= 0
//
// by the series of 1 - Q for x < a + 1 and Legendre's continued fraction else
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 6.5.29 and
// 6.5.31; the fraction evaluated forward by Lentz's method). Relative error
// about 1e-14, in the far tail too.
func gammaUpper(a, x float64) float64 {
	if x <= 0 {
		return 1
	}
	lg, _ := math.Lgamma(a)
	front := math.Exp(a*math.Log(x) - x - lg)
	if x < a+1 {
		term := 1 / a
		sum := term
		for n := a + 1; term > sum*1e-17; n++ {
			term *= x / n
			sum += term
		}
		return 1 - front*sum
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
	return front * h
}
