package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

func exact(x ...float64) []Value {
	list := make([]Value, len(x))
	for i := range x {
		list[i] = Value{X: x[i]}
	}
	return list
}

func rounded(step float64, x ...float64) []Value {
	list := exact(x...)
	for i := range list {
		list[i].Step = step
	}
	return list
}

func fitted(t *testing.T, r Result, law model.Law, least bool) Fitted {
	t.Helper()
	for _, f := range r.Laws {
		if f.Dist.Law == law && (f.Dist.Least > 0) == least {
			return f
		}
	}
	require.Fail(t, "not fitted", "%s", law)
	return Fitted{}
}

// Failures of air conditioning in aircraft, h (Proschan, Technometrics 5 (1963) 375),
// as data set aircondit of the R package boot 1.3.28.1 (unlimited licence). The mean
// 108.083 is printed in Davison and Hinkley, Bootstrap Methods and their Application
// (1997), example 1.1, and so is the gamma shape 0.71 (both from memory); the other
// figures are of the score equations solved to 1e-8.
func TestAirConditioning(t *testing.T) {
	r, err := Of(exact(3, 5, 7, 18, 43, 85, 91, 98, 100, 130, 230, 487), Options{Seed: 1})
	require.NoError(t, err)
	e := fitted(t, r, model.Exponential, false)
	assert.InDelta(t, 108.083, e.Dist.A, 5e-4)
	assert.InEpsilon(t, 108.083333, e.Dist.A, 1e-8)
	assert.InDelta(t, -68.19483041, e.LogLik, 1e-8)
	w := fitted(t, r, model.Weibull, false)
	assert.InDelta(t, 0.79394381, w.Dist.A, 2e-8)
	assert.InDelta(t, 94.964895, w.Dist.B, 2e-6)
	assert.InDelta(t, -67.61850987, w.LogLik, 1e-8)
	g := fitted(t, r, model.Gamma, false)
	assert.InDelta(t, 0.71, g.Dist.A, 5e-3)
	assert.InDelta(t, 0.70649317, g.Dist.A, 2e-8)
	assert.InDelta(t, 0.0065365598, 1/g.Dist.B, 1e-9)
	assert.InDelta(t, -67.64542456, g.LogLik, 1e-8)
	l := fitted(t, r, model.Lognormal, false)
	mu, sigma := l.Dist.LognormalParams()
	assert.InDelta(t, 3.82858821, mu, 1e-8)
	assert.InDelta(t, 1.52922536, sigma, 1e-8)
	assert.InDelta(t, -68.06745664, l.LogLik, 1e-8)

	assert.Equal(t, e, r.Laws[0], "AIC picks the exponential law")
	assert.InDelta(t, 138.3897, e.AIC, 5e-5)
	assert.InDelta(t, 139.2370, w.AIC, 5e-5)
	// All four are within 2 of it: twelve values cannot tell them apart, and the one
	// with the largest 99.9 % point is taken.
	assert.Equal(t, []bool{true, true, true, true}, []bool{e.Tied, w.Tied, g.Tied, l.Tied})
	assert.Equal(t, Tied, r.Why)
	assert.Equal(t, model.Lognormal, r.Answer.Law)
	assert.Equal(t, l, r.Laws[r.Taken])
	assert.Greater(t, l.Far, max(e.Far, w.Far, g.Far))
	for _, f := range r.Laws {
		assert.Zero(t, f.Dist.Least, "exact values: the likelihood of a least one has no bound")
	}

	r, err = Of(exact(3, 5, 5, 13, 14, 15, 22, 22, 23, 30, 36, 39, 44, 46, 50, 72, 79, 88, 97, 102, 139, 188, 197, 210), Options{}) // aircondit7
	require.NoError(t, err)
	assert.InEpsilon(t, 64.125, fitted(t, r, model.Exponential, false).Dist.A, 1e-8)
	w = fitted(t, r, model.Weibull, false)
	assert.InDelta(t, 1.02491926, w.Dist.A, 2e-8)
	assert.InDelta(t, 64.792374, w.Dist.B, 2e-6)
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: ten of 20 units failed, the
// others had not at 500 h. Printed: shape 1.7207, scale 606.5280, log-likelihood -75.135
// (the last from memory); solved again to more digits.
func TestWeibullOfCensoredLives(t *testing.T) {
	values := exact(54, 187, 216, 240, 244, 335, 361, 373, 375, 386)
	for range 10 {
		values = append(values, Value{X: 500, Open: true})
	}
	r, err := Of(values, Options{Seed: 1})
	require.NoError(t, err)
	assert.Equal(t, []int{20, 10, 10}, []int{r.N, r.Open, r.Observed()})
	w := fitted(t, r, model.Weibull, false)
	assert.InDelta(t, 1.7207, w.Dist.A, 1e-4)
	assert.InDelta(t, 606.5280, w.Dist.B, 1e-3)
	assert.InDelta(t, 1.7207972608, w.Dist.A, 1e-7)
	assert.InDelta(t, 606.527558, w.Dist.B, 2e-5)
	assert.InDelta(t, -75.13461816, w.LogLik, 1e-8)
	// The exponential law has the closed form: all the hours over the failures.
	assert.InEpsilon(t, 777.1, fitted(t, r, model.Exponential, false).Dist.A, 1e-8)
	assert.Greater(t, r.Judged.P, 0.05)
}

// Weights of patties, g (Delignette-Muller and Dutang, J. Statist. Softw. 64(4) (2015)):
// gamma shape 4.00834 printed. The values need not be here: n, their sum and the sum of
// their logarithms are all that the likelihood of a gamma law takes. Solved again: shape
// 4.0083390318, rate 0.054427355612, log-likelihood -1253.62511369.
func TestGammaOfItsSums(t *testing.T) {
	const n, sum, logs = 254, 18706, 1059.020003
	s := &sample{n: n, ended: n, of: n, sum: sum, meanLog: logs / n, mean: sum / float64(n), log: logs / n, sdLog: 0.5}
	p, best, ok := s.maximum(model.Gamma, s.start(model.Gamma))
	require.True(t, ok)
	d := curveAt(model.Gamma, p).dist(0)
	assert.InDelta(t, 4.00834, d.A, 5e-6)
	assert.InEpsilon(t, 4.0083390318, d.A, 1e-7)
	assert.InEpsilon(t, 0.054427355612, 1/d.B, 1e-7)
	assert.InDelta(t, -1253.62511369, best, 1e-6)
	assert.InEpsilon(t, 73.64566929, d.Mean(), 1e-8)
}

// NIST/SEMATECH e-Handbook, case study 8.2.2.3: failures of a test that ended at 1500 h.
// Worked out from the definitions: Laplace (5683 - 7500)/(1500 sqrt(10/12)) = -1.32695, Handbook 37.2281 with 20 degrees of
// freedom.
func TestTrendOfFailures(t *testing.T) {
	r := Trend([]float64{5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478}, 1500)
	assert.InDelta(t, -1.32695, r.Laplace, 5e-6)
	assert.InDelta(t, 37.2281, r.Handbook, 5e-5)
	assert.Equal(t, []int{10, 20}, []int{r.Events, r.Degrees})
	assert.InDelta(t, 0.1845, r.LaplaceP, 5e-4, "two sides of the normal law: Abramowitz and Stegun, table 26.1, P(1.32695) = 0.90774")
	assert.Less(t, r.ChanceP, 0.05, "reliability growth, as the handbook finds it: chi² of 20 is above 34.17 in 2.5 %")
	assert.Greater(t, r.ChanceP, 0.02, "and above 37.57 in 1 %")

	for _, times := range [][]float64{{1, 2, 3}, {1, 2, 3, 5000}, {0, 1, 2, 3}} {
		assert.True(t, math.IsNaN(Trend(times, 1500).Laplace), "%v", times)
	}
}
