package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"rollchange/model"
)

// The curves are those of gonum/stat/distuv (v0.17.0) and of the model.
func TestCurvesAgainstGonum(t *testing.T) {
	for _, c := range []struct {
		law  model.Law
		p    point
		want interface {
			CDF(float64) float64
			Survival(float64) float64
			LogProb(float64) float64
			Quantile(float64) float64
		}
	}{
		{model.Exponential, point{math.Log(60)}, distuv.Exponential{Rate: 1. / 60}},
		{model.Lognormal, point{4, math.Log(0.5)}, distuv.LogNormal{Mu: 4, Sigma: 0.5}},
		{model.Weibull, point{math.Log(83), math.Log(2.2)}, distuv.Weibull{K: 2.2, Lambda: 83}},
		{model.Weibull, point{math.Log(83), math.Log(0.6)}, distuv.Weibull{K: 0.6, Lambda: 83}},
		{model.Gamma, point{math.Log(32), math.Log(0.8)}, distuv.Gamma{Alpha: 0.8, Beta: 0.8 / 32}},
		{model.Gamma, point{math.Log(50), math.Log(25)}, distuv.Gamma{Alpha: 25, Beta: 0.5}},
	} {
		k := curveAt(c.law, c.p)
		d := k.dist(7)
		require.NoError(t, d.Validate())
		for i, x := range pointOf(d) {
			assert.InDelta(t, c.p[i], x, 1e-12, "%v: there and back", d)
		}
		for _, p := range []float64{1e-6, 0.01, 0.5, 0.99, 0.999999} {
			x := c.want.Quantile(p)
			lower, upper := k.tails(x)
			assert.InEpsilon(t, c.want.CDF(x), lower, 1e-8, "%v %g", d, p)
			assert.InEpsilon(t, c.want.Survival(x), upper, 1e-8, "%v %g", d, p)
			assert.InEpsilon(t, c.want.LogProb(x), k.logDensity(x), 1e-9, "%v %g", d, p)
			assert.InDelta(t, math.Log(upper), k.logUpper(x), 1e-9, "%v %g", d, p)
			assert.InEpsilon(t, upper, d.SurvivalFrom(x+7), 1e-7, "%v %g", d, p)
		}
		// So far out that the chance is no number its logarithm still is, and goes on from
		// where it was one: its slope is the hazard, density over chance, by twice the step.
		x := 1.0
		for k.logUpper(x) > -600 {
			x *= 1.01
		}
		for x = x * 1.001; k.logUpper(x) > -900; x *= 1.02 {
			h := x * 1e-5
			slope := (k.logUpper(x+h) - k.logUpper(x-h)) / (2 * h)
			assert.InEpsilon(t, -math.Exp(k.logDensity(x)-k.logUpper(x)), slope, 2e-3, "%v at %g", d, x)
		}
	}
}

// The likelihood of a sample is the sum of those of its values, one by one.
func TestLikelihoodIsThatOfEachValue(t *testing.T) {
	values := []Value{{X: 4}, {X: 4}, {X: 9.5}, {X: 30, Step: 5}, {X: 30, Step: 5}, {X: 5, Step: 5}, {X: 3, Step: 1}, {X: 20, Open: true}, {X: 2, Open: true}, {X: 1}, {X: 1, Step: 2}}
	const from = 3
	list, below := spans(values, from)
	require.Equal(t, 2, below, "1, and 1 to 2, were not to be recorded")
	s := newSample(list, from, 0)
	for law, p := range map[model.Law]point{model.Exponential: {2}, model.Lognormal: {2, -0.5}, model.Weibull: {2.5, 0.3}, model.Gamma: {2.5, 0.4}} {
		c := curveAt(law, p)
		want := 0.0
		upper := func(x float64) float64 { _, u := c.tails(x); return u }
		for _, x := range []float64{4, 4, 9.5} {
			want += c.logDensity(x)
		}
		want += 2*math.Log(upper(27.5)-upper(32.5)) + math.Log(upper(3)-upper(7.5)) + math.Log(upper(3)-upper(3.5)) + math.Log(upper(20)) + math.Log(upper(3))
		want -= 9 * math.Log(upper(3))
		assert.InEpsilon(t, want, s.likelihood(c), 1e-11, law)
	}
}

