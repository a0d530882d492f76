package whatif

import (
	"context"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// swept is a whole sweep of a scenario.
func swept(t *testing.T, s *scenarios.Scenario, specs ...string) *Sweep {
	t.Helper()
	var axes []Axis
	for _, spec := range specs {
		a, err := ParseAxis(s, spec, false)
		require.NoError(t, err)
		axes = append(axes, a)
	}
	w, err := NewSweep(s, axes, Usual())
	require.NoError(t, err)
	for k := range w.Points {
		require.NoError(t, w.Simulate(context.Background(), s, k, replicate.Options{Workers: 1 + k%3}))
	}
	return w
}

// sameMetrics wants every number the same to the last bit.
func sameMetrics(t *testing.T, want, got *replicate.Results) {
	t.Helper()
	require.Len(t, got.Alternatives, len(want.Alternatives))
	assert.Equal(t, want.Run, got.Run)
	bits := func(e estimate.Estimate) []any {
		return []any{e.Unit, math.Float64bits(e.Mean), math.Float64bits(e.HalfWidth), math.Float64bits(e.SD), e.N}
	}
	for i, a := range want.Alternatives {
		b := got.Alternatives[i]
		assert.Equal(t, a.Alternative, b.Alternative)
		require.Equal(t, a.Names, b.Names)
		for _, name := range a.Names {
			assert.Equal(t, bits(a.Metrics[name]), bits(b.Metrics[name]), "%s: %s", a.Alternative, name)
		}
	}
}

// A point is the scenario with the keys changed by hand, to the last bit.
func TestAPointIsTheScenarioChangedByHand(t *testing.T) {
	for _, c := range []struct {
		specs    []string
		at       []int
		replaced []string
	}{
		{[]string{"line.speed=120 m/min,180 m/min"}, []int{0}, nil},
		{[]string{"line.speed=120 m/min,180 m/min"}, []int{1}, []string{`speed = "120 m/min"`, `speed = "180 m/min"`}},
		{[]string{"unwind.dwell.mean=6 s,9 s"}, []int{1}, []string{`mean = "8 s"`, `mean = "9 s"`}},
		{[]string{"unwind.dwell=6 s..12 s/3"}, []int{1}, []string{`{ dist = "gamma", mean = "8 s", sd = "2 s" }`, `"9 s"`}},
		{[]string{"unwind.storage.capacity=30 m,45 m", "crew.operators=1,2"}, []int{1, 1}, []string{`"60 m"`, `"45 m"`, "operators = 1", "operators = 2"}},
		{[]string{"stop[0].every.mean=1 h,2 h"}, []int{0}, []string{`mean = "2 h"`, `mean = "1 h"`}},
	} {
		w := swept(t, twoWays(t), c.specs...)
		by := twoWays(t, c.replaced...)
		want, err := replicate.Simulate(context.Background(), &by.Study, replicate.Options{})
		require.NoError(t, err)
		sameMetrics(t, want, w.At(c.at...).Results)
	}
}

func TestTheLastAxisRunsFastest(t *testing.T) {
	w := swept(t, twoWays(t, `horizon = "1 d"`, `horizon = "2 h"`), "line.speed=2 m/s,3 m/s", "crew.operators=1..3/3")
	require.Len(t, w.Points, 6)
	for k, at := range [][]int{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}} {
		assert.Equal(t, at, w.Points[k].At)
		assert.Same(t, &w.Points[k], w.At(at...))
	}
	assert.Equal(t, []string{"line.speed 3 m/s", "crew.operators 2"}, w.where(4))
	assert.Equal(t, []string{"by hand", "automatic"}, w.Alternatives)
}

