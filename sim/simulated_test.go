package sim_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/replicate"
)

// simulated runs a line and returns its metrics.
func simulated(t testing.TB, l model.Line, run model.Run) replicate.Result {
	t.Helper()
	if run.Replications == 0 {
		run.Replications = 2
	}
	if run.Confidence == 0 {
		run.Confidence = 0.95
	}
	res, err := replicate.Simulate(context.Background(), &model.Study{Run: run, Alternatives: []model.Alternative{{Name: "base", Line: l}}}, replicate.Options{})
	require.NoError(t, err)
	return res.Alternatives[0]
}
