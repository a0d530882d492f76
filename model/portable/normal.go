package portable

import "math"

// NormalQuantile is z where the standard normal law has p below it, 0 < p < 1: -Inf at
// 0, +Inf at 1, else NaN. It is algorithm AS 241, PPND16, of M. J. Wichura, Applied
// Statistics 37 (1988) 477, right to about one part in 10^16; here its error is below
// 6 ulp. Above the middle z has the digits that p has left beside 1; -z of the law above
// has all, NormalQuantile(q) = -z for q = 1-p.
func NormalQuantile(p float64) float64 {
	q := p - 0.5
	if math.Abs(q) <= 0.425 {
		r := 0.180625 - float64(q*q)
		return q * quotient(&central, r)
	}
	tail := p
	if q > 0 {
		tail = 1 - p
	}
	if !(tail > 0) {
		if tail == 0 {
			return math.Inf(int(math.Copysign(1, q)))
		}
		return math.NaN()
	}
	r := math.Sqrt(-Log(tail))
	z := 0.0
	if r <= 5 {
		z = quotient(&near, r-1.6)
	} else {
		z = quotient(&far, r-5)
	}
	return math.Copysign(z, q)
}

// pair is two polynomials, from their last term.
type pair struct{ above, below [8]float64 }

func quotient(f *pair, r float64) float64 {
	a, b := &f.above, &f.below
	above, below := float64(a[0]*r)+a[1], float64(b[0]*r)+b[1]
	above, below = float64(above*r)+a[2], float64(below*r)+b[2]
	above, below = float64(above*r)+a[3], float64(below*r)+b[3]
	above, below = float64(above*r)+a[4], float64(below*r)+b[4]
	above, below = float64(above*r)+a[5], float64(below*r)+b[5]
	above, below = float64(above*r)+a[6], float64(below*r)+b[6]
	above, below = float64(above*r)+a[7], float64(below*r)+b[7]
	return above / below
}

var central = pair{
	[8]float64{2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
		1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080e0},
	[8]float64{5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4,
		5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1},
}

var near = pair{
	[8]float64{7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0,
		3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0, 1.42343711074968357734e0},
	[8]float64{1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1,
		6.89767334985100004550e-1, 1.67638483018380384940e0, 2.05319162663775882187e0, 1},
}

var far = pair{
	[8]float64{2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
		2.96560571828504891230e-1, 1.78482653991729133580e0, 5.46378491116411436990e0, 6.65790464350110377720e0},
	[8]float64{2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4,
		1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1},
}
