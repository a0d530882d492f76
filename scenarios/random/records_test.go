package random

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// What was recorded is drawn on both sides of what it may be: one cause, all causes and the
// whole above the planned hours, which is refused, and the same below; more hours by cause
// than the whole, which logs have, and fewer.
func TestRecordsAreDrawnOnBothSides(t *testing.T) {
	if testing.Short() {
		t.Skip("needs hundreds of scenarios")
	}
	refused, seen := map[string]bool{}, map[string]bool{}
	for seed := range uint64(effort.Of(0, 100, 500)) {
		d := newDrawer(seed)
		d.all()
		s, err := d.scenario().Parse()
		var wrong *scenarios.Errors
		if errors.As(err, &wrong) {
			for _, p := range wrong.Problems {
				if strings.HasPrefix(p.Key, "records.") {
					refused[numbered.ReplaceAllString(p.Key, "[]")+strings.Repeat(" together", strings.Count(p.What, "add up"))] = true
				}
			}
			_, s, err = Draw(seed)
		}
		if err != nil || s.Study.Recorded.Hours == 0 {
			continue
		}
		r, sum := s.Study.Recorded, 0.0
		for _, c := range r.Causes {
			if c.Time != nil && c.Is != model.RecordedNothing {
				sum += *c.Time
			}
		}
		if r.Stopped != nil {
			seen["the whole"] = true
			if sum > *r.Stopped {
				seen["more by cause"] = true
			} else if sum > 0 {
				seen["less by cause"] = true
			}
		}
	}
	for _, what := range []string{"records.stopped", "records.cause[].hours", "records.cause[].hours together", "records.cause[].text"} {
		assert.True(t, refused[what], "%s is never refused", what)
	}
	for _, what := range []string{"the whole", "more by cause", "less by cause"} {
		assert.True(t, seen[what], "%s is never drawn", what)
	}
}
