package out

import (
	"fmt"

	"rollchange/sim/whatif"
)

// PrecisionSentence says how far the replications went that were asked to make
// a figure sure enough.
func PrecisionSentence(r whatif.Reached) string {
	what := labelOf(r.Metric).text + " (" + r.Metric + ")"
	if r.Worst == 0 {
		return fmt.Sprintf("%s: the same in all of %d replications, or never seen", what, r.Replications)
	}
	of := ""
	if r.Alternative != "base" {
		of = fmt.Sprintf(", %q", safe(r.Alternative))
	}
	if r.Enough {
		return fmt.Sprintf("%s: half width %.2g %% of it%s after %d replications, %g %% was asked", what, 100*r.Worst, of, r.Replications, 100*r.Half)
	}
	return fmt.Sprintf("%s: half width still %.2g %% of it%s at the limit of %d replications, %g %% was asked", what, 100*r.Worst, of, r.Replications, 100*r.Half)
}
