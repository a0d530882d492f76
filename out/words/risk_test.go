package words

import (
	"testing"

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
