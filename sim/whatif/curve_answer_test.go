package whatif

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// The curve of an answer is a sweep near it: with the target as its limit, which the
// points below the answer break, and without the ends of the search.
func TestCurveIsASweep(t *testing.T) {
	chance := func(p float64) estimate.Estimate {
		return estimate.Estimate{Mean: p, Low: p / 2, High: 2 * p, HalfWidth: math.NaN(), Why: estimate.Skewed}
	}
	a := &Answer{Kind: Storage, Of: UnwindStorage, Alternative: "a", Dim: model.Length, Value: 100, Now: 104, Metric: metric.Depletion, Target: Target{Risk: Risk{Share: 1e-3}},
		Curve:    []CurvePoint{{50, chance(0.5), true}, {95, chance(4e-3), false}, {100, chance(1e-3), true}, {105, chance(2e-4), false}, {1000, chance(0), true}},
		Evidence: []Trial{{X: 1000, Possible: true, Metrics: replicate.Metrics{metric.SpliceRate: {Mean: 0.1}}}, {X: 100, Possible: true, Metrics: replicate.Metrics{metric.SpliceRate: {Mean: 0.002}}}}}
	w := a.CurveSweep(replicate.RunInfo{Replications: 20}, model.Metric)
	require.NotNil(t, w)
	assert.Equal(t, []float64{95, 100, 105}, w.Axes[0].Values)
	assert.Equal(t, []string{"95 m", "100 m", "105 m"}, w.Axes[0].Texts)
	assert.Equal(t, 104.0, w.Axes[0].Now[0])
	assert.Equal(t, []bool{true, false, true}, []bool{w.Points[0].Reckoned, w.Points[1].Reckoned, w.Points[2].Reckoned})
	assert.Equal(t, []int{1, 0, 0}, []int{len(w.Points[0].Binds[0]), len(w.Points[1].Binds[0]), len(w.Points[2].Binds[0])})
	a.Target.Risk = Risk{Rate: 4e-6, Text: "4 in a million seconds"}
	assert.InDelta(t, 2e-3, a.CurveSweep(replicate.RunInfo{}, model.Metric).Limits.Risk.Share, 1e-12, "at the splices of the answer")
	a.Curve = a.Curve[3:]
	assert.Nil(t, a.CurveSweep(replicate.RunInfo{}, model.Metric), "one point near it is no curve")
}
