package whatif

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// The limit holds the dwell that the target allows, where the law was fitted to so many
// dwells of a known one, in 95 % of repeats: one-sided, within 3.5 standard errors (false
// alarm 5e-4). For an exponential law it is known in closed form: with n
// values the mean is at most n/gamma(n, 5 %) times the one that was fitted.
func TestUpperDwellHolds(t *testing.T) {
	t.Parallel()
	repeats := effort.Of(25, 50, 2000)
	for _, c := range []struct {
		law    model.Dist
		n      int
		target float64
	}{
		{model.Dist{Law: model.Exponential, A: 8}, 20, 1e-3},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3}, 20, 1e-3},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3}, 60, 0.02},
		{model.Dist{Law: model.Lognormal, A: 8, B: 3, Least: 4}, 200, 1e-4},
	} {
		truth := model.UpperQuantile(c.law, c.target)
		r := rand.New(rand.NewPCG(11, uint64(c.n)))
		held := 0
		for k := range repeats {
			var sum, logs, squares float64
			for range c.n {
				x := c.law.Quantile(r.Float64()) - c.law.Least
				l := math.Log(x)
				sum, logs, squares = sum+x, logs+l, squares+l*l
			}
			n := float64(c.n)
			d := c.law
			if d.Law == model.Exponential {
				d.A = sum / n
			} else {
				s2 := squares/n - logs/n*logs/n
				mean := math.Exp(logs/n + s2/2)
				d.A, d.B = d.Least+mean, mean*math.Sqrt(math.Expm1(s2))
			}
			if upperDwell(d, c.n, c.target, 0.95, uint64(k), "unwind") >= truth {
				held++
			}
		}
		share := float64(held) / float64(repeats)
		t.Logf("%v, %d dwells, target %g: held in %.1f %%", c.law, c.n, c.target, 100*share)
		assert.InDelta(t, 0.95, share, 3.5*math.Sqrt(0.95*0.05/float64(repeats)))
	}
	// Gamma(20, 5 %) = 13.25465 / 20 (half of the chi-square of 40 degrees of freedom,
	// 26.5093, NIST/SEMATECH 1.3.6.7.4, from memory).
	d := model.Dist{Law: model.Exponential, A: 8}
	assert.InEpsilon(t, 20/13.25465, upperDwell(d, 20, 1e-3, 0.95, 1, "x")/model.UpperQuantile(d, 1e-3), 0.04, "1,000 draws")
}

// The answer is larger than without by the speed of the line times what the dwell may be
// longer; more dwells bring it nearer, and a target rarer than one in them is said to be.
func TestSizeWithRecords(t *testing.T) {
	size := func(dwell string, risk float64) (*Answer, *RecordsNeed) {
		text := `[line]
speed = "120 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
load = "1 min"
prepare = "1 min"
dwell = ` + dwell + `
decel = "1 m/s2"
accel = "1 m/s2"
max_speed = "180 m/min"
storage.capacity = "50 m"
[rewind]
change = "none"
[run]
horizon = "4 d"
replications = 4
`
		s, err := scenarios.Parse("test", []byte(text), ".")
		require.NoError(t, err)
		q := StorageQuestion{Risk: Risk{Share: risk}, Most: 500}
		a, err := SizeStorage(context.Background(), s, q, Options{})
		require.NoError(t, err)
		SizeWithRecords(s, q, a)
		for _, n := range a.Notes {
			if r, ok := n.(RecordsNeed); ok {
				return a, &r
			}
		}
		return a, nil
	}
	a, few := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s", observed = 50 }`, 0.01)
	_, many := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s", observed = 5000 }`, 0.01)
	require.NotNil(t, few)
	d := model.Dist{Law: model.Lognormal, A: 8, B: 2, Observed: 50}
	longer := upperDwell(d, 50, 0.01, 0.95, 1, "unwind") - model.UpperQuantile(d, 0.01)
	assert.InDelta(t, a.Value+2*longer, few.Value, 1e-9, "2 m/s")
	assert.Less(t, many.Value-a.Value, 0.2*(few.Value-a.Value), "a hundred times the values, a tenth of what is open")
	assert.Greater(t, many.Value, a.Value)
	assert.True(t, few.Beyond())
	assert.False(t, many.Beyond())
	_, list := size(`{ dist = "empirical", values = ["7 s", "8 s", "9 s"] }`, 0.4)
	require.NotNil(t, list)
	assert.True(t, math.IsNaN(list.Value))
	assert.Equal(t, 3, list.Observed)
	_, none := size(`{ dist = "lognormal", mean = "8 s", sd = "2 s" }`, 0.01)
	assert.Nil(t, none, "nothing says how many were observed")
}
