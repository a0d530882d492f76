package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// The closed form is reached where nothing but roll changes costs time, and is
// never passed: there, and on random lines of every pair of kinds, within the
// one cycle that the start at full speed and the horizon cut.
func TestCeilingIsReached(t *testing.T) {
	l := invented.Manual()
	cycle := 10 + (1992-12.5-6.25)/2.5 + 5 + 15 + 240
	assert.InEpsilon(t, 1992/cycle, model.Ceiling(&l), 1e-12)
	r := simulated(t, l, model.Run{Horizon: 21 * cycle, WarmUp: cycle})
	assert.InEpsilon(t, model.Ceiling(&l), r.Metrics["processed_rate"].Mean, 1e-9)

	l = invented.ZeroSpeed()
	r = simulated(t, l, model.Run{Horizon: 1e5})
	assert.InEpsilon(t, model.Ceiling(&l), r.Metrics["processed_rate"].Mean, 1e-9)

	// Arming that takes longer than a roll runs: the unwind sets the pace.
	l = invented.ZeroSpeed()
	l.Unwind.Load = model.Const(900)
	r = simulated(t, l, model.Run{Horizon: 3e5, WarmUp: 1e4})
	c := model.Ceiling(&l)
	assert.GreaterOrEqual(t, c*1.003, r.Metrics["processed_rate"].Mean)
	assert.InEpsilon(t, c, r.Metrics["processed_rate"].Mean, 0.03)
}

func TestCeilingIsNeverPassed(t *testing.T) {
	t.Parallel()
	lines := uint64(effort.Of(6, 20, 250))
	tight := 0
	for seed := range lines {
		l := invented.Random(seed + 9000)
		c := model.Ceiling(&l)
		assert.False(t, math.IsNaN(c) || c <= 0 || c > l.Process.Speed*(1+1e-12), "seed %d: ceiling %g", seed, c)
		const horizon = 4e5
		r := simulated(t, l, model.Run{Horizon: horizon, WarmUp: 4e4, Replications: 6, Seed: seed, Confidence: 0.95})
		e := r.Metrics["processed_rate"]
		rate, se := e.Mean/float64(max(1, l.Crew.Lines)), e.SD/math.Sqrt(6)/float64(max(1, l.Crew.Lines))
		// One part cycle of some hours, and chance.
		assert.LessOrEqual(t, rate, c*1.01+5*se, "seed %d: %s %s, ceiling %g of %g m/s", seed+9000, l.Unwind.Change, l.Rewind.Change, c, l.Process.Speed)
		if rate > 0.8*c {
			tight++
		}
	}
	assert.Greater(t, tight, int(lines)/10, "a bound that is never near says nothing")
}
