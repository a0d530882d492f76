package whatif

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
	"rollchange/sim/metric"
)

// Where waits for the next roll decide, five simulations answer; the answer meets
// the target by the simulation there, is well above what the dwell needs, lies in its
// interval, and is the same for any number of workers.
func TestFewSimulationsWhereWaitsDecide(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	t.Parallel()
	s := shipped(t, "bagger", 1, fmt.Sprint(effort.Of(10, 10, 20)))
	const share = 1.0 / 23900  // one in a year
	most := effort.Of(8, 8, 5) // fewer replications propose less
	of := func(workers int) *Answer {
		a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: share}, Most: 1000}, Options{Workers: workers})
		require.NoError(t, err)
		return a
	}
	a := of(1)
	require.True(t, a.Met, "%#v", a.Why)
	assert.LessOrEqual(t, len(a.Evidence), most)
	assert.Equal(t, NotReady, a.LimitedBy.By)
	assert.Greater(t, a.Value, 1.5*a.ClosedForm.Value)
	assert.True(t, a.Low < a.Value && a.Value < a.High, "%g in %g to %g", a.Value, a.Low, a.High)
	found := false
	for _, e := range a.Evidence {
		if e.X == a.Value {
			found = true
			assert.LessOrEqual(t, e.Metrics[a.Metric].Mean, share)
			assert.Equal(t, e.Replications, noteOf[TookMore](t, a.Notes).Replications)
		}
	}
	assert.True(t, found, "the answer is simulated")
	if !effort.Long() {
		return // TestAnswerFromRecordsIsThatOfAnyWorkers
	}
	b := of(3)
	assert.Equal(t, [3]float64{a.Value, a.Low, a.High}, [3]float64{b.Value, b.Low, b.High})
	assert.Equal(t, len(a.Evidence), len(b.Evidence))
}

// The interval covers the true storage where waits decide: the true one is where the
// chance of 1,000 replications (usual form: 40) at fixed capacities meets the target; runs
// take some 50. A coverage of 95 % is lower by more than 3.5 binomial errors by chance in 1
// of 4,000. It may be higher: few late rolls are seen in a run, and limits of few are
// wide. Where no storage is given there is no interval.
func TestIntervalCoversWhereWaitsDecide(t *testing.T) {
	t.Parallel()
	if !effort.Long() {
		t.Skip("long")
	}
	const share = 8e-5
	size := func(seed, replications int) *Answer {
		s, err := shipped(t, "bagger", 1, fmt.Sprint(replications)).Again(over("run.seed", fmt.Sprint(seed)))
		require.NoError(t, err)
		return sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: share}, Most: 1000}, 0)
	}
	truth, last, lastAt := 0.0, 0.0, 0.0
	for at := 75.0; truth == 0 && at < 150; at += 10 {
		s, err := shipped(t, "bagger", 1, "1000").Again(over("run.seed", "99999"))
		require.NoError(t, err)
		log := math.Log(metricsWith(t, s, over("unwind.storage.capacity", metres(at)))[metric.DepletionNotFailed].Mean / share)
		if log <= 0 && last > 0 {
			truth = lastAt + (at-lastAt)*last/(last-log)
		}
		last, lastAt = log, at
	}
	require.Positive(t, truth)
	covered, given, most := 0, 0, 0
	for k := range 60 {
		a := size(k+1, 10)
		if a.Flat {
			continue
		}
		require.True(t, a.Met, "seed %d: %#v", k+1, a.Why)
		if given++; a.Low <= truth && truth <= a.High {
			covered++
		}
		most = max(most, len(a.Evidence))
	}
	require.Positive(t, given)
	held := float64(covered) / float64(given)
	t.Logf("truth %.4g m, covered in %d of %d, %d values at most", truth, covered, given, most)
	assert.Greater(t, held, 0.95-3.5*math.Sqrt(0.95*0.05/float64(given)))
}

// A crew that is behind with two lines is saved by the trips of a small storage, so
// that the records of a large one tell of too much: then the bracket is simulated.
func TestRecordsThatDisagreeAreLeft(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	s := withDwell(t, laws["gamma"], over("unwind.prepare", `{ dist = "gamma", mean = "300 s", sd = "120 s" }`), over("crew.operators", "1"), over("crew.lines", "2"),
		over("run.horizon", "4 d"), over("run.replications", "20"))
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 5000}, 0)
	require.True(t, a.Met)
	assert.Greater(t, len(a.Evidence), 8)
	e := metricsWith(t, s, over("unwind.storage.capacity", metres(a.Value)))["splice.depletion"]
	assert.InEpsilon(t, 0.01, e.Mean, 0.02)
	z, err := newSizing(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 5000}, Options{})
	require.NoError(t, err)
	far, err := z.at(3000)
	require.NoError(t, err)
	near, err := z.at(a.Value)
	require.NoError(t, err)
	assert.False(t, (&waiting{search: z.search, b: z.bound}).agrees(far, near))
	assert.True(t, (&waiting{search: z.search, b: z.bound}).agrees(near, near))
}
