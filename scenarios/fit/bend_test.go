package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// The chance of narrow intervals by the density at their middles is that of the tails of
// the law, to 1e-8 of a value in the mean.
func TestNarrowIntervals(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, d := range []model.Dist{{Law: model.Exponential, A: 9000}, {Law: model.Lognormal, A: 9000, B: 7000}, {Law: model.Gamma, A: 0.7, B: 9000}, {Law: model.Gamma, A: 40, B: 300},
		{Law: model.Weibull, A: 0.8, B: 9000}, {Law: model.Weibull, A: 2.5, B: 9000}} {
		c := curveAt(d.Law, pointOf(d))
		var values []Value
		for range 3000 {
			values = append(values, Value{X: math.Round(c.draw(r)/30) * 30, Step: 30})
		}
		list, _ := spans(values, 0)
		s := newSample(list, 0, 0)
		require.Greater(t, s.of, 0.5*s.n, "%v", d)
		direct := 0.0
		for _, v := range list {
			l, u := c.tails(v.low)
			l2, u2 := c.tails(v.high)
			direct += c.chance(v.low, v.high, [2]float64{l, u}, [2]float64{l2, u2})
		}
		assert.InDelta(t, direct, s.likelihood(c), 1e-8*s.n, "%v", d)
		assert.Greater(t, math.Abs(s.bends.of(c, s.exact)), 1e-8*s.n, "the widths count: %v", d)
	}
	// A curve far narrower than the values has no likelihood, which its widths would make large.
	s := newSample([]span{{999, 1001}, {1999, 2001}, {2999, 3001}}, 0, 0)
	require.Equal(t, 3., s.of)
	assert.Equal(t, math.Inf(-1), s.likelihood(curve{law: model.Lognormal, a: math.Log(2000), b: 1e-4}))
}
