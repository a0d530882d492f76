package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model/legible"
	"rollchange/model/portable"
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
	return fmt.Sprintf("%s: half width still %.2g %% of the mean%s after %d replications, the most allowed; %g %% was asked for, which takes about %s", what, 100*r.Worst, of, r.Replications, 100*r.Half, aboutSoMany(r.Needed()))
}

// aboutSoMany is a number of replications, rounded up to two digits.
func aboutSoMany(n float64) string {
	unit := max(1, portable.Pow(10, math.Floor(portable.Log10(n))-1))
	return Grouped(math.Ceil(n/unit-1e-9) * unit)
}

// PrecisionOfMany says how far the replications of several points went, each on its own.
func PrecisionOfMany(list []whatif.Reached) string {
	worst, short, least, most := list[0], 0, list[0].Replications, 0
	for _, r := range list {
		if r.Worst > worst.Worst {
			worst = r
		}
		if !r.Enough {
			short++
		}
		least, most = min(least, r.Replications), max(most, r.Replications)
	}
	if short > 0 {
		return fmt.Sprintf("at %d of %d points too few replications were allowed; the widest: %s", short, len(list), PrecisionSentence(worst))
	}
	after := fmt.Sprintf("%d", least)
	if most > least {
		after = fmt.Sprintf("%d to %d", least, most)
	}
	return fmt.Sprintf("%s (%s): half width %.2g %% of the mean or less at each of %d points, after %s replications; %g %% was asked for", LabelOf(worst.Metric).Text, worst.Metric, 100*worst.Worst, len(list), after, 100*worst.Half)
}
