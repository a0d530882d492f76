package whatif

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the answer hangs on is known for this line: output on its speed, the
// depletion on dwell, storage and speed, and nothing on what it does not use.
func TestSensitivityFindsWhatMatters(t *testing.T) {
	s := withDwell(t, laws["lognormal"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate", "splice.depletion", "transfer.overfill"}, Share: 0.1}, Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"good_rate", "splice.depletion"}, a.Metrics, "there is no rewind storage")
	speed := a.Swings["good_rate"][0]
	assert.Equal(t, "line.speed", speed.Key)
	assert.Equal(t, "135 m/min", speed.LowText)
	assert.Equal(t, "165 m/min", speed.High)
	assert.InDelta(t, -0.1, speed.Low/speed.Base-1, 0.01)
	assert.InDelta(t, 0.1, speed.Up/speed.Base-1, 0.01)
	top := map[string]bool{}
	for _, w := range a.Swings["splice.depletion"][:3] {
		top[w.Key] = true
	}
	assert.True(t, top["line.speed"] && top["unwind.dwell"] && top["unwind.storage.capacity"], "%v", top)
	for _, list := range a.Swings {
		for i := 1; i < len(list); i++ {
			assert.GreaterOrEqual(t, list[i-1].Size(), list[i].Size(), "sorted")
		}
	}
}

// Moving one input is the plain run of the scenario with that input changed.
func TestSwingIsAPlainRun(t *testing.T) {
	s := withDwell(t, laws["gamma"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1}, Options{})
	require.NoError(t, err)
	text := s.Text
	s.Text = text
	for _, w := range a.Swings["good_rate"] {
		if w.Key != "line.speed" {
			continue
		}
		q := newSearch(context.Background(), s, Options{}, "line.speed", "m/s")
		at, err := q.at(2.25)
		require.NoError(t, err)
		assert.InEpsilon(t, at.Metrics["good_rate"].Mean, w.Low, 1e-9)
	}
}

// On a line whose output is speed times a share, the total effect of the speed is
// nearly all of the variance.
func TestTotalEffects(t *testing.T) {
	s := withDwell(t, laws["gamma"])
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1, Total: 64, Inputs: 3}, Options{})
	require.NoError(t, err)
	assert.Equal(t, "line.speed", a.Swings["good_rate"][0].Key)
	assert.InDelta(t, 1, a.Swings["good_rate"][0].Total, 0.1)
	assert.False(t, a.Swings["good_rate"][1].Total >= 0.1, "NaN where the input moves nothing at all")
}
