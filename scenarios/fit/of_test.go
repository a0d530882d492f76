package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

func TestWhatFewValuesSay(t *testing.T) {
	r, err := Of(nil, Options{})
	require.NoError(t, err)
	assert.Equal(t, NoValue, r.Why)
	assert.False(t, r.Answer.Given())

	r, err = Of([]Value{{X: 900, Open: true}}, Options{})
	require.NoError(t, err)
	assert.Equal(t, NoValue, r.Why, "what has not ended says no length")
	assert.Equal(t, []int{1, 1, 0}, []int{r.N, r.Open, r.Observed()})

	r, err = Of(append(rounded(60, 240, 300, 600, 240), Value{X: 900, Open: true}), Options{})
	require.NoError(t, err)
	assert.Equal(t, TooFew, r.Why)
	assert.Equal(t, model.Dist{Law: model.Empirical, Values: []float64{240, 300, 600, 240}}, r.Answer)
	assert.Empty(t, r.Laws)
	assert.Equal(t, -1, r.Taken)
	assert.True(t, math.IsNaN(r.Order.R))

	r, err = Of(rounded(60, 240, 240, 240, 240, 240, 240), Options{})
	require.NoError(t, err)
	assert.Equal(t, Same, r.Why)
	assert.Equal(t, model.Const(240), r.Answer)

	r, err = Of(rounded(60, 240, 240, 240, 300, 300, 240), Options{})
	require.NoError(t, err)
	for _, f := range r.Laws {
		assert.Equal(t, model.Exponential, f.Dist.Law, "two values fix no spread")
	}
}

func TestBadValuesAreAllNamed(t *testing.T) {
	nan := math.NaN()
	_, err := Of([]Value{{X: nan}, {X: 3}, {X: -1}, {X: 3, Step: -1}, {X: math.Inf(1)}}, Options{From: -2})
	require.Error(t, err)
	for _, want := range []string{"-2", "value 1:", "value 3:", "value 4:", "value 5:"} {
		assert.ErrorContains(t, err, want)
	}
	assert.NotContains(t, err.Error(), "value 2:")
}

// A least value is offered where rounding bounds the likelihood, and nowhere else.
func TestWhenALeastValueIsOffered(t *testing.T) {
	offered := func(values []Value, from float64) float64 {
		r, err := Of(values, Options{From: from, Seed: 1, Draws: 1})
		require.NoError(t, err)
		least := 0.0
		for _, f := range r.Laws {
			least = max(least, f.Dist.Least)
		}
		return least
	}
	x := []float64{420, 480, 480, 540, 600, 660, 780, 960, 1320}
	assert.Equal(t, 390.0, offered(rounded(60, x...), 0), "half a step below the smallest row")
	assert.Zero(t, offered(exact(x...), 0), "exact: no bound")
	assert.Zero(t, offered(rounded(60, append(x, 0)...), 0), "nothing lies below 0")
	assert.Zero(t, offered(rounded(60, x...), 400), "shorter ones were not recorded")
	assert.Equal(t, 390.0, offered(rounded(60, x...), 200))
	assert.Zero(t, offered(append(rounded(60, x...), Value{X: 390}), 0), "an exact one lies there")
	assert.Equal(t, 390.0, offered(append(rounded(60, x...), Value{X: 100, Open: true}), 0), "an open one says nothing of the least")
}

// Laws that are drawn from come back: within four standard errors, of rounded, cut off
// and truncated records alike, at which fitting the bare numbers would fail.
func TestDrawnLawsComeBack(t *testing.T) {
	effort.NotInRace(t)
	n := effort.Of(4000, 20000, 100000)
	for _, c := range []struct {
		law         model.Law
		p           point
		least, step float64
		from        float64
	}{
		{model.Lognormal, point{math.Log(200), math.Log(0.8)}, 0, 60, 0},
		{model.Lognormal, point{math.Log(200), math.Log(0.8)}, 0, 0, 150},
		{model.Weibull, point{math.Log(300), math.Log(1.3)}, 0, 60, 0},
		{model.Weibull, point{math.Log(300), math.Log(1.3)}, 0, 0, 200},
		{model.Gamma, point{math.Log(400), math.Log(1.6)}, 0, 60, 0},
		{model.Gamma, point{math.Log(400), math.Log(1.6)}, 0, 0, 200},
		{model.Exponential, point{math.Log(90)}, 0, 60, 0},
		{model.Gamma, point{math.Log(400), math.Log(1.6)}, 1230, 60, 0}, // least on the edge of a minute
	} {
		r := rand.New(rand.NewPCG(7, 7))
		curve := curveAt(c.law, c.p)
		var values []Value
		for len(values) < n { // cut off at random after some 20 minutes
			x, off := c.least+curve.draw(r), c.least+1200*r.ExpFloat64()
			if x < c.from || off < c.from {
				continue
			}
			if off < x {
				values = append(values, Value{X: off, Open: true})
				continue
			}
			if c.step > 0 {
				x = math.Round(x/c.step) * c.step
			}
			values = append(values, Value{X: x, Step: c.step})
		}
		list, _ := spans(values, c.from)
		s := newSample(list, c.from, c.least)
		f, ok := s.fitted(c.law)
		require.True(t, ok)
		// Standard errors by the curvature of the likelihood, the other parameter held: no
		// larger than the true ones, so they are widened by their correlation, below 0.95.
		for k := range free(c.law) {
			d, e := f.at, f.at
			d[k], e[k] = d[k]+1e-3, e[k]-1e-3
			bend := (s.likelihood(curveAt(c.law, d)) + s.likelihood(curveAt(c.law, e)) - 2*f.LogLik) / 1e-6
			se := 1 / math.Sqrt(-bend) / math.Sqrt(1-0.95*0.95)
			assert.InDelta(t, c.p[k], f.at[k], 4*se, "%s step %g from %g: parameter %d", c.law, c.step, c.from, k)
			assert.Less(t, se, 0.2)
		}
	}
}

