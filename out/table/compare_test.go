package table

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Of five alternatives the first stands in two blocks; it reads the same in both,
// though the others stop a few times a day in the one and six times an hour in the
// other.
func TestOneUnitARowInEveryBlock(t *testing.T) {
	rs := &replicate.Results{Run: invented.Results().Run}
	for i, perHour := range []float64{0.3, 0.2, 0.4, 6, 0.01} {
		e := estimate.Estimate{Unit: "1/s", Mean: perHour / 3600, HalfWidth: perHour / 36000, SD: 1e-6, N: 10}
		e.Low, e.High = e.Mean-e.HalfWidth, e.Mean+e.HalfWidth
		rs.Alternatives = append(rs.Alternatives, replicate.Result{Alternative: string(rune('a' + i)), Names: []string{metric.StopRate}, Metrics: replicate.Metrics{metric.StopRate: e}})
		rs.Differences = append(rs.Differences, replicate.Metrics{})
	}
	var b bytes.Buffer
	require.NoError(t, Compare(&b, words.About{Title: "five"}, rs, model.Metric, Screen{Columns: 100}))
	var rows []string
	for _, line := range strings.Split(b.String(), "\n") {
		if strings.Contains(line, words.MetricLabel(metric.StopRate)) {
			rows = append(rows, strings.Join(strings.Fields(line), " "))
		}
	}
	assert.Equal(t, []string{"web comes to rest, /h 0.300 ± 0.030 0.200 ± 0.020 0.400 ± 0.040", "web comes to rest, /h 0.300 ± 0.030 6.00 ± 0.60 0.0100 ± 0.0010"}, rows)
}

// A difference that too few events carry for limits is not called none, and what its mark
// means stands below; where every difference has limits that note is not there.
func TestADifferenceWithoutLimitsIsNotCalledNone(t *testing.T) {
	for _, few := range []bool{false, true} {
		rs := &replicate.Results{Run: invented.Results().Run}
		for i, mean := range []float64{0.50, 0.66} {
			e := estimate.Estimate{Unit: "1", Mean: mean, HalfWidth: 0.01, Low: mean - 0.01, High: mean + 0.01, SD: 0.02, N: 20}
			rs.Alternatives = append(rs.Alternatives, replicate.Result{Alternative: string(rune('a' + i)), Names: []string{metric.OEE}, Metrics: replicate.Metrics{metric.OEE: e}})
		}
		d := estimate.Estimate{Unit: "1", Mean: 0.16, HalfWidth: 0.2, Low: -0.04, High: 0.36, SD: 0.4, N: 20}
		if few {
			d.Why, d.HalfWidth, d.Low, d.High, d.Needed = estimate.TooFew, math.NaN(), math.NaN(), math.NaN(), 70
		}
		rs.Differences = []replicate.Metrics{nil, {metric.OEE: d}}
		s := compareText(t, rs, model.Metric)
		assert.Equal(t, few, strings.Contains(s, "+16.0 ± ?"), s)
		assert.Equal(t, few, strings.Contains(s, "about 70"), s)
		assert.Equal(t, !few, strings.Contains(s, " ~\n"), s)
	}
}

// A figure that no table shows brings no note on a mark that is nowhere.
func TestAMarkThatIsNotShownIsNotExplained(t *testing.T) {
	rs := invented.Results()
	before := compareText(t, rs, model.Metric)
	require.NotContains(t, before, words.TooFewMark)
	few := estimate.Estimate{Unit: "1", Mean: 0.5, Why: estimate.TooFew, HalfWidth: math.NaN(), Low: math.NaN(), High: math.NaN(), Needed: 70}
	rs.Alternatives[0].Metrics["not shown"] = few
	assert.Equal(t, before, compareText(t, rs, model.Metric))
	var b strings.Builder
	require.NoError(t, Run(&b, words.About{}, rs, 0, model.Metric, Screen{Columns: 80}))
	assert.NotContains(t, b.String(), words.TooFewMark)
}
