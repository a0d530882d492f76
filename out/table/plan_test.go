package table

import (
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/plan"
)

func planText(t *testing.T, a *plan.Answer, proposals []*plan.Proposal, sys model.System, columns int) string {
	t.Helper()
	return invented.Written(t, func(w io.Writer) error { return Plan(w, about, a, proposals, sys, Screen{Columns: columns}) })
}

// A plan as it is read on a narrow and on a wide terminal; on the clock of the plant, and
// in hours where the list has no begin.
func TestPlanGolden(t *testing.T) {
	a := invented.Plan(6, 3, invented.PlanNames)
	invented.Golden(t, "plan_80.txt", []byte(planText(t, a, invented.Proposals(a), model.Metric, 80)))
	invented.Golden(t, "plan_120.txt", []byte(planText(t, a, invented.Proposals(a), model.Metric, 120)))
	a.Begin = time.Time{}
	nan := math.NaN()
	none := plan.Times{Mean: nan, Low: nan, High: nan}
	a.Alternatives[1].Orders[5] = plan.Order{Begin: none, End: none, Late: invented.Share(1, 0), Stopped: make([]float64, 4)}
	a.Alternatives[1].Unended = 1
	invented.Golden(t, "plan_hours_imperial.txt", []byte(planText(t, a, nil, model.Imperial, 80)))
}

// No line of a plan is wider than the terminal, whatever the names, and no name is more
// than text.
func TestPlanFits(t *testing.T) {
	for _, columns := range []int{80, 100, 120} {
		for _, name := range append([]string{strings.Repeat("a long name ", 12)}, invented.HostileNames...) {
			if len(name) > 200 { // longer than a name may be, in one word
				continue
			}
			a := invented.Plan(5, 3, func(string, int) string { return name })
			text := planText(t, a, invented.Proposals(a), model.Metric, columns)
			for _, line := range strings.Split(text, "\n") {
				assert.False(t, strings.ContainsFunc(line, legible.Hidden), "%.40q: %q", name, line)
				assert.LessOrEqual(t, words.Columns(line), columns, "%.40q: %s", name, line)
			}
		}
	}
}
