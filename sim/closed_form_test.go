package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
	"rollchange/sim/replicate"
)

// Deterministic lines whose output is known by hand to 1e-9. All ramps at
// 2.5 m/s: decel 0.5 takes 5 s and 6.25 m, accel 0.25 takes 10 s and 12.5 m.
// A horizon of whole cycles, after one cycle as warm-up, has no part cycles.

func within(t *testing.T, r replicate.Result, name string, want float64) {
	t.Helper()
	e, ok := r.Metrics[name]
	assert.True(t, ok, "no metric %s", name)
	assert.InDelta(t, want, e.Mean, 1e-9*max(1, want), name)
}

func TestManualUnwindAlone(t *testing.T) {
	l := invented.Manual() // 1992 m a roll; called at the hold: 20 s reaction, 5 s of ramp
	// The cycle from rest: accelerate, run, decelerate, wait 15 s more, change 240 s.
	cycle := 10 + (1992-12.5-6.25)/2.5 + 5 + 15 + 240
	r := simulated(t, l, model.Run{Horizon: 21 * cycle, WarmUp: cycle})
	within(t, r, "processed_rate", 1992/cycle)
	within(t, r, "time.ramping", 15/cycle)
	within(t, r, "time.stopped.unwind_change", 255/cycle)
	within(t, r, "time.waiting_for_operator", 15/cycle)
	within(t, r, "splice_rate", 1/cycle)
	within(t, r, "waste.residual", 8./2000)
	within(t, r, "crew.utilisation", 260/cycle)
}

func TestManualBoth(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Residual = 0
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(500)}, Trigger: model.ByLength,
		ChangeTime: model.Const(45), MaxSplices: -1}
	l.Crew.Operators = 2
	// Four finished rolls to a parent roll; the fourth change is hidden in the
	// parent roll's: both holds go on together, and 255 s is the longer.
	stop := 10 + 5 + 15.0
	cycle := 4*((500-18.75)/2.5+stop) + 3*45 + 240
	r := simulated(t, l, model.Run{Horizon: 11 * cycle, WarmUp: cycle})
	within(t, r, "processed_rate", 2000/cycle)
	within(t, r, "finished_roll_rate", 4/cycle)
	within(t, r, "stop_rate", 4/cycle)
	within(t, r, "stop_rate.rewind_change", 4/cycle)
	within(t, r, "time.stopped.rewind_change", 3*60/cycle)
	within(t, r, "time.stopped.unwind_change", 255/cycle)
}

func TestZeroSpeedWithEverySpliceDepleting(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Dwell = model.Const(12)
	l.Unwind.Storage = model.Storage{Capacity: 25, RunLevel: 25, RestartLevel: 12.5, Reserve: 2}
	// Ramp down 3.125 s, 3.90625 m: content 25 - 3.90625. The interlock is at
	// 2 + 6.25 = 8.25 m: it trips (21.09375-8.25)/2.5 = 5.1375 s into the dwell,
	// the web rests 5 s later at 2 m, 1.8625 s before the dwell ends. The unwind
	// then ramps at 0.6 for 6.25 s to 3.75 m/s: 11.71875 m > 10.5 m, so the
	// process starts after sqrt(2 10.5/0.6) s.
	toRestart := 5.916079783099616 // sqrt(35)
	stopped := 1.8625 + toRestart
	const rolls = 1494 // m that each gives
	// The refill ends well before the next roll's end, so the cycle has fixed length:
	// its web at line speed, plus the time lost by the two ramps and the rest.
	cycle := rolls/2.5 + stopped + (5 - 6.25/2.5) + (10 - 12.5/2.5)
	r := simulated(t, l, model.Run{Horizon: 11 * cycle, WarmUp: cycle})
	within(t, r, "splice.depletion", 1)
	within(t, r, "time.stopped.unwind_depleted", stopped/cycle)
	within(t, r, "time.ramping", 15/cycle)
	within(t, r, "processed_rate", rolls/cycle)
	within(t, r, "unwind_storage.lowest", 2)
}

// With enough storage at both ends the process never stops (common practice, no source).
func TestZeroSpeedBothWithAmpleStorageNeverStops(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	r := simulated(t, l, model.Run{Horizon: 30 * 86400})
	within(t, r, "processed_rate", 2.5)
	within(t, r, "availability", 1)
	within(t, r, "time.stopped", 0)
	// Drawn: p²/(2 decel) + p dwell + p²/(2 accel), design of a splice at rest.
	within(t, r, "unwind_storage.lowest", 60-(2.5*2.5/1.6+2.5*8+2.5*2.5/1.2))
	within(t, r, "rewind_storage.highest", 5+(2.5*2.5/1.6+2.5*5+2.5*2.5/1.2))
	assert.Greater(t, r.Metrics["splice_rate"].Mean, 0.0)
	assert.Greater(t, r.Metrics["transfer_rate"].Mean, 0.0)
}

func TestChangeovers(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Jobs = &model.Jobs{Length: model.Const(1000), Changeover: model.Const(600), Scrap: model.Const(50)}
	cycle := 10 + (1000-18.75)/2.5 + 5 + 15 + 600
	r := simulated(t, l, model.Run{Horizon: 11 * cycle, WarmUp: cycle})
	within(t, r, "processed_rate", 1000/cycle)
	within(t, r, "good_rate", 950/cycle)
	within(t, r, "waste.changeover", 0.05)
	within(t, r, "time.stopped.changeover", 615/cycle)
}
