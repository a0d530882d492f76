package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
)

// A rewind changed by hand, slit into 3 lanes, 20 mm of 500 mm trimmed off: times and
// lengths are those of the whole web (TestManualBoth), rolls are counted and packed by
// lane, areas and masses are without the trim.
func TestLanesAndTrimByHand(t *testing.T) {
	l := invented.Manual() // 1992 m of 2000 m are used
	l.Web = model.Web{Width: 0.5, Grammage: 0.08}
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(498)}, Trigger: model.ByLength,
		ChangeTime: model.Const(45), MaxSplices: -1, Pack: model.Const(10), Lanes: 3, Trim: 0.02}
	l.Crew.Operators = 5
	// Four sets to a parent roll, as in TestManualBoth; each set is three rolls to pack.
	stop := 10 + 5 + 15.0
	cycle := 4*((498-18.75)/2.5+stop) + 3*45 + 240
	r := simulated(t, l, model.Run{Horizon: 11 * cycle, WarmUp: cycle})
	within(t, r, "good_rate", 1992/cycle)
	within(t, r, "processed_rate", 1992/cycle)
	within(t, r, "quality", 1)
	within(t, r, "finished_roll_rate", 12/cycle)
	within(t, r, "transfer_rate", 4/cycle)
	within(t, r, "good_area_rate", 0.48*1992/cycle)
	within(t, r, "good_mass_rate", 0.08*0.48*1992/cycle)
	within(t, r, "waste.residual", 8./2000)
	within(t, r, "waste.trim", 0.04*1992/2000)
	within(t, r, "waste.total", (8+0.04*1992)/2000)
	within(t, r, "crew.utilisation", (20+240+4*(20+45)+12*(20+10))/(5*cycle))
}

// A set is taken off and a set of cores loaded in one task, and a duty by finished
// rolls counts those of every lane.
func TestDoffIsForTheSet(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.Lanes = 5
	l.Crew.Operators = 4
	l.Crew.Duties = []model.Duty{{Name: "sample", PerRoll: 2, Takes: model.Const(7)}}
	// 900 m a set; of 1494 m a parent roll the next is armed in 60 + 40 s.
	const h, from = 996 * 900, 99600.0 // whole parent rolls and whole sets, at 2.5 m/s
	r := simulated(t, l, model.Run{Horizon: h/2.5 + from, WarmUp: from})
	rolls := 5 * r.Metrics["transfer_rate"].Mean
	within(t, r, "finished_roll_rate", rolls)
	within(t, r, "transfer_rate", 2.5/900)
	busy := 2.5/900*(20+100) + 2.5/1494*(20+100) + rolls/2*(20+7)
	assert.InDelta(t, busy/4, r.Metrics["crew.utilisation"].Mean, 1e-5, "but for the tasks at the two ends")
	_, trims := r.Metrics["waste.trim"]
	assert.False(t, trims, "a line without trim has no waste of it")
}
