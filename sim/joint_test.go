package sim

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// What is kept together agrees with the estimates and their paired differences.
func TestJointAgreesWithTheEstimates(t *testing.T) {
	for seed := range uint64(20) {
		study := &model.Study{Run: model.Run{Horizon: 1800, Replications: 6, Seed: 3, Confidence: 0.95},
			Alternatives: []model.Alternative{{Name: "a", Line: randomLine(seed)}, {Name: "b", Line: randomLine(seed + 100)}}}
		rs, err := Simulate(context.Background(), study, Options{Workers: 2})
		require.NoError(t, err)
		require.Equal(t, 6, rs.Joint.N)
		k := len(JointMetrics)
		for i, name := range JointMetrics {
			va, vb, cov := rs.Joint.Cov[i][i], rs.Joint.Cov[k+i][k+i], rs.Joint.Cov[i][k+i]
			for x, e := range map[float64]Estimate{va: rs.Alternatives[0].Metrics[name], vb: rs.Alternatives[1].Metrics[name], va + vb - 2*cov: rs.Differences[1][name]} {
				if math.Abs(math.Sqrt(max(0, x))-e.SD) > 1e-9*(math.Sqrt(va)+math.Sqrt(vb))+1e-15 {
					t.Fatalf("%s: sd %g, estimate %g", name, math.Sqrt(x), e.SD)
				}
			}
		}
	}
}

func TestDrawsHangOnTheNameAlone(t *testing.T) {
	d := model.Dist{Law: model.Uniform, A: 2, B: 3}
	a := Draws(d, 7, "economics.price", 1000)
	assert.Equal(t, a[:10], Draws(d, 7, "economics.price", 10))
	assert.NotEqual(t, a[:10], Draws(d, 7, "economics.demand", 10))
	mean := 0.0
	for _, x := range a {
		mean += x / 1000
	}
	assert.InDelta(t, 2.5, mean, 5/math.Sqrt(12*1000), "5 sigma: false alarm 6e-7")
	assert.Equal(t, []float64{4, 4}, Draws(model.Const(4), 1, "x", 2))
}