func TestSweepsThatCannotBe(t *testing.T) {
	s := twoWays(t)
	axis := func(spec string) Axis {
		a, err := ParseAxis(s, spec, false)
		require.NoError(t, err)
		return a
	}
	speed, crew, dwell := axis("line.speed=2 m/s..3 m/s/200"), axis("crew.operators=1..60/60"), axis("unwind.dwell=6 s,9 s")
	for says, axes := range map[string][]Axis{"needs a key": nil, "one key or two": {dwell, crew, {Key: "line.accel", Values: []float64{1, 2}}}, "varied twice": {dwell, dwell}, "12000 points: the most is 10000": {speed, crew}} {
		_, err := NewSweep(s, axes, Usual())
		assert.ErrorContains(t, err, says)
	}
}

// A point that is no possible line is left out and named; the others are there.
func TestImpossiblePointsAreLeftOutAndNamed(t *testing.T) {
	w := swept(t, twoWays(t), "unwind.max_speed=60 m/min,225 m/min")
	assert.Contains(t, w.Points[0].LeftOut, "unwind.max_speed ")
	assert.Nil(t, w.Points[0].Results)
	assert.Empty(t, w.Points[1].LeftOut)
	assert.NotNil(t, w.Points[1].Results)
	require.NoError(t, w.AllLeftOut())
	w = swept(t, twoWays(t), "unwind.max_speed=50 m/min,60 m/min")
	assert.ErrorContains(t, w.AllLeftOut(), "no point is possible; at unwind.max_speed 50 m/min: unwind.max_speed ")
}

func TestLimitsThatBindAreFound(t *testing.T) {
	w := swept(t, twoWays(t), "unwind.storage.capacity=20 m,500 m")
	assert.Empty(t, w.Points[0].Binds[0], "nothing splices on the fly by hand")
	assert.Equal(t, []Bound{{Metric: "splice.depletion", Most: 1e-3}}, w.Points[0].Binds[1])
	// By time the limit is on the number of depletions.
	m := replicate.Metrics{"splice.depletion": {Mean: 0.01}, "splice_rate": {Mean: 1.0 / 3600}}
	assert.Empty(t, Limits{Risk: Risk{Rate: 0.011 / 3600}, NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}.Broken(m))
	assert.Len(t, Limits{Risk: Risk{Rate: 0.009 / 3600}, NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}.Broken(m), 1)
	assert.Empty(t, Limits{NotReady: math.NaN(), NotRefilled: math.NaN(), Busy: math.NaN(), Waste: math.NaN()}.Bounds(), "none is asked for")
}

// What is written of a sweep and its points is read back to the last bit.
func TestPointsAreReadAsTheyWereWritten(t *testing.T) {
	w := swept(t, twoWays(t), "unwind.max_speed=60 m/min,225 m/min,250 m/min")
	layout, err := json.Marshal(w)
	require.NoError(t, err)
	r, err := ReadSweep(layout)
	require.NoError(t, err)
	assert.Equal(t, w.Axes, r.Axes)
	assert.Equal(t, w.Limits.Bounds(), r.Limits.Bounds())
	require.Len(t, r.Points, 3)
	for k := range w.Points {
		data, err := w.PointData(k)
		require.NoError(t, err)
		require.NoError(t, r.SetData(k, data))
		assert.Equal(t, w.Points[k].LeftOut, r.Points[k].LeftOut)
		assert.Equal(t, w.Points[k].Binds, r.Points[k].Binds)
		if w.Points[k].Results != nil {
			sameMetrics(t, w.Points[k].Results, r.Points[k].Results)
		}
	}
	for data, says := range map[string]string{"{}": "0 alternatives in place of 2", "[": "unexpected end", `{"alternatives":[{"name":"automatic"},{"name":"by hand"}]}`: `"automatic" in place of "by hand"`} {
		assert.ErrorContains(t, r.SetData(0, json.RawMessage(data)), says)
	}
	for _, bad := range []string{"", "{}", `{"Axes":[{"Key":"a","Values":[1,2],"Texts":["1"]}]}`, `{"Axes":[{"Key":"a"},{"Key":"a"}]}`} {
		_, err := ReadSweep(json.RawMessage(bad))
		assert.Error(t, err, bad)
	}
}
