package whatif

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// late is a line whose rolls are late at a high speed, whose storage depletes above
// that, and whose refill is too slow above that.
func late(t testing.TB, seed, replications int) *scenarios.Scenario {
	t.Helper()
	return withDwell(t, laws["lognormal"], over("line.speed", "130 m/min"), over("unwind.prepare", `{ dist = "lognormal", mean = "420 s", sd = "100 s" }`),
		over("run.horizon", "8 h"), over("run.replications", strconv.Itoa(replications)), over("run.seed", strconv.Itoa(seed)))
}

var lateLimits = Limits{Risk: Risk{Share: 0.3}, NotReady: 0.05, NotRefilled: 0.02, Busy: 0.9, Waste: math.NaN()}

func sizeSpeed(t testing.TB, s *scenarios.Scenario, limits Limits, opt Options) *Answer {
	t.Helper()
	a, err := SizeSpeed(context.Background(), s, limits, opt)
	require.NoError(t, err)
	return a
}

// The answer is where bisection ends, to a twentieth of the answer's interval or half
// a unit of the fourth digit; a limit that does not decide it to a quarter of its own.
// Fewer than thirty simulations find them all, and the same for any number of workers.
func TestSpeedsAreThoseOfFineBisection(t *testing.T) {
	t.Parallel()
	s := late(t, 1, effort.Of(20, 40, 100))
	done := 0
	a := sizeSpeed(t, s, lateLimits, Options{Workers: 1, Progress: func(p Progress) { done = max(done, p.Value) }})
	assert.LessOrEqual(t, done, 30)
	assert.InDelta(t, len(a.Evidence), done, 1, "one may be gone on with at the end")
	bound := 0
	for _, x := range a.Next {
		if x.By != ALimit || math.IsNaN(x.Value) {
			continue
		}
		bound++
		q := newSearch(context.Background(), s, Options{}, "line.speed", "m/s")
		within := math.Max((x.High-x.Low)/4, 2*digitsShown*x.Value)
		if x.Value == a.Value {
			within = math.Max((x.High-x.Low)/20, 2*digitsShown*x.Value)
		}
		low, high := x.Value-within, x.Value+within
		for v, ok := range map[float64]bool{low: true, high: false} {
			y, err := q.at(v)
			require.NoError(t, err)
			assert.Equal(t, ok, holds(x.Bound, 0)(y), "%s %g", x.Metric, v)
		}
		good, _, err := q.bisect(low, high, holds(x.Bound, 0), 1e-6)
		require.NoError(t, err)
		assert.InDelta(t, good, x.Value, within, x.Metric)
		assert.LessOrEqual(t, x.Low, x.Value)
		assert.GreaterOrEqual(t, x.High, x.Value)
	}
	assert.Equal(t, 3, bound)
	three := sizeSpeed(t, s, lateLimits, Options{Workers: 3})
	assert.Equal(t, [4]float64{a.Value, a.Low, a.High, a.Most.X}, [4]float64{three.Value, three.Low, three.High, three.Most.X})
}

// What a speed comes to in some replications, and then in all, is what it comes to in
// all at once.
func TestRepsOfASpeedGoOn(t *testing.T) {
	t.Parallel()
	s := late(t, 1, 20)
	a := sizeSpeed(t, s, lateLimits, Options{})
	whole := 0
	for _, e := range a.Evidence {
		if e.Replications < 20 {
			assert.Equal(t, leastPart, e.Replications)
			continue
		}
		whole++
		want := metricsWith(t, s, over("line.speed", strconv.FormatFloat(e.X, 'g', 10, 64)+" m/s"))["splice.not_ready"]
		assert.Equal(t, want.Mean, e.Metrics["splice.not_ready"].Mean)
		assert.Equal(t, want.High, e.Metrics["splice.not_ready"].High)
	}
	assert.Greater(t, whole, 3)
	assert.Less(t, whole, len(a.Evidence))
}

// Where nothing binds, the present speed and the top are simulated in all replications,
// and in some of them the speeds between that stand no farther apart than they may, and
// one just below the top.
func TestNothingBindsTakesFewSimulations(t *testing.T) {
	t.Parallel()
	s := shipped(t, "bagger", 0, "10")
	a := sizeSpeed(t, s, Usual(), Options{})
	assert.True(t, a.Met)
	assert.Equal(t, a.Next[len(a.Next)-1].Value, a.Value, "the top")
	between := int(math.Ceil(math.Log(a.Value/a.Now)/math.Log(farthestApart))) - 1
	assert.Equal(t, 3+between, len(a.Evidence))
	whole := 0
	for _, e := range a.Evidence {
		if e.Replications == 10 {
			whole++
		}
	}
	assert.Equal(t, 2, whole)
}

