package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/invented"
)

// Single places of the engine, each worked by hand. The lines are those of
// fixture_test.go: 2.5 m/s, the splice as in TestLogOfASplice.

// first is the first record of an event, from a time on.
func first(t *testing.T, log []sim.Record, e sim.Event, from float64) sim.Record {
	t.Helper()
	for _, r := range log {
		if r.Event == e && r.Time >= from {
			return r
		}
	}
	require.Fail(t, "no such event", "%v from %g s", e, from)
	return sim.Record{}
}

// The interlock lets go when the content is a thousandth of the storage, 0.06 m,
// above its own level, which at rest is the reserve of 2 m. The new roll speeds up
// at 0.6: it has given 0.3 t² = 0.06 m after sqrt(0.2) s.
func TestTheInterlockLetsGoAboveItsLevel(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Dwell, l.Unwind.Storage.RestartLevel = model.Const(40), 1
	log := sim.LogOf(t, l, model.Run{Horizon: 700})
	tripped := first(t, log, sim.InterlockTrips, 0)
	assert.InDelta(t, 8.25, tripped.UnwindStorage, 1e-9)
	up := first(t, log, sim.StationSpeedsUp, 0)
	assert.InDelta(t, 2, up.UnwindStorage, 1e-9)
	off := first(t, log, sim.InterlockOff, 0)
	assert.InDelta(t, up.Time+math.Sqrt(0.2), off.Time, 1e-7)
	assert.InDelta(t, 2.06, off.UnwindStorage, 1e-7)
}

// The mirror image for a winder, whose room at the run level is 55 m: it lets go
// with 2.055 m of room.
func TestTheInterlockOfARewindLetsGoAboveItsLevel(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Roll.Length = model.Const(1e6)
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.Dwell, l.Rewind.Storage.RestartLevel = model.Const(40), 59
	log := sim.LogOf(t, l, model.Run{Horizon: 450})
	up := first(t, log, sim.StationSpeedsUp, 0)
	assert.InDelta(t, 58, up.RewindStorage, 1e-9)
	off := first(t, log, sim.InterlockOff, 0)
	assert.InDelta(t, up.Time+math.Sqrt(0.055/0.3), off.Time, 1e-7)
	assert.InDelta(t, 57.945, off.RewindStorage, 1e-7)
}

// A splice that parts does so when it is at the process: it is made with the
// content of the storage and the path of the web, 14 m, ahead of it.
func TestAPartedSpliceIsThereAfterStorageAndPath(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Process.Path, l.Unwind.SpliceBreaks = 14, 1
	l.WebBreaks = &model.WebBreaks{MeanLength: math.Inf(1), AtSpeed: 2.5, Repair: model.Const(300)}
	log := sim.LogOf(t, l, model.Run{Horizon: 640})
	assert.InDelta(t, 1517.90625, first(t, log, sim.NewRoll, 0).P, 1e-9)
	broke := first(t, log, sim.WebBreaks, 0)
	assert.Equal(t, sim.SpliceParted, broke.Cause)
	assert.InDelta(t, 1517.90625+60-3.90625-20+14, broke.P, 1e-6)
	assert.InDelta(t, broke.P/2.5, broke.Time, 1e-9)
}

// A spindle of 1.5 N m speeds a new roll up more slowly than 0.6 m/s2: 1500 m of
// 0.1 mm, 0.33 m wide at 80 g/m2 are 39.6 kg between a core of 150 mm and D² =
// d² + 4 t L / pi; J = m (R² + r²)/2 and a = T R / J. The end of the old roll, of
// some ten metres, it slows at 0.8 as asked.
func TestTorqueLimitsTheRampUp(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Web = model.Web{Width: 0.33, Caliper: 1e-4, Grammage: 0.08}
	l.Unwind.Roll.Core, l.Unwind.SpindleTorque = 0.15, 1.5
	R, r := math.Sqrt(0.15*0.15+4*1e-4*1500/math.Pi)/2, 0.075
	a := 1.5 * R / (1500 * 0.33 * 0.08 * (R*R + r*r) / 2)
	require.InDelta(t, 0.297, a, 0.001)
	log := sim.LogOf(t, l, model.Run{Horizon: 700})
	down, atRest := first(t, log, sim.CycleBegins, 0), first(t, log, sim.ChangeBegins, 0)
	assert.InDelta(t, 2.5/0.8, atRest.Time-down.Time, 1e-9)
	up, fast := first(t, log, sim.StationSpeedsUp, 0), first(t, log, sim.StationAtSpeed, 0)
	assert.InDelta(t, 3.75/a, fast.Time-up.Time, 1e-9)
	assert.InDelta(t, up.UnwindStorage+3.75*3.75/(2*a)-2.5*3.75/a, fast.UnwindStorage, 1e-9)
}

