package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/invented"
)

// What a run counts is what it counted to the end of the warm-up and what it
// counted from then on, whatever is counted.
func TestTheWarmUpSplitsEveryCount(t *testing.T) {
	const until, horizon = 20000.0, 50000.0
	l := invented.Depleting()["web breaks, failures, short rolls"]
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.Roll.Length, l.Rewind.TransferSuccess = model.Const(70), 0.8
	l.Unwind.ResidualError = model.Dist{Law: model.Normal, B: 5, Signed: true}
	counts := func(horizon, warmUp float64) map[string]float64 {
		s := newRun(&l, 3, 0, horizon, warmUp, nil)
		require.NoError(t, s.simulate(context.Background()))
		x := s.measure().lines[0]
		m := map[string]float64{"rests": x.rests, "finished": x.finished, "processed": x.processed, "residual": x.residual.value,
			"running": x.running, "ramping": x.ramping, "stopped": x.stopped, "waiting": x.waiting}
		for i, c := range x.side {
			end := [2]string{"unwind ", "rewind "}[i]
			m[end+"made"], m[end+"failed"], m[end+"not ready"], m[end+"not refilled"] = c.made, c.failed, c.notReady, c.notRefilled
			m[end+"cycles"], m[end+"extremes"] = c.cycles, c.extremeSum
			if i == 0 {
				m["run out"] = c.runOut
			}
		}
		return m
	}
	all, before, after := counts(horizon, 0), counts(until, 0), counts(horizon, until)
	for name, n := range all {
		assert.InDelta(t, n-before[name], after[name], 1e-9*max(1, n), name)
		assert.Positive(t, after[name], "%s: nothing to split", name)
		assert.Positive(t, before[name], "%s: nothing to split", name)
	}
}
