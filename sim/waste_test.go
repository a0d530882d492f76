package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// One paster failed of 305 rolls at a large newspaper (Rosenberg, Editor &
// Publisher, story 110670): 305,000 splices at that rate fail 1,000 times, sd
// 31.6; 4.5 sd is a false alarm in 1 of 150,000 (with -short 91,500 splices).
func TestSplicesFailAsOftenAsSaid(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.SpliceSuccess = 1 - 1./305
	l.Unwind.Roll.Length = model.Const(200)
	l.Unwind.Load, l.Unwind.Prepare, l.Crew.Reaction = model.Const(1), model.Const(1), model.Const(1)
	l.Unwind.Storage = model.Storage{Capacity: 900, RunLevel: 900, RestartLevel: 300}
	l.Unwind.MaxSpeed = 10
	replications := effort.Of(3, 10, 10)
	r := simulated(t, l, model.Run{Horizon: 2.4e6, Replications: replications, Seed: 3})
	splices := r.Metrics["splice_rate"].Mean * 2.4e6 * float64(replications)
	require.Greater(t, splices, 29000.0*float64(replications))
	failures := r.Metrics["splice.failed"].Mean * splices
	assert.InDelta(t, splices/305, failures, 4.5*math.Sqrt(splices/305))
	assert.Zero(t, r.Metrics["splice.depletion"].Mean, "900 m feeds 120 s by hand")
}

// Run-outs: the true rest is the set point plus a uniform error of ±5 m; with a
// set point of 4 m it is below 0 in a tenth of the rolls.
func TestRunOutsAsOftenAsTheErrorSays(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Residual = 4
	l.Unwind.ResidualError = model.Dist{Law: model.Uniform, A: -5, B: 5, Signed: true}
	r := simulated(t, l, model.Run{Horizon: 86400, Replications: 200, Seed: 8})
	agrees(t, r, "splice.run_out", 0.1, 0.03)
	// What is left on cores: E[max(0, 4 + U(-5, 5))] = 81/20 m a roll.
	assert.InDelta(t, 4.05/1500, r.Metrics["waste.residual"].Mean, 2e-5)
}

// The last digit of scrap on a deterministic line: 1,000 m orders, each with a
// rest: 3 m of stop scrap before it, 50 m of changeover scrap after it that the
// 12 m of restart scrap lie within.
func TestScrapThatOverlapsCountsOnce(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Jobs = &model.Jobs{Length: model.Const(1000), Changeover: model.Const(600), Scrap: model.Const(50)}
	l.Process.StopScrap, l.Process.RestartScrap = model.Const(3), model.Const(12)
	cycle := 10 + (1000-18.75)/2.5 + 5 + 15 + 600
	r := simulated(t, l, model.Run{Horizon: 11 * cycle, WarmUp: cycle})
	within(t, r, "waste.changeover", 0.05)
	within(t, r, "waste.stop", 0.003)
	within(t, r, "waste.restart", 0)
	within(t, r, "good_rate", 947/cycle)
}

// A finished roll that is too short or has too many splices is waste, once.
func TestRejectedRolls(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Unwind.SpliceScrap = model.Const(4)
	l.Rewind.Roll.Length, l.Rewind.MaxSplices, l.Rewind.Trigger = model.Const(747), 0, model.ByLength
	r := simulated(t, l, model.Run{Horizon: 20 * 86400, Replications: 1})
	// Two finished rolls to a parent roll of 1494 m: one of the two has the splice.
	assert.InDelta(t, 0.5, r.Metrics["quality"].Mean, 1e-3)
	assert.InDelta(t, r.Metrics["transfer_rate"].Mean/2, r.Metrics["finished_roll_rate"].Mean, 1e-6)
	supplied := r.Metrics["processed_rate"].Mean * 1500 / 1494
	assert.InDelta(t, r.Metrics["processed_rate"].Mean-r.Metrics["good_rate"].Mean,
		supplied*(r.Metrics["waste.rejected"].Mean+r.Metrics["waste.splice"].Mean), 1e-3)
}
