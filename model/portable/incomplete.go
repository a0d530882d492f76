package portable

import "math"

// GammaPQ is the regularized incomplete gamma functions, lower and upper, of a above 0
// and x from 0 on:
//
//	P(a, x) = 1/Gamma(a) * integral from 0 to x of t^(a-1) e^-t dt
//	Q(a, x) = 1 - P(a, x)
//
// P by its series for x < a + 1, Q by Legendre's continued fraction else
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 6.5.29 and 6.5.31), so
// that each is accurate where it is small: relative error below 1e-13 up to a = 1000,
// 1e-11 up to 1e6. Both need a number of steps that grows with the root of a, so beyond
// farShape the expansion for large a takes over.
func GammaPQ(a, x float64) (p, q float64) {
	switch {
	case x <= 0:
		return 0, 1
	case math.IsInf(x, 1):
		return 1, 0
	case a > farShape:
		return gammaFar(a, x)
	}
	p, q, _ = gammaPQ(a, x)
	return p, q
}

// gammaPQ is GammaPQ and its density by log x, x^a e^-x / Gamma(a).
func gammaPQ(a, x float64) (p, q, density float64) {
	density = gammaDensity(a, x)
	if x < a+1 {
		term := 1 / a
		sum := term
		for n := a + 1; term > sum*1e-17; n++ {
			term = float64(term * (x / n))
			sum += term
		}
		p = min(1, density*sum)
		return p, 1 - p, density
	}
	if density == 0 { // however far out
		return 1, 0, 0
	}
	// b_0 = x + 1 - a, then a_i = -i (i - a), b_i = b_0 + 2 i
	q = min(1, density*fraction(x+1-a, func(i float64) (above, below float64) {
		return float64(-i * (i - a)), x + 1 - a + 2*i
	}))
	return 1 - q, q, density
}

// fraction is 1/(b_0 + a_1/(b_1 + a_2/(b_2 + ...))) with what terms gives for a_i and
// b_i, by the recurrence of numerators and denominators, which needs no division but to
// see that it has converged.
func fraction(first float64, terms func(i float64) (above, below float64)) float64 {
	const large, small = 1 << 300, 1.0 / (1 << 300)
	A, B, lastA, lastB := 1.0, first, 0.0, 1.0
	h := 0.0
	for i := 1.0; i < 100000; {
		for range 4 {
			above, below := terms(i)
			A, lastA = float64(below*A)+float64(above*lastA), A
			B, lastB = float64(below*B)+float64(above*lastB), B
			i++
		}
		if math.Abs(B) > large {
			A, B, lastA, lastB = A*small, B*small, lastA*small, lastB*small
		}
		last := h
		if h = A / B; math.Abs(h-last) < 1e-15*math.Abs(h) {
			break
		}
	}
	return h
}

// gammaDensity is x^a e^-x / Gamma(a), written so that neither large numbers cancel:
//
//	(a/(2 pi))^(1/2) e^(-a h(x/a) - w(a)),    h(r) = r - 1 - log r
//
// where w is what Stirling's formula leaves.
func gammaDensity(a, x float64) float64 {
	return math.Sqrt(a/(2*math.Pi)) * Exp(-float64(a*bent(x/a, (x-a)/a))-beyondStirling(a))
}

// beyondStirling is what the logarithm of the gamma function is above (x-1/2) log x - x
// + log(2 pi)/2.
func beyondStirling(x float64) float64 {
	const halfLog2Pi = 0.91893853320467274178
	if x >= 8 {
		return stirling(x)
	}
	return Lgamma(x) - (float64((x-0.5)*Log(x)) - x + halfLog2Pi)
}

// bent is u - log r for r above 0 and u = r - 1 in digits of its own. Beside 1 it is, with
// t = u/(2+u),
//
//	u t - 2 (t³/3 + t⁵/5 + ...)
func bent(r, u float64) float64 {
	if math.Abs(u) > 0.3 {
		return u - Log(r)
	}
	t := u / (2 + u)
	t2 := float64(t * t)
	power, sum := float64(t*t2), 0.0
	for n := 3.0; n < 25; n += 2 {
		sum += power / n
		power *= t2
	}
	return float64(u*t) - 2*sum
}

const farShape = 1e6

// gammaFar is GammaPQ for large a, by the first term of Temme's uniform expansion
// (NIST Digital Library of Mathematical Functions, 8.12.3, 8.12.4 and 8.12.7):
//
//	Q = erfc(eta sqrt(a/2))/2 + R,    P = erfc(-eta sqrt(a/2))/2 - R
//	R = exp(-a eta²/2)/sqrt(2 pi a) (1/mu - 1/eta)
//	mu = x/a - 1,    eta²/2 = mu - ln(1 + mu),    eta of the sign of mu
//
// The term left out is of the order of 1/a of R, so its relative error is below 1e-6 a far tail out.
func gammaFar(a, x float64) (p, q float64) {
	mu := (x - a) / a
	half := bent(x/a, mu) // eta²/2
	eta := math.Copysign(math.Sqrt(2*half), mu)
	c0 := -1./3 + eta/12 // its limit at eta = 0
	if math.Abs(eta) > 1e-3 {
		c0 = 1/mu - 1/eta
	}
	r := float64(Exp(-float64(a*half)) / math.Sqrt(2*math.Pi*a) * c0)
	s := float64(eta * math.Sqrt(a/2))
	return max(0, min(1, float64(Erfc(-s)/2)-r)), max(0, min(1, float64(Erfc(s)/2)+r))
}

// BetaPQ is the regularized incomplete beta function I_x(a, b) and 1 less it, of a and b
// above 0 and x from 0 to 1: the chances of a beta law below and above x. By the
// continued fraction of A. R. DiDonato and A. H. Morris, ACM Trans. Math. Softw. 18
// (1992) 360, there called BFRAC, from the side where it is short; relative error below
// 1e-12 up to a + b = 1e6.
func BetaPQ(a, b, x float64) (p, q float64) {
	p, q, _ = betaPQ(a, b, x, 1-x)
	return p, q
}

// betaPQ is BetaPQ with y = 1-x in digits of its own, and the density by log(x/y), x^a
// y^b / B(a, b).
func betaPQ(a, b, x, y float64) (p, q, density float64) {
	switch {
	case x <= 0:
		return 0, 1, 0
	case y <= 0:
		return 1, 0, 0
	}
	n := a + b
	if float64(x*(n+2)) > a+1 {
		q, p, density = betaPQ(b, a, y, x)
		return p, q, density
	}
	// As gammaDensity, with how far x and y are from the shares of a and b.
	off := float64(x*b) - float64(y*a)
	density = math.Sqrt(float64(a*b)/(2*math.Pi*n)) *
		Exp(-float64(a*bent(x*n/a, off/a))-float64(b*bent(y*n/b, -off/b))+(beyondStirling(n)-beyondStirling(a)-beyondStirling(b)))
	p = min(1, density*fraction(float64(a*(1-off))/(a+1), func(m float64) (above, below float64) {
		c := float64(m*(b-m)) * x / (a + 2*m - 1)
		return float64(float64((a+m-1)*(n+m-1))*x) / (a + 2*m - 1) * c,
			m + c + float64((a+m)*(1-off+float64(m*(1+y))))/(a+2*m+1)
	}))
	return p, 1 - p, density
}
