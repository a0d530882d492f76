package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
)

// What is lost at a splice is what is left on the core and the scrap behind the splice:
// 8 m and 5 m, over whole cycles of a line without chance.
func TestWebLostAtASplice(t *testing.T) {
	l := invented.Manual()
	l.Unwind.SpliceScrap = model.Const(5)
	cycle := 10 + (1992-12.5-6.25)/2.5 + 5 + 15 + 240
	run := model.Run{Horizon: 21 * cycle, WarmUp: cycle}
	assert.NotContains(t, simulated(t, l, run).Metrics, "splice.web_lost", "nothing is said of how splices are made")
	l.Unwind.Splicing.Method = model.Butt
	r := simulated(t, l, run)
	within(t, r, "splice.web_lost", 13)
	within(t, r, "waste.splice", 5./2000)
}
