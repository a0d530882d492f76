package sim

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Moments is a running mean and variance (Welford, Technometrics 4 (1962) 419).
// The zero value holds no observation.
type Moments struct {
	n       int
	mean, m float64
}

// Add takes one observation.
func (m *Moments) Add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / float64(m.n)
	m.m += d * (x - m.mean)
}

// N is the number of observations.
func (m *Moments) N() int { return m.n }

// Mean is their mean, 0 when there is none.
func (m *Moments) Mean() float64 { return m.mean }

// SD is their standard deviation with divisor n-1, NaN below two observations.
func (m *Moments) SD() float64 {
	if m.n < 2 {
		return nan
	}
	return math.Sqrt(m.m / float64(m.n-1))
}

// HalfWidth is the half width of the Student t interval of the mean at the
// given confidence (0..1), NaN below two observations.
func (m *Moments) HalfWidth(confidence float64) float64 {
	if m.n < 2 {
		return nan
	}
	return StudentT(0.5+confidence/2, float64(m.n-1)) * m.SD() / math.Sqrt(float64(m.n))
}

// StudentT is the p-quantile of Student's t with nu degrees of freedom.
func StudentT(p, nu float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}
