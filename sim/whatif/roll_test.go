package whatif

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

const seamed = `
[web]
width = "330 mm"
caliper = "0.05 mm"
[line]
speed = "150 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "manual"
roll_length = "2000 m"
change_time = "4 min"
[rewind]
change = "manual"
change_time = "1 min"
roll_length = "500 m"
core_diameter = "76 mm"
[rewind.build]
seam_thickness = "0.02 mm"
seam_width = "8 mm"
ridge = "5 mm"
[run]
horizon = "8 h"
replications = 2
`

func seamedLine(t *testing.T, over ...scenarios.Override) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Parse("seamed.toml", []byte(seamed), ".", over...)
	require.NoError(t, err)
	return s
}

// By hand: 250 wraps of 0.02 mm are 5 mm; pi 250 (0.076 + 250 x 0.05e-3) m of web. Moved by
// 8 mm to each side half of them lie at any one place: pi 500 (0.076 + 500 x 0.05e-3) m.
func TestLongestRollOfARidge(t *testing.T) {
	still, moved := math.Pi*250*0.0885, math.Pi*500*0.101
	a, err := SizeRoll(context.Background(), seamedLine(t), RollQuestion{}, Options{})
	require.NoError(t, err)
	assert.True(t, a.Met)
	assert.InDelta(t, still, a.Value, 1e-9)
	assert.Equal(t, SeamRidge, a.LimitedBy.By)
	require.Len(t, a.Evidence, 2, "the longest roll and that of the scenario")
	assert.InDelta(t, still, a.Evidence[0].X, 1e-6)
	assert.Equal(t, 500.0, a.Evidence[1].X)
	assert.Less(t, a.Evidence[0].Metrics["good_rate"].Mean, a.Evidence[1].Metrics["good_rate"].Mean, "shorter rolls are changed more often")
	a, err = SizeRoll(context.Background(), seamedLine(t, scenarios.Override{Key: "rewind.build.oscillation", Value: "8 mm"}), RollQuestion{}, Options{})
	require.NoError(t, err)
	assert.InDelta(t, moved, a.Value, 1e-9)

	a, err = SizeRoll(context.Background(), seamedLine(t), RollQuestion{Length: moved}, Options{})
	require.NoError(t, err)
	assert.InDelta(t, 8e-3, a.Value, 1e-12)
	assert.True(t, math.IsNaN(a.Now), "the scenario has none")
	assert.Empty(t, a.Evidence)
	a, err = SizeRoll(context.Background(), seamedLine(t), RollQuestion{Length: still * 0.99}, Options{})
	require.NoError(t, err)
	assert.Zero(t, a.Value)
	assert.Equal(t, Nothing, a.LimitedBy.By)
}

// A longest roll that the scenario does not allow says so; rolls that vary have no one
// length to simulate.
func TestLongestRollThatIsNoLine(t *testing.T) {
	a, err := SizeRoll(context.Background(), seamedLine(t, scenarios.Override{Key: "rewind.min_length", Value: "80 m"}), RollQuestion{}, Options{})
	require.NoError(t, err)
	last, ok := a.Notes[len(a.Notes)-1].(Impossible)
	require.True(t, ok)
	assert.Contains(t, last.Why, "every roll would be waste")
	a, err = SizeRoll(context.Background(), seamedLine(t, scenarios.Override{Key: "rewind.roll_length", Value: `{ dist = "uniform", min = "400 m", max = "600 m" }`}), RollQuestion{}, Options{})
	require.NoError(t, err)
	assert.Len(t, a.Evidence, 1)
}

func TestWhatARidgeNeeds(t *testing.T) {
	for want, over := range map[string]scenarios.Override{
		"there is no finished roll": {Key: "rewind.change", Value: `none`},
		"no length of its own":      {Key: "rewind.trigger", Value: `splice`},
	} {
		s := seamedLine(t, scenarios.ParseSet(over.Key+"="+over.Value))
		_, err := SizeRoll(context.Background(), s, RollQuestion{}, Options{})
		assert.ErrorContains(t, err, want)
	}
	s := seamedLine(t)
	s.Study.Alternatives[0].Line.Rewind.Build.SeamWidth = 0
	_, err := SizeRoll(context.Background(), s, RollQuestion{Length: 100}, Options{})
	assert.ErrorContains(t, err, "seam_width")
	s.Study.Alternatives[0].Line.Rewind.Build.Ridge = 0
	_, err = SizeRoll(context.Background(), s, RollQuestion{}, Options{})
	assert.ErrorContains(t, err, "no seam is described")
}
