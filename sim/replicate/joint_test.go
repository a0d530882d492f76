package replicate

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
)

// What is kept together agrees with the estimates and their paired differences.
func TestJointAgreesWithTheEstimates(t *testing.T) {
	for seed := range uint64(20) {
		study := &model.Study{Run: model.Run{Horizon: 1800, Replications: 6, Seed: 3, Confidence: 0.95},
			Alternatives: []model.Alternative{{Name: "a", Line: invented.Random(seed)}, {Name: "b", Line: invented.Random(seed + 100)}}}
		rs, err := Simulate(context.Background(), study, Options{Workers: 2})
		require.NoError(t, err)
		require.Equal(t, 6, rs.Joint.N)
		k := len(JointMetrics)
		for i, name := range JointMetrics {
			va, vb, cov := rs.Joint.Cov[i][i], rs.Joint.Cov[k+i][k+i], rs.Joint.Cov[i][k+i]
			for x, e := range map[float64]estimate.Estimate{va: rs.Alternatives[0].Metrics[name], vb: rs.Alternatives[1].Metrics[name], va + vb - 2*cov: rs.Differences[1][name]} {
				if math.Abs(math.Sqrt(max(0, x))-e.SD) > 1e-9*(math.Sqrt(va)+math.Sqrt(vb))+1e-15 {
					t.Fatalf("%s: sd %g, estimate %g", name, math.Sqrt(x), e.SD)
				}
			}
		}
	}
}
