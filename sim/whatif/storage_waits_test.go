package whatif

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// Where waits for the next roll decide, five simulations answer; the answer meets
// the target by the simulation there, is well above what the dwell needs, lies in its
// interval, and is the same for any number of workers.
func TestFewSimulationsWhereWaitsDecide(t *testing.T) {
	s := shipped(t, "bagger", 1, "10")
	of := func(workers int) *Answer {
		a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: 8e-5}, Most: 1000}, Options{Workers: workers})
		require.NoError(t, err)
		return a
	}
	a := of(1)
	require.True(t, a.Met, "%#v", a.Why)
	assert.LessOrEqual(t, len(a.Evidence), 5)
	assert.Equal(t, NotReady, a.LimitedBy.By)
	assert.Greater(t, a.Value, 1.5*a.ClosedForm.Value)
	assert.True(t, a.Low < a.Value && a.Value < a.High, "%g in %g to %g", a.Value, a.Low, a.High)
	found := false
	for _, e := range a.Evidence {
		if e.X == a.Value {
			found = true
			assert.LessOrEqual(t, e.Metrics[a.Metric].Mean, 8e-5)
			assert.Equal(t, e.Replications, noteOf[TookMore](t, a.Notes).Replications)
		}
	}
	assert.True(t, found, "the answer is simulated")
	b := of(3)
	assert.Equal(t, [3]float64{a.Value, a.Low, a.High}, [3]float64{b.Value, b.Low, b.High})
	assert.Equal(t, len(a.Evidence), len(b.Evidence))
}

// The interval covers the true storage where waits decide, one operator being behind
// with the rolls of two lines: the true one is from 2,000 replications (usual form: 600),
// runs are of 10. A coverage of 95 % is lower by more than 3.5 binomial errors by chance in 1 of
// 4,000. It may be higher: few late rolls are seen in a run, and limits of few are wide.
func TestIntervalCoversWhereWaitsDecide(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	line := func(seed, replications int) *scenarios.Scenario {
		return withDwell(t, laws["gamma"], over("unwind.prepare", `{ dist = "gamma", mean = "200 s", sd = "150 s" }`), over("crew.operators", "1"), over("crew.lines", "2"),
			over("run.horizon", "2 d"), over("run.replications", fmt.Sprint(replications)), over("run.seed", fmt.Sprint(seed)))
	}
	const target = 0.01
	size := func(seed, replications int) *Answer {
		return sizeStorage(t, line(seed, replications), StorageQuestion{Risk: Risk{Share: target}, Most: 5000}, 0)
	}
	truth := size(99999, effort.Of(0, 600, 2000))
	require.True(t, truth.Met, "%#v %g", truth.Why, truth.Value)
	require.Equal(t, NotReady, truth.LimitedBy.By)
	covered, all, most := 0, effort.Of(0, 100, 1000), 0
	for k := range all {
		a := size(k+1, 10)
		require.True(t, a.Met, "seed %d", k+1)
		if a.Low <= truth.Value && truth.Value <= a.High {
			covered++
		}
		most = max(most, len(a.Evidence))
	}
	share := float64(covered) / float64(all)
	t.Logf("truth %.4g m (%.4g to %.4g), covered in %.1f %%, %d values at most", truth.Value, truth.Low, truth.High, 100*share, most)
	assert.Greater(t, share, 0.95-3.5*math.Sqrt(0.95*0.05/float64(all)))
}
