package estimate

import (
	"math"
	"sync"

	"rollchange/model/portable"
)

// Moments is a running mean, variance and third moment (Welford, Technometrics 4
// (1962) 419; Terriberry's form of the third). The zero value holds no observation.
type Moments struct {
	n          int
	mean, m, c float64 // mean; sums of squares and of cubes about it
}

// Add takes one observation.
func (m *Moments) Add(x float64) {
	m.n++
	n := float64(m.n)
	d := x - m.mean
	step := d / n
	square := d * step * (n - 1)
	m.mean += step
	m.c += square*step*(n-2) - 3*step*m.m
	m.m += square
}

// N is the number of observations.
func (m *Moments) N() int { return m.n }

// Mean is their mean, 0 when there is none.
func (m *Moments) Mean() float64 { return m.mean }

// SD is their standard deviation with divisor n-1, NaN below two observations.
//
//go:noinline
func (m *Moments) SD() float64 {
	if m.n < 2 {
		return math.NaN()
	}
	return math.Sqrt(max(0, m.m) / float64(m.n-1))
}

// skew is their skewness, the third central moment over the 3/2 power of the
// second, both with divisor n; 0 when they do not vary, NaN below two.
func (m *Moments) skew() float64 {
	switch {
	case m.n < 2:
		return math.NaN()
	case m.m <= 0:
		return 0
	}
	return math.Sqrt(float64(m.n)) * m.c / portable.Pow(m.m, 1.5)
}

// HalfWidth is the half width of the Student t interval of the mean at the
// given confidence (0..1), NaN below two observations.
func (m *Moments) HalfWidth(confidence float64) float64 {
	if m.n < 2 {
		return math.NaN()
	}
	return StudentT(0.5+confidence/2, float64(m.n-1)) * m.SD() / math.Sqrt(float64(m.n))
}

// StudentT is the p-quantile of Student's t with nu degrees of freedom. A run asks
// for the same few again and again, so they are kept.
func StudentT(p, nu float64) float64 {
	key := [2]float64{p, nu}
	if t, ok := quantiles.Load(key); ok {
		return t.(float64)
	}
	t := portable.StudentQuantile(p, nu)
	quantiles.Store(key, t)
	return t
}

var quantiles sync.Map
