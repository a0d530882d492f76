package words

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// openTruths are results with what the records leave open, what is said of it, and
// what not.
func openTruths() []struct {
	truth
	rs *replicate.Results
} {
	of := func(share float64, change func(*replicate.Results)) *replicate.Results {
		rs := invented.Results()
		invented.Recorded(rs, share)
		if change != nil {
			change(rs)
		}
		return rs
	}
	return []struct {
		truth
		rs *replicate.Results
	}{
		// 97.2 ± 1.1 m/min, and 10 % by the records: ± hypot(1.1, 9.72) = 9.78, 10.06 % of it.
		// For ± 5 %, 4.86, the records may leave sqrt(4.86² - 1.1²) = 4.734: 4.2 times the
		// values; the others leave a fifth, 4.347, which is
		// less than 4.734, so the 60 values, 8.69 of it, must come to sqrt(22.41 - 18.90) = 1.874: 1291 of them.
		{truth{what: "a tenth", says: []string{"With the records the good web is known to ± 9.8 m/min (10 %), at 95 % confidence; from the simulation alone to ± 1.1.",
			`Of the variance that the records leave: changeover 80 % (60 values), plate cleaning: repair 10 % (37 values).`,
			"For ± 5 % of the good web, log 4.2 times as much of everything, or 1,231 more values of changeover alone.",
			`The difference in good web between "zero-speed, 60 m" and "by hand" is known to ± 3.2 m/min with the records; from the simulation alone to ± 0.77.`}, never: []string{"more replications first", "scrap of a web break"}}, of(0.1, nil)},
		// 2.3 % by the records and 1.1 m/min, 1.13 %, by the simulation: for 2 % both are room enough.
		{truth{what: "little", says: []string{"For ± 2 % of the good web, log 1.9 times as much of everything"}, never: []string{"more replications first"}}, of(0.0226, nil)},
		{truth{what: "the simulation leaves more than is asked for", says: []string{"For ± 1 % of the good web the simulation needs more replications first."}, never: []string{"log "}}, of(0.012, nil)},
		{truth{what: "no record stands out", says: []string{"For ± 5 % of the good web, log 4.2 times as much of everything."}, never: []string{"Of the variance", "alone."}},
			of(0.1, func(rs *replicate.Results) {
				for i := range rs.Open.Good {
					rs.Open.Good[i].Parts, rs.Open.Against[i].Parts = []float64{0.02, 0.04, 0}, nil
				}
			})},
	}
}

func openSaid(rs *replicate.Results) []string {
	return append(OpenSentences(rs, 0, model.Metric), OpenAgainst(rs, model.Metric)...)
}

func TestSentencesOfRecordsAreTrue(t *testing.T) {
	for _, x := range openTruths() {
		x.check(t, strings.Join(openSaid(x.rs), "\n"))
	}
	assert.Empty(t, openSaid(invented.Results()), "not looked for")
}

// What more values bring is what more values do: with so many the half width is the one
// that was asked for.
func TestMoreValuesMakeItGood(t *testing.T) {
	rs := invented.Results()
	invented.Recorded(rs, 0.1)
	e := rs.Alternatives[0].Metrics[metric.GoodRate]
	left := func(changeovers float64) float64 { // variance falls as one over the values
		return math.Hypot(e.HalfWidth, e.Left*math.Sqrt(0.2+0.8*60/changeovers))
	}
	assert.LessOrEqual(t, left(60+1231), 0.05*e.Mean)
	assert.Greater(t, left(60+1230), 0.05*e.Mean)
}

// The second half width is both errors together; a difference that the records hide is
// marked.
func TestOpenHalf(t *testing.T) {
	u := model.Unit{SI: 1}
	e := estimate.Estimate{Mean: 10, HalfWidth: 0.3, Low: 9.7, High: 10.3, Left: 0.4}
	assert.Equal(t, "± 0.50", OpenHalf(e, u))
	e.Left = math.NaN()
	assert.Equal(t, "± ?", OpenHalf(e, u))
	e.Left = 0
	assert.Equal(t, "± 0.30", OpenHalf(e, u))
	skewed := estimate.Estimate{Mean: 10, HalfWidth: math.NaN(), Low: 9.7, High: 10.6, Left: 0.8, Why: estimate.Skewed}
	assert.Equal(t, "(9.15–11.00)", OpenHalf(skewed, u), "sqrt(0.3² + 0.8²) = 0.854 below, 1 above")
	assert.Equal(t, "± 0", OpenHalf(estimate.Estimate{Mean: 10, Low: 10, High: 10}, u))
	d := estimate.Estimate{Unit: "m/s", Mean: 0.5, HalfWidth: 0.3, Low: 0.2, High: 0.8, Left: 0.4}
	row := Compared{Shown: u, Cells: []ComparedCell{{}, {Figure: &e, Difference: &d}}}
	figure, difference := row.Open(1)
	assert.Equal(t, []string{"± 0.30", "± 0.50 ~"}, []string{figure, difference}, "0.5 ± 0.5 covers 0")
	assert.Equal(t, "± 5.0", OpenChance(estimate.Estimate{Unit: "1", Mean: 0.2, HalfWidth: 0.03, Low: 0.17, High: 0.23, Left: 0.04}))
	assert.Equal(t, "(0.0001 %–0.0007 %)", OpenChance(estimate.Estimate{Unit: "1", Mean: 4e-6, HalfWidth: 0, Low: 4e-6, High: 4e-6, Left: 3e-6}))
}
