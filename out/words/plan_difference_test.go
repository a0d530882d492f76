package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/estimate"
)

// What an alternative changes of a list stands with the sign of the figure: sooner and less
// late are less; what is not shown is "~".
func TestPlanDifferences(t *testing.T) {
	x := &twoWays().Alternatives[1]
	assert.Equal(t, [3]string{"−2.00 ± 0.20 h", "+2.00 ± 0.50", "−1.00 ± 0.10 h"}, PlanDifferences(x))
	x.SoonerBy, x.MoreTimed, x.LessLate = shown(-7200, 720), shown(-2, 0.5), shown(10, 360)
	assert.Equal(t, [3]string{"+2.00 ± 0.20 h", "−2.00 ± 0.50", "~"}, PlanDifferences(x))
	x.MoreTimed.Why, x.MoreTimed.Low, x.MoreTimed.High = estimate.TooFew, math.NaN(), math.NaN()
	assert.Equal(t, "−2.00 ± ?", PlanDifferences(x)[1], "that is not none")
}

// Hours and web that are lost to one thing have one cause.
func TestCauseOf(t *testing.T) {
	for name, want := range map[string]string{"time.stopped.web_break": "web_break", "waste.web_break": "web_break", "waste.splice": "unwind_change", "time.stopped.unwind_change": "unwind_change",
		"waste.transfer": "rewind_change", "waste.restart": "ramping", "time.ramping": "ramping", "waste.stop": "stops", "time.stopped.stop.jam": "stop.jam", "time.running": "running", "waste.residual": "residual"} {
		assert.Equal(t, want, CauseOf(name), name)
	}
	assert.NotEqual(t, CauseOf("time.stopped.changeover"), CauseOf("time.stopped.stop.changeover"), "a stop may be called so")
}