// Rolls so short that the next splice begins 0.5 m before the storage is full, from
// 3.75 m/s: the storage fills within the ramp, and the unwind, which can give no
// more than the process takes, ramps on from 2.5 m/s.
//
// The new roll gives 11.71875 m in its ramp up, and 3.75 m/s until 1.25 m/s of it
// have filled 27.8125 - 0.5 m; the trigger is 6 + 3.75²/1.6 m before its end.
func TestAStorageThatFillsInTheRampDown(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Crew.Reaction, l.Unwind.Load, l.Unwind.Prepare = model.Const(1), model.Const(1), model.Const(1)
	refill := (27.8125 - 0.5) / 1.25
	l.Unwind.Roll.Length = model.Const(11.71875 + 3.75*refill + 6 + 3.75*3.75/1.6)
	log := sim.LogOf(t, l, model.Run{Horizon: 120})
	up := first(t, log, sim.StationSpeedsUp, 0)
	begins := first(t, log, sim.CycleBegins, up.Time)
	assert.InDelta(t, up.Time+6.25+refill, begins.Time, 1e-9)
	assert.InDelta(t, 59.5, begins.UnwindStorage, 1e-9)
	// 0.5 = 1.25 t - 0.4 t².
	full := first(t, log, sim.StorageFull, up.Time)
	assert.InDelta(t, begins.Time+(1.25-math.Sqrt(1.25*1.25-4*0.4*0.5))/0.8, full.Time, 1e-9)
	assert.InDelta(t, 60, full.UnwindStorage, 1e-9)
	atRest := first(t, log, sim.ChangeBegins, up.Time)
	assert.InDelta(t, full.Time+2.5/0.8, atRest.Time, 1e-9)
	assert.InDelta(t, 60-3.90625, atRest.UnwindStorage, 1e-9)
}

// A break of half an hour, two hours into each shift of eight, is two hours into
// every one of them.
func TestBreaksOfTheCrewDoNotDrift(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Crew.Breaks = []model.Break{{At: 7200, For: 1800}}
	const shifts = 40
	n := 0
	for _, r := range sim.LogOf(t, l, model.Run{Horizon: shifts * 28800}) {
		switch r.Event {
		case sim.BreakBegins:
			assert.InDelta(t, float64(n)*28800+7200, r.Time, 1e-6)
		case sim.BreakEnds:
			assert.InDelta(t, float64(n)*28800+9000, r.Time, 1e-6)
			n++
		}
	}
	assert.Equal(t, shifts, n)
}

// A calendar stop is not planned time, other stops are: every 10,000 s the line
// stands for 600 s by the calendar, which costs no availability; a jam of 300 s
// every 4000 s of running does.
func TestCalendarStopsAreNotPlanned(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Stops = []model.Stop{{Name: "cleaning", Every: model.Const(10000), Calendar: true, Repair: model.Const(600)}}
	r := simulated(t, l, model.Run{Horizon: 50000, WarmUp: 10000})
	// 5 s of ramp from the due time, 600 s of rest, 10 s of ramp.
	within(t, r, "time.stopped.stop.cleaning", 0.06)
	within(t, r, "availability", 1)
	within(t, r, "oee", (2.5*(10000-615)+6.25+12.5)/(2.5*9400))
	l.Stops = append(l.Stops, model.Stop{Name: "jam", Every: model.Const(4000), Repair: model.Const(300)})
	r = simulated(t, l, model.Run{Horizon: 50000, WarmUp: 10000})
	jam := r.Metrics["time.stopped.stop.jam"].Mean
	assert.InDelta(t, 2*300./10000, jam, 0.01)
	within(t, r, "availability", (0.94-jam)/0.94)
}

// A crew break is not planned time either, also where the line stands already when it
// begins: a jam at 7000 s, that takes until 9600 s or more, is charged with the whole of a
// break from 7200 to 9000 s, but only what lies outside it costs availability.
func TestCrewBreaksAreNotPlanned(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Crew.Breaks = []model.Break{{At: 7200, For: 1800}}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Const(7000), Repair: model.Const(2600), NeedsOperator: true}}
	r := simulated(t, l, model.Run{Horizon: 14000})
	stopped := r.Metrics["time.stopped"].Mean
	within(t, r, "time.stopped.stop.jam", stopped)
	assert.Greater(t, stopped, 2600./14000)
	within(t, r, "time.stopped.crew_break", 0)
	within(t, r, "availability", (1-stopped)*14000/(14000-1800))
}

// A finished roll that has no core to follow it grows by its overrun of 50 m, to
// 950 m, and then the winder stands: it begins to slow 3.90625 m before. The
// storage had 5 m.
func TestAFinishedRollGrowsByItsOverrun(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.LoadCore = model.Const(420)
	log := sim.LogOf(t, l, model.Run{Horizon: 460})
	late := first(t, log, sim.NextNotReady, 0)
	assert.InDelta(t, (900-3.90625)/2.5, late.Time, 1e-9)
	waits := first(t, log, sim.WaitsForNext, 0)
	assert.Equal(t, sim.OfRewind, waits.Of)
	assert.InDelta(t, (950-3.90625)/2.5+3.125, waits.Time, 1e-9)
	assert.InDelta(t, 950, 5+waits.P-waits.RewindStorage, 1e-9, "wound")
	assert.InDelta(t, 440, first(t, log, sim.NextReady, waits.Time).Time, 1e-9)
}

// The scrap of a transfer is the first metres of the new roll, not the last of
// the old: the first roll ends at 895 m of web (5 m were in the storage), and of
// its 10 m of scrap the 5 beyond the 900 m of the warm-up count.
func TestTransferScrapIsOfTheNewRoll(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.TransferScrap = model.Const(10)
	r := simulated(t, l, model.Run{Horizon: 590, WarmUp: 360, Replications: 1})
	within(t, r, "waste.transfer", 5/(2.5*230))
}
