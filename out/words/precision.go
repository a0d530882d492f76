package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model/legible"
	"rollchange/sim/whatif"
)

// PrecisionSentence says how far the replications went that were asked to make
// a figure sure enough.
func PrecisionSentence(r whatif.Reached) string {
	what := LabelOf(r.Metric).Text + " (" + r.Metric + ")"
	if r.Worst == 0 {
		return fmt.Sprintf("%s: the same in all of %d replications", what, r.Replications)
	}
	of := ""
	if r.Alternative != "base" {
		of = fmt.Sprintf(", %q", legible.Line(r.Alternative))
	}
	if math.IsInf(r.Worst, 1) {
		return fmt.Sprintf("%s: never seen%s in %d replications, the most allowed, so not known to %g %%", what, strings.Replace(of, ", ", " in ", 1), r.Replications, 100*r.Half)
	}
	if r.Enough {
		return fmt.Sprintf("%s: half width %.2g %% of the mean%s after %d replications; %g %% was asked for", what, 100*r.Worst, of, r.Replications, 100*r.Half)
	}
	return fmt.Sprintf("%s: half width still %.2g %% of the mean%s after %d replications, the most allowed; %g %% was asked for", what, 100*r.Worst, of, r.Replications, 100*r.Half)
}
