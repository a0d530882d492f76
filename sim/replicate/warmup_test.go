package replicate

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/invented"
)

// A line that begins with a full roll but runs short ones has a beginning that
// is not like the rest; warm_up = "auto" says how much was cut.
func TestAutoWarmUpIsSaid(t *testing.T) {
	l := invented.ZeroSpeed()
	run := model.Run{Horizon: 5 * 86400, Replications: 3, Seed: 1, Confidence: 0.95, WarmUpAuto: true}
	res, err := Simulate(context.Background(), &model.Study{Run: run, Alternatives: []model.Alternative{{Name: "base", Line: l}}}, Options{})
	require.NoError(t, err)
	assert.True(t, res.Run.WarmUpFound)
	assert.LessOrEqual(t, res.Run.WarmUp, run.Horizon/2)
}
