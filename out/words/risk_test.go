package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// What was never seen stands with how many were looked at, and the upper end of
// its interval.
func TestNoneSeen(t *testing.T) {
	r := replicate.Result{Metrics: replicate.Metrics{"splice_rate": {Mean: 59.0 / 1000}, "splice.run_out": {High: 0.05}}}
	value, bound := NoneSeen("splice.run_out", r, replicate.RunInfo{Horizon: 110, WarmUp: 10, Replications: 10, Confidence: 0.95})
	if value != "none in 59" || bound != "below 5 %" {
		t.Errorf("%q, %q", value, bound)
	}
	if value, _ := NoneSeen("transfer.failed", r, replicate.RunInfo{Replications: 1}); value != "none seen" {
		t.Errorf("%q", value)
	}
}

// A chance is in percent, a small one with a power of ten, one beyond any meaning as a bound; its limits with the same.
func TestChancesAreWritten(t *testing.T) {
	for p, want := range map[float64]string{0: "0 %", 1e-5: "0.001 %", 0.99e-5: "0.00099 %", 1e-7: "0.00001 %", 9.8e-8: "9.8e-6 %", 3.24e-12: "3.2e-10 %", 3.5e-53: "below 1e-10 %", 0.0306: "3.06 %", 0.9994: "99.9 %", 0.9995: "100 %", 1: "100 %"} {
		assert.Equal(t, want, Chance(p), "%g", p)
	}
	nan := math.NaN()
	for want, e := range map[string]estimate.Estimate{
		"0.0100 ± 0.0012 %":             {Mean: 1e-4, HalfWidth: 1.2e-5},
		"0.000234 % ± 5.2 % of it":      {Mean: 2.34e-6, HalfWidth: 0.052 * 2.34e-6},
		"0.00023 (0.00011–0.00040) %":   {Mean: 2.34e-6, HalfWidth: nan, Low: 1.12e-6, High: 4.01e-6, Why: estimate.Skewed},
		"0.000234 % (0.00011 %–0.02 %)": {Mean: 2.34e-6, HalfWidth: nan, Low: 1.12e-6, High: 2e-4, Why: estimate.Skewed},
		"0.000234 % ± n/a":              {Mean: 2.34e-6, HalfWidth: nan, Low: nan, High: nan, Why: estimate.OneReplication},
	} {
		assert.Equal(t, want, ChanceFigure(e))
	}
}
