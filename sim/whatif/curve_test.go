package whatif

import (
	"context"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// shipped is an alternative of a shipped scenario, shorter.
func shipped(t testing.TB, name string, alternative int, replications string) *scenarios.Scenario {
	t.Helper()
	for _, x := range scenarios.Templates() {
		if x.Name == name {
			s, err := scenarios.Parse(x.Name, x.Text, ".", over("run.replications", replications))
			require.NoError(t, err)
			return Only(s, alternative)
		}
	}
	t.Fatalf("no scenario %q", name)
	return nil
}

// sizingOf is the search for the unwind storage of a scenario.
func sizingOf(t testing.TB, s *scenarios.Scenario, workers int) *sizing {
	t.Helper()
	z, err := newSizing(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 1000}, Options{Workers: workers})
	require.NoError(t, err)
	return z
}

// The curve of a capacity is, at that capacity, the estimate that the simulation
// has, limits and all; with a tenth less and more it is that of a simulation there
// to 2.5 % where a long dwell decides.
func TestCurveIsTheSimulation(t *testing.T) {
	t.Parallel()
	for name, alternative := range map[string]int{"label_press": 1, "laminator": 2, "press_comparison": 1} {
		if testing.Short() && name != "label_press" {
			continue
		}
		s := shipped(t, name, alternative, "4")
		z := sizingOf(t, s, 0)
		here, err := z.at(z.store.Capacity)
		require.NoError(t, err)
		for _, m := range []string{metric.Depletion, metric.DepletionNotFailed} {
			want, got := here.Metrics[m], here.curve.at(here.X).Metrics[m]
			assert.InEpsilon(t, want.Mean, got.Mean, 1e-9, "%s %s", name, m)
			assert.InEpsilon(t, want.Low, got.Low, 1e-6, "%s %s", name, m)
			assert.InEpsilon(t, want.High, got.High, 1e-6, "%s %s", name, m)
			assert.Equal(t, [3]any{want.Unit, want.N, want.Why}, [3]any{got.Unit, got.N, got.Why})
			assert.Equal(t, want.Trials, got.Trials)
		}
		for _, factor := range []float64{0.9, 1.1} {
			there, err := z.at(factor * here.X)
			require.NoError(t, err)
			assert.InEpsilon(t, there.Metrics[metric.DepletionNotFailed].Mean, here.curve.at(there.X).Metrics[metric.DepletionNotFailed].Mean, 0.025, "%s %g", name, factor)
		}
	}
}

// The levels of a storage move with its capacity as the scenario says.
func TestCurveMovesTheLevels(t *testing.T) {
	z := sizingOf(t, withDwell(t, laws["gamma"], over("unwind.storage.run_level", "80 %"), over("unwind.storage.reserve", "3 m"),
		over("unwind.storage.on_low", `"slow"`), over("unwind.storage.slow_level", "50 %"), over("unwind.storage.slow_speed", "1 m/s")), 1)
	here, err := z.at(70)
	require.NoError(t, err)
	c, err := z.s.Again(z.over(91)...)
	require.NoError(t, err)
	want, got := c.Study.Alternatives[0].Line.Unwind.Storage, here.curve.lineAt(91).Unwind.Storage
	for _, x := range [][2]float64{{want.Capacity, got.Capacity}, {want.RunLevel, got.RunLevel}, {want.SlowLevel, got.SlowLevel}, {want.Reserve, got.Reserve}} {
		assert.InEpsilon(t, x[0], x[1], 1e-9)
	}
}

// Answer, interval and number of simulations are the same for any number of workers.
func TestAnswerFromRecordsIsThatOfAnyWorkers(t *testing.T) {
	t.Parallel()
	s := shipped(t, "press_comparison", 2, strconv.Itoa(effort.Of(3, 5, 5)))
	of := func(workers int) *Answer {
		a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 1000}, Options{Workers: workers})
		require.NoError(t, err)
		return a
	}
	one, three := of(1), of(3)
	assert.Equal(t, [3]float64{one.Value, one.Low, one.High}, [3]float64{three.Value, three.Low, three.High})
	assert.Equal(t, len(one.Evidence), len(three.Evidence))
}

// Where a long dwell decides, three or four simulations find the storage: the scenario's
// own, and the bracket that the records propose. What failed changes add takes two
// or three more. The answer is that of bisection to 0.1 %.
func TestFewSimulationsFindTheStorage(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"label_press", "laminator", "laminator_savings", "press_comparison"}[:effort.Of(1, 2, 4)] {
		s := shipped(t, name, 1, "4")
		z := sizingOf(t, s, 0)
		good, bad, err := z.find(z.bound, 0, z.store.Capacity, z.Most, exact, exact)
		require.NoError(t, err)
		assert.LessOrEqual(t, *z.done, 4, name)
		assert.LessOrEqual(t, good-bad, exact*good)
		// Bisection of the same bound from 2 % beside it.
		y := sizingOf(t, s, 0)
		y.records = nil
		up, err := y.at(1.02 * good)
		require.NoError(t, err)
		down, err := y.at(0.98 * good)
		require.NoError(t, err)
		require.True(t, holds(y.bound, 0)(up) && !holds(y.bound, 0)(down), name)
		want, _, err := y.bisect(1.02*good, 0.98*good, holds(y.bound, 0), exact)
		require.NoError(t, err)
		assert.InEpsilon(t, want, good, 1e-3, name)
		if testing.Short() {
			continue // TestAnswerFromRecordsIsThatOfAnyWorkers has an interval
		}
		done := 0
		a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 1000}, Options{Progress: func(p Progress) { done = p.Value }})
		require.NoError(t, err)
		assert.LessOrEqual(t, done, 7, name)
		low, high, err := interval(y.search, y.bound, want, want*(1-exact), 1000, false)
		require.NoError(t, err)
		assert.InEpsilon(t, low, a.Low, 2e-3, name)
		assert.InEpsilon(t, high, a.High, 2e-3, name)
	}
}

