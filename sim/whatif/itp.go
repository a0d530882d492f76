package whatif

import "math"

// itp narrows a bracket of a root by the method that interpolates, truncates and
// projects: I. F. D. Oliveira and R. H. C. Takahashi, An enhancement of the bisection
// method average performance preserving minmax optimality, ACM Trans. Math. Softw. 47
// (2020) 1, article 5. It takes no more than slack evaluations more than bisection for
// any function, and converges faster than linearly where the function is smooth.
type itp struct {
	a, b   float64 // ends, a below b
	fa, fb float64 // of unlike signs
	within float64 // it is done when the ends are this far apart
	k1     float64 // of the truncation k1 (b - a)²
	least  float64 // that it is at least, so that a good guess closes the bracket from both sides
	left   int     // evaluations, at most
}

// slack is n0 of the paper: how many more evaluations than bisection it may take.
const slack = 1

// newITP begins between two ends, f of which have unlike signs, to narrow them to
// within.
func newITP(a, b, fa, fb, within float64) *itp {
	if a > b {
		a, b, fa, fb = b, a, fb, fa
	}
	return &itp{a: a, b: b, fa: fa, fb: fb, within: within, k1: 0.2 / (b - a), left: bisections(a, b, within) + slack}
}

// bisections is how many evaluations bisection takes.
func bisections(a, b, within float64) int {
	f, n := math.Frexp(math.Abs(b-a) / within)
	if f == 0.5 {
		n-- // a whole power of 2
	}
	return max(0, n)
}

// done says that the ends are near enough to each other, but for rounding.
func (p *itp) done() bool { return p.b-p.a <= p.within || p.left <= 0 }

// next is where to evaluate.
func (p *itp) next() float64 {
	mid, width := (p.a+p.b)/2, p.b-p.a
	radius := p.within/2*math.Ldexp(1, p.left) - width/2
	by := (p.fb*p.a - p.fa*p.b) / (p.fb - p.fa) // regula falsi
	if math.IsNaN(by) || math.IsInf(by, 0) {
		by = mid
	}
	side := math.Copysign(1, mid-by)
	x := mid
	if cut := max(p.least, p.k1*width*width); cut <= math.Abs(mid-by) {
		x = by + side*cut
	}
	if math.Abs(x-mid) > radius {
		x = mid - side*max(0, radius)
	}
	return x
}

// put takes f at x, which lies between the ends.
func (p *itp) put(x, f float64) {
	p.left--
	switch {
	case f == 0:
		p.a, p.b, p.fa, p.fb = x, x, 0, 0
	case (f > 0) == (p.fb > 0):
		p.b, p.fb = x, f
	default:
		p.a, p.fa = x, f
	}
}
