package whatif

import (
	"math"
	"slices"

	"rollchange/model/portable"
)

// Indices are the shares of the variance of an answer that an input accounts
// for: alone (first order) and with all its interactions (total).
type Indices struct{ First, Total float64 }

// surface is a polynomial fitted to an answer over the unit cube: a sum of products
// of Legendre polynomials, which are orthonormal over uniform inputs, so that the
// squares of the coefficients are what each product adds to the variance (B. Sudret,
// Reliab. Eng. Syst. Saf. 93 (2008) 964-979).
type surface struct {
	terms [][]int   // the degree in each input
	coefs []float64 // of them
	// missed is the share of the variance that the surface misses at a point that it was
	// not fitted to, by leaving out one after the other.
	missed float64
}

// highest is the highest degree of a surface, and mostTerms the most of its terms for
// each point.
const (
	highest   = 12
	mostTerms = 0.5
)

// fitSurface fits the surface that misses least of y at the points x: of those with
// all products up to a degree, and of those with fewer products of many inputs. It is
// nil where there are too few points, or y does not vary.
func fitSurface(x [][]float64, y []float64) *surface {
	var best *surface
	if len(x) == 0 {
		return nil
	}
	for _, norm := range []float64{1, 0.75, 0.5} {
		for degree := 1; degree <= highest; degree++ {
			terms := termsOf(len(x[0]), degree, norm, int(mostTerms*float64(len(x))))
			if terms == nil {
				break
			}
			if s := fitTerms(terms, x, y); s != nil && (best == nil || s.missed < best.missed) {
				best = s
			}
		}
	}
	return best
}

// termsOf are the products in k inputs up to a degree: those whose degrees d have
// (sum d^norm)^(1/norm) <= degree. It is nil where they are more than most.
func termsOf(k, degree int, norm float64, most int) [][]int {
	var list [][]int
	term := make([]int, k)
	limit := portable.Pow(float64(degree), norm) * (1 + 1e-9)
	var add func(i int, used float64) bool
	add = func(i int, used float64) bool {
		if i == k {
			list = append(list, slices.Clone(term))
			return len(list) <= most
		}
		for d := 0; used+portable.Pow(float64(d), norm) <= limit; d++ {
			term[i] = d
			if !add(i+1, used+portable.Pow(float64(d), norm)) {
				return false
			}
		}
		term[i] = 0
		return true
	}
	if !add(0, 0) {
		return nil
	}
	return list
}

// legendre are the polynomials up to a degree at x of [0, 1], orthonormal there:
// sqrt(2n+1) P_n(2x-1).
func legendre(x float64, degree int) []float64 {
	t := 2*x - 1
	p := make([]float64, degree+1)
	p[0] = 1
	if degree > 0 {
		p[1] = t
	}
	for n := 1; n < degree; n++ {
		p[n+1] = (float64(2*n+1)*t*p[n] - float64(n)*p[n-1]) / float64(n+1)
	}
	for n := range p {
		p[n] *= math.Sqrt(float64(2*n + 1))
	}
	return p
}

// fitTerms fits the coefficients by least squares. The products are nearly
// orthogonal over points that fill the cube, so the normal equations are well
// conditioned. A point left out changes its own residual by one over one less its
// leverage.
func fitTerms(terms [][]int, x [][]float64, y []float64) *surface {
	n, m := len(x), len(terms)
	rows := make([][]float64, n)
	for i := range x {
		at := make([][]float64, len(x[i]))
		for k := range at {
			at[k] = legendre(x[i][k], highest)
		}
		rows[i] = make([]float64, m)
		for j, term := range terms {
			rows[i][j] = 1
			for k, d := range term {
				rows[i][j] *= at[k][d]
			}
		}
	}
	gram := make([][]float64, m)
	right := make([]float64, m)
	for a := range gram {
		gram[a] = make([]float64, m)
		for b := range a + 1 {
			for i := range rows {
				gram[a][b] += rows[i][a] * rows[i][b]
			}
		}
		for i := range rows {
			right[a] += rows[i][a] * y[i]
		}
	}
	root := cholesky(gram)
	if root == nil {
		return nil
	}
	s := &surface{terms: terms, coefs: backward(root, forward(root, right))}
	mean, variance, missed := 0.0, 0.0, 0.0
	for _, v := range y {
		mean += v / float64(n)
	}
	for i, v := range y {
		variance += (v - mean) * (v - mean)
		fit, leverage := 0.0, 0.0
		for j, c := range s.coefs {
			fit += c * rows[i][j]
		}
		for _, u := range forward(root, rows[i]) {
			leverage += u * u
		}
		if leverage > 1-1e-9 {
			return nil
		}
		d := (v - fit) / (1 - leverage)
		missed += d * d
	}
	if !(variance > 0) {
		return nil
	}
	s.missed = missed / variance
	return s
}

// indices are the shares of the variance of the surface that each of k inputs
// accounts for, alone and with all its interactions.
func (s *surface) indices(k int) []Indices {
	out := make([]Indices, k)
	all := 0.0
	for j, term := range s.terms {
		in, with := -1, 0
		for i, d := range term {
			if d > 0 {
				in, with = i, with+1
			}
		}
		if with == 0 {
			continue
		}
		v := s.coefs[j] * s.coefs[j]
		all += v
		if with == 1 {
			out[in].First += v
		}
		for i, d := range term {
			if d > 0 {
				out[i].Total += v
			}
		}
	}
	for i := range out {
		if all > 0 {
			out[i].First /= all
			out[i].Total /= all
		}
	}
	return out
}

// cholesky is the lower root of a symmetric matrix, of which the lower half is given;
// nil where it is not positive definite.
func cholesky(a [][]float64) [][]float64 {
	for j := range a {
		for k := range j {
			for i := j; i < len(a); i++ {
				a[i][j] -= a[i][k] * a[j][k]
			}
		}
		if !(a[j][j] > 1e-9) {
			return nil
		}
		d := math.Sqrt(a[j][j])
		for i := j; i < len(a); i++ {
			a[i][j] /= d
		}
	}
	return a
}

// forward solves root x = b, and backward root' x = b.
func forward(root [][]float64, b []float64) []float64 {
	x := slices.Clone(b)
	for i := range x {
		for k := range i {
			x[i] -= root[i][k] * x[k]
		}
		x[i] /= root[i][i]
	}
	return x
}

func backward(root [][]float64, b []float64) []float64 {
	x := slices.Clone(b)
	for i := len(x) - 1; i >= 0; i-- {
		for k := i + 1; k < len(x); k++ {
			x[i] -= root[k][i] * x[k]
		}
		x[i] /= root[i][i]
	}
	return x
}