// A crew that is too busy in the middle of the range, and not above it, where the other
// end stops the line so often, is found from both ends; the answer is the lower one.
func TestLimitsThatHoldAgain(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	s := shipped(t, "laminator", 3, "6")
	nan := math.NaN()
	a := sizeSpeed(t, s, Limits{NotReady: nan, NotRefilled: nan, Busy: 0.9, Waste: nan}, Options{})
	busy := func(x float64) float64 {
		return metricsWith(t, s, over("line.speed", strconv.FormatFloat(x, 'g', 10, 64)+" m/s"))["crew.utilisation"].Mean
	}
	require.Len(t, a.Again, 1)
	assert.LessOrEqual(t, busy(a.Value), 0.9)
	assert.Greater(t, busy((a.Value+a.Again[0])/2), 0.9)
	assert.LessOrEqual(t, busy(a.Again[0]), 0.9)
	assert.Greater(t, busy((1-2*loosely)*a.Again[0]), 0.9)
	assert.LessOrEqual(t, busy(12.5), 0.9)
	assert.Empty(t, sizeSpeed(t, late(t, 1, 20), lateLimits, Options{}).Again)
}

// The top of a parabola, x (4 - x), and the corner of two lines, min(x, 3 (5 - x)) at
// 3.75, are found from their ends as near as is said, in few looks; what rises all the
// way is greatest at the top.
func TestPeakIsFound(t *testing.T) {
	for name, c := range map[string]struct {
		f        func(x float64) float64
		at, most float64
		looks    int
	}{
		"parabola": {func(x float64) float64 { return x * (4 - x) }, 2, 4, 8},
		"corner":   {func(x float64) float64 { return min(x, 3*(5-x)) }, 3.75, 3.75, 12},
		"rise":     {math.Sqrt, 5, math.Sqrt(5), 1},
	} {
		list := []output{{x: 1.5, good: c.f(1.5)}, {x: 5, good: c.f(5)}}
		if name != "rise" {
			list = []output{{x: 1.5, good: c.f(1.5)}, {x: 2.7, good: c.f(2.7)}, {x: 5, good: c.f(5)}}
		}
		looks, stalled := 0, false
		for range mostLooks {
			x, width := peak(list, 0.5, 5, stalled)
			if math.IsNaN(x) {
				break
			}
			looks++
			list = append(list, output{x: x, good: c.f(x)})
			sortOutputs(list)
			_, narrower := peak(list, 0.5, 5, false)
			stalled = narrower > 0.6*width
		}
		m := list[best(list)]
		assert.GreaterOrEqual(t, m.good, c.most*(1-littleGain), name)
		assert.InEpsilon(t, c.at, m.x, 0.05, name)
		assert.LessOrEqual(t, looks, c.looks, name)
	}
}

// What chance hides is not looked for: the sharper of two like outputs takes more looks.
func TestNoMostIsLookedForWithinChance(t *testing.T) {
	list := func(half float64) []output {
		return []output{{1.8, 3.96, half}, {2.05, 3.9975, half}, {2.2, 3.96, half}}
	}
	x, _ := peak(list(0.001), 0.5, 5, false)
	assert.InEpsilon(t, 2, x, 0.02, "of x (4 - x)")
	x, _ = peak(list(0.2), 0.5, 5, false)
	assert.True(t, math.IsNaN(x))
}

func sortOutputs(list []output) {
	slices.SortFunc(list, func(a, b output) int { return cmp.Compare(a.x, b.x) })
}

// The interval of a speed covers the true one as often as it says: here from 3,000
// replications (usual form: 200), in 400 repeats of 20 (usual: 8). A coverage of 95 %
// is off by more than 3.5 binomial errors by chance in 1 of 2,000, 3.8 points of 400; the
// seeds are fixed.
func TestIntervalOfASpeedCoversTheTruth(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	truth := map[string]float64{}
	for _, b := range sizeSpeed(t, late(t, 99999, effort.Of(0, 200, 3000)), lateLimits, Options{}).Next {
		truth[b.Metric] = b.Value
	}
	covered := map[string]int{}
	repeats := effort.Of(0, 8, 400)
	for k := range repeats {
		for _, b := range sizeSpeed(t, late(t, k+1, 20), lateLimits, Options{}).Next {
			if x := truth[b.Metric]; b.Low <= x && x <= b.High {
				covered[b.Metric]++
			}
		}
	}
	for _, m := range []string{"splice.depletion", "splice.not_ready"} {
		share := float64(covered[m]) / float64(repeats)
		t.Logf("%s: truth %.4g m/s, covered in %.1f %%", m, truth[m], 100*share)
		assert.InDelta(t, 0.95, share, 3.5*math.Sqrt(0.95*0.05/float64(repeats)), m)
	}
}

// The fastest line is the closed form where a long dwell alone binds, whatever the law.
func TestFastestSpeedIsTheClosedForm(t *testing.T) {
	for law, text := range laws {
		s := withDwell(t, text)
		a := sizeSpeed(t, s, Limits{Risk: Risk{Share: 1e-3}, NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}, Options{})
		c := model.UnwindCycle(&s.Study.Alternatives[0].Line)
		assert.InEpsilon(t, c.Fastest(model.UpperQuantile(c.Dwell, 1e-3)), a.Value, 1e-3, law)
	}
}
