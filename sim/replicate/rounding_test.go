package replicate

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
	"rollchange/sim/metric"
)

// How steeply the unwind ramps up behind a storage that never runs low moves no stop of
// the process: what is left of the clock's last digits is no difference.
func TestRoundingIsNoDifference(t *testing.T) {
	line := func(accel float64) model.Line {
		l := invented.ZeroSpeed()
		l.Unwind.Roll.Length, l.Unwind.Accel = model.Const(4211.3), accel
		l.Unwind.Storage = model.Storage{Capacity: 600, RunLevel: 600, RestartLevel: 300}
		l.WebBreaks = &model.WebBreaks{MeanLength: 2e6, AtSpeed: 2.5, Repair: model.Dist{Law: model.Lognormal, A: 2e5, B: 1e5}}
		return l
	}
	study := &model.Study{Run: model.Run{Horizon: 60 * 86400, Replications: 12, Seed: 1, Confidence: 0.95},
		Alternatives: []model.Alternative{{Name: "gentle", Line: line(0.2426)}, {Name: "steep", Line: line(1)}}}
	rs, err := Simulate(context.Background(), study, Options{})
	require.NoError(t, err)
	require.NotZero(t, rs.Alternatives[0].Metrics[metric.StoppedBy+"web_break"].Mean, "it stops at all")
	for _, name := range []string{metric.GoodRate, metric.OEE, metric.Stopped, metric.StoppedBy + "web_break", metric.Running, metric.CrewBusy, metric.Waiting} {
		d, ok := rs.Differences[1][name]
		require.True(t, ok, name)
		assert.Zero(t, d.Mean, name)
		assert.Equal(t, estimate.NotSeen, d.Why, name)
	}
}