// Closed forms of the exponential law: all the time over the ended values with
// censoring; the mean less the least recorded with truncation; above a least value; and
// of rounded values with the ends 0, s, 2s …, of which the number of steps is geometric:
// mean = s / ln(1 + n/sum of whole steps).
func TestExponentialClosedForms(t *testing.T) {
	mean := func(values []Value, from float64) float64 {
		list, _ := spans(values, from)
		s := newSample(list, from, 0)
		p, _, ok := s.maximum(model.Exponential, s.start(model.Exponential))
		require.True(t, ok)
		return math.Exp(p[0])
	}
	values := append(exact(3, 8, 20, 1, 5), Value{X: 40, Open: true})
	assert.InEpsilon(t, 77./5, mean(values, 0), 1e-8)
	assert.InEpsilon(t, (3+8+20+5+40)/4.-5./4*2.5, mean(values, 2.5), 1e-8, "4 ended and 1 open, each 2.5 late; 1 was not to be recorded")

	steps := []float64{0, 0, 1, 3, 2, 0, 7, 1}
	var grid []Value
	sum := 0.0
	for _, k := range steps {
		grid = append(grid, Value{X: 10*k + 5, Step: 10})
		sum += k
	}
	assert.InEpsilon(t, 10/math.Log1p(8/sum), mean(grid, 0), 1e-8)

	// Above a least value: rows of 60 ± 5 and on, so that it lies at 55.
	for i := range grid {
		grid[i].X += 55
	}
	r, err := Of(grid, Options{Seed: 1})
	require.NoError(t, err)
	e := fitted(t, r, model.Exponential, true)
	assert.Equal(t, 55.0, e.Dist.Least)
	assert.InEpsilon(t, 55+10/math.Log1p(8/sum), e.Dist.A, 1e-8)
	assert.Equal(t, 2, e.Parameters, "the least value counts")
	assert.InDelta(t, 4-2*e.LogLik, e.AIC, 1e-12)
	assert.InEpsilon(t, e.Dist.Quantile(0.999), e.Far, 1e-9)
}

// Without rounding a fit is that of the score equations; with finer and finer rounding
// it comes to it, less the logarithms of the steps.
func TestFineRoundingIsNone(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for _, law := range families {
		c := curveAt(law, point{4, 0.5})
		if law == model.Lognormal {
			c = curveAt(law, point{4, -0.7})
		}
		var plain, fine []Value
		for range 60 {
			x := c.draw(r)
			plain = append(plain, Value{X: x})
			fine = append(fine, Value{X: x, Step: 1e-4})
		}
		a, _ := spans(plain, 0)
		b, _ := spans(fine, 0)
		s, u := newSample(a, 0, 0), newSample(b, 0, 0)
		p, f, ok := s.maximum(law, s.start(law))
		require.True(t, ok)
		q, g, ok := u.maximum(law, u.start(law))
		require.True(t, ok)
		assert.InDelta(t, p[0], q[0], 1e-6, law)
		assert.InDelta(t, p[1], q[1], 1e-6, law)
		assert.InDelta(t, f, g-60*math.Log(1e-4), 1e-3, law)
	}
}

// A maximum is one: no place beside it is better, and the search finds it from
// elsewhere.
func TestMaximumIsOne(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for i := range 200 {
		law := families[i%len(families)]
		n := 5 + r.IntN(60)
		c := curveAt(law, point{5, 0.2})
		values := make([]Value, n)
		for k := range values {
			x := c.draw(r)
			switch r.IntN(3) {
			case 0:
				values[k] = Value{X: math.Round(x/60) * 60, Step: 60}
			case 1:
				values[k] = Value{X: x, Open: r.IntN(4) == 0}
			default:
				values[k] = Value{X: x}
			}
		}
		list, _ := spans(values, 0)
		s := newSample(list, 0, 0)
		p, best, ok := s.maximum(law, s.start(law))
		if !ok {
			continue // no spread can be told
		}
		for _, d := range []point{{0.01}, {-0.01}, {0, 0.01}, {0, -0.01}, {0.007, 0.007}, {-0.007, 0.007}} {
			assert.Less(t, s.likelihood(curveAt(law, point{p[0] + d[0], p[1] + d[1]})), best+1e-9, "%s %d", law, i)
		}
		q, _, ok := s.maximum(law, point{p[0] + 0.8, p[1] - 0.5})
		require.True(t, ok, "%s %d", law, i)
		assert.InDelta(t, p[0], q[0], 1e-5, "%s %d", law, i)
		assert.InDelta(t, curveAt(law, p).a, curveAt(law, q).a, 1e-4*curveAt(law, p).a, "%s %d", law, i)
	}
}