// A chance that falls and rises again meets a target twice, and both are found; one
// that falls all the way once. (x - 3)(x - 40)/1000 made up; by hand.
func TestTwoRootsAreTwo(t *testing.T) {
	two := crossings(func(x float64) float64 { return (x - 3) * (x - 40) / 1000 }, 1, 100)
	require.Len(t, two, 2)
	assert.InEpsilon(t, 3, two[0], 1e-5)
	assert.InEpsilon(t, 40, two[1], 1e-5)
	one := crossings(func(x float64) float64 { return 3 - x }, 1, 100)
	require.Len(t, one, 1)
	assert.InEpsilon(t, 3, one[0], 1e-5)
	assert.Empty(t, crossings(func(float64) float64 { return 1 }, 1, 100))
}

// The run level stays while the reserve grows with the capacity, so the chance rises
// with it: the records say so, and a simulation does.
func TestChanceThatRisesWithTheCapacity(t *testing.T) {
	z := sizingOf(t, withDwell(t, laws["gamma"], over("unwind.storage.run_level", "60 m"), over("unwind.storage.reserve", "4 %")), 1)
	here, err := z.at(70)
	require.NoError(t, err)
	there, err := z.at(100)
	require.NoError(t, err)
	of := func(t *Trial) float64 { return t.Metrics[metric.Depletion].Mean }
	assert.Greater(t, of(there), 1.2*of(here))
	assert.InEpsilon(t, of(there), of(here.curve.at(100)), 1e-6)
}

// The curve of an answer has the simulated values, and between them what the records
// say; at the answer itself the two are one.
func TestCurveOfAnAnswer(t *testing.T) {
	s := shipped(t, "label_press", 1, "4")
	a, err := SizeStorage(context.Background(), s, StorageQuestion{Risk: Risk{Share: 0.01}, Most: 1000}, Options{})
	require.NoError(t, err)
	simulated, last := 0, 0.0
	for _, p := range a.Curve {
		assert.Greater(t, p.X, last, "in order, none twice")
		last = p.X
		assert.True(t, p.Chance.Low <= p.Chance.Mean && p.Chance.Mean <= p.Chance.High)
		if p.Simulated {
			simulated++
		}
		if p.X == a.Value {
			assert.True(t, p.Simulated)
			assert.InDelta(t, 0.01, p.Chance.Mean, 1e-4)
		}
	}
	possible := 0
	for _, e := range a.Evidence {
		if e.Possible {
			possible++
		}
	}
	assert.Equal(t, possible, simulated)
	assert.Greater(t, len(a.Curve), simulated+10)
}

// A sweep over the storage from few simulations is the one that simulates every
// point, to 5 % of the chance where a long dwell decides, and says which points it
// simulated.
func TestStorageSweepFromRecords(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("TestCurveIsTheSimulation reckons two of its points")
	}
	s := shipped(t, "label_press", 1, "4")
	axis, ok, err := StorageAxis(s, 0)
	require.NoError(t, err)
	require.True(t, ok)
	of := func() *Sweep {
		w, err := NewSweep(s, []Axis{axis}, Usual())
		require.NoError(t, err)
		return w
	}
	quick, full := of(), of()
	require.NoError(t, SweepStorage(context.Background(), s, quick, Options{}))
	simulated := 0
	for k := range full.Points {
		require.NoError(t, full.Simulate(context.Background(), s, k, replicate.Options{}))
		p, q := full.Points[k], quick.Points[k]
		require.Equal(t, p.LeftOut, q.LeftOut)
		if p.LeftOut != "" {
			continue
		}
		want, got := p.Results.Alternatives[0].Metrics[metric.Depletion], q.Results.Alternatives[0].Metrics[metric.Depletion]
		if !q.Reckoned {
			simulated++
			assert.Equal(t, [3]float64{want.Mean, want.Low, want.High}, [3]float64{got.Mean, got.Low, got.High})
			continue
		}
		assert.InEpsilon(t, want.Mean, got.Mean, 0.05, axis.Texts[k])
		assert.Equal(t, len(p.Binds[0]), len(q.Binds[0]), axis.Texts[k])
	}
	assert.LessOrEqual(t, simulated, (len(full.Points)+1)/2)
	assert.GreaterOrEqual(t, simulated, 3)
}