// AIC takes the law that the values came from, or one that ties with it, and says so.
func TestTheLawIsFound(t *testing.T) {
	for _, c := range []struct {
		law model.Law
		p   point
	}{{model.Lognormal, point{6, math.Log(0.9)}}, {model.Weibull, point{6, math.Log(3)}}, {model.Gamma, point{6, math.Log(3)}}, {model.Exponential, point{6}}} {
		r := rand.New(rand.NewPCG(12, 1))
		curve := curveAt(c.law, c.p)
		var values []Value
		for range 1500 {
			values = append(values, Value{X: curve.draw(r)})
		}
		res, err := Of(values, Options{Seed: 2, Refuse: 1e-9}) // which law, not whether it is refused
		require.NoError(t, err)
		f := fitted(t, res, c.law, false)
		assert.LessOrEqual(t, f.AIC, res.Laws[0].AIC+tie, c.law)
		ties := 0
		for i, l := range res.Laws {
			assert.Equal(t, l.AIC <= res.Laws[0].AIC+tie && (res.Why == Tied), l.Tied, "%s %d", c.law, i)
			if l.Tied {
				ties++
				assert.LessOrEqual(t, l.Far, res.Laws[res.Taken].Far)
			}
		}
		assert.Equal(t, res.Why == Tied, ties > 1)
		assert.Equal(t, res.Laws[res.Taken].Dist, res.Answer)
	}
}

// Minutes that people round to fives are found, and fitted as what they are.
func TestHeapedMinutes(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 2))
	c := curveAt(model.Lognormal, point{math.Log(900), math.Log(0.5)})
	record := func(heap float64) []Value {
		var values []Value
		for range 2000 {
			x, step := c.draw(r), minute
			if r.Float64() < heap {
				step = 5 * minute
			}
			values = append(values, Value{X: math.Round(x/step) * step, Step: minute})
		}
		return values
	}
	plain, err := Of(record(0), Options{Seed: 1})
	require.NoError(t, err)
	assert.False(t, plain.Heaping.Found, "%+v: false alarm 1 in 1,000", plain.Heaping)
	assert.InDelta(t, 0.2, float64(plain.Heaping.Fives)/float64(plain.Heaping.Minutes), 0.04)
	assert.NotEqual(t, NoLaw, plain.Why)

	heaped, err := Of(record(0.8), Options{Seed: 1})
	require.NoError(t, err)
	assert.True(t, heaped.Heaping.Found)
	assert.InDelta(t, 0.84, float64(heaped.Heaping.Fives)/float64(heaped.Heaping.Minutes), 0.04, "0.8 and a fifth of the rest")
	l := fitted(t, heaped, model.Lognormal, false)
	mu, sigma := l.Dist.LognormalParams()
	assert.InDelta(t, math.Log(900), mu, 4*0.5/math.Sqrt(2000)+0.005)
	assert.InDelta(t, 0.5, sigma, 4*0.5/math.Sqrt(4000)+0.005)
	assert.NotEqual(t, NoLaw, heaped.Why, "%+v", heaped.Judged)

	// P is that of a binomial: two of two ending in five, 0.2².
	assert.InEpsilon(t, 0.04, heapingOf(rounded(60, 300, 600, 60, 90)).P, 1e-12)
	assert.InEpsilon(t, 1-0.8*0.8*0.8, heapingOf(rounded(60, 300, 360, 480)).P, 1e-12)
	assert.Equal(t, Heaping{P: 1}, heapingOf(append(exact(300, 600), rounded(1, 300, 600)...)), "not rounded to the minute")
}
