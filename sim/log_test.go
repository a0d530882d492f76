package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/invented"
)

// step is a row of a log worked out by hand: time, station, event and the
// place of what the row is about (processed length, storage contents).
type step struct {
	t       float64
	station string
	event   string
	p, a, b float64 // m processed; unwind and rewind storage, NaN for none
	holds   string
}

func assertLog(t *testing.T, got []sim.Record, want []step) {
	t.Helper()
	for i, r := range got {
		if i == len(want) {
			t.Errorf("row %d and more: %.6f %s", i, r.Time, said(&r))
			return
		}
		w := want[i]
		event := said(&r)
		assert.InDelta(t, w.t, r.Time, 1e-9*max(1, w.t), "row %d (%s)", i, event)
		assert.Equal(t, w.station+" | "+w.event+" | "+w.holds, event+" | "+fmt.Sprint(r.Holds), "row %d", i)
		assert.InDelta(t, w.p, r.P, 1e-9*max(1, w.p), "row %d (%s): processed", i, event)
		for k, x := range [2][2]float64{{w.a, r.UnwindStorage}, {w.b, r.RewindStorage}} {
			assert.Equal(t, math.IsNaN(x[0]), math.IsNaN(x[1]), "row %d: storage %d", i, k)
			if !math.IsNaN(x[0]) {
				assert.InDelta(t, x[0], x[1], 1e-9*max(1, x[0]), "row %d (%s): storage %d", i, event, k)
			}
		}
	}
	assert.Len(t, got, len(want))
}

// A splice out of storage, every row by hand. The believed rest is 6 m and the
// unwind slows at 0.8: the trigger is at 1500 - 6 - 2.5²/1.6 = 1490.09375 m.
func TestLogOfASplice(t *testing.T) {
	none := math.NaN()
	down, up := 2.5/0.8, 3.75/0.6          // 3.125 s, 6.25 s
	trigger := 1490.09375 / 2.5            // 596.0375 s
	atRest := trigger + down               // the process went on 7.8125 m, the unwind 3.90625
	spliced := atRest + 8                  // 20 m more
	low := 60 - 3.90625 - 20.0             // content when the new roll begins
	fast := spliced + up                   // the unwind gave 11.71875 m, the process took 15.625
	lack := 60 - (low + 11.71875 - 15.625) // what is missing then, refilled at 1.25 m/s
	full := fast + lack/1.25
	assertLog(t, sim.LogOf(t, invented.ZeroSpeed(), model.Run{Horizon: 640}), []step{
		{0, "crew", "call: load next roll", 0, 60, none, "[]"},
		{20, "crew", "arrives: load next roll", 50, 60, none, "[]"},
		{120, "crew", "done: load next roll", 300, 60, none, "[]"},
		{120, "unwind", "next ready", 300, 60, none, "[]"},
		{trigger, "unwind", "cycle begins", 1490.09375, 60, none, "[]"},
		{atRest, "unwind", "at rest: change is made", 1497.90625, 60 - 3.90625, none, "[]"},
		{spliced, "unwind", "new roll runs", 1517.90625, low, none, "[]"},
		{spliced, "crew", "call: load next roll", 1517.90625, low, none, "[]"},
		{spliced, "unwind", "ramps up", 1517.90625, low, none, "[]"},
		{fast, "unwind", "at its top speed", 1517.90625 + 15.625, 60 - lack, none, "[]"},
		{spliced + 20, "crew", "arrives: load next roll", 1517.90625 + 50, 60 - lack + 1.25*(spliced+20-fast), none, "[]"},
		{full, "unwind", "storage refilled", full * 2.5, 60, none, "[]"},
	})
}

// A manual unwind: the stop begins 6.25 m before the rest of 8 m.
func TestLogOfAManualChange(t *testing.T) {
	none := math.NaN()
	stop := (2000 - 8 - 6.25) / 2.5 // 794.3 s
	done := stop + 20 + 240
	assertLog(t, sim.LogOf(t, invented.Manual(), model.Run{Horizon: 1100}), []step{
		{stop, "unwind", "stop for change", 1985.75, none, none, "[unwind_change]"},
		{stop, "process", "slows", 1985.75, none, none, "[unwind_change]"},
		{stop, "crew", "call: unwind change", 1985.75, none, none, "[unwind_change]"},
		{stop + 5, "process", "at rest", 1992, none, none, "[unwind_change]"},
		{stop + 20, "crew", "arrives: unwind change", 1992, none, none, "[unwind_change]"},
		{done, "crew", "done: unwind change", 1992, none, none, "[unwind_change]"},
		{done, "unwind", "new roll runs", 1992, none, none, "[unwind_change]"},
		{done, "unwind", "change done", 1992, none, none, "[]"},
		{done, "process", "speeds up", 1992, none, none, "[]"},
		{done + 10, "process", "at speed", 1992 + 12.5, none, none, "[]"},
	})
}

// Late arming with one operator: the roll runs on to its least rest and waits;
// the storage feeds the process until the interlock stops it at 2 + 6.25 m.
func TestLogOfLateArming(t *testing.T) {
	none := math.NaN()
	l := invented.ZeroSpeed()
	l.Crew.Operators = 1
	l.Unwind.Load, l.Unwind.Prepare, l.Unwind.Residual, l.Unwind.ResidualLeast = model.Const(500), model.Const(300), 12, 4
	at := (1500 - 12 - 3.90625) / 2.5
	begin := (1500 - 4 - 3.90625) / 2.5
	rest := begin + 3.125
	p := 1492.09375 + 7.8125
	trip := rest + (60-3.90625-8.25)/2.5
	atTrip := p + 60 - 3.90625 - 8.25
	assertLog(t, sim.LogOf(t, l, model.Run{Horizon: 839}), []step{
		{0, "crew", "call: load next roll", 0, 60, none, "[]"},
		{20, "crew", "arrives: load next roll", 50, 60, none, "[]"},
		{at, "unwind", "trigger: next not ready, runs on", at * 2.5, 60, none, "[]"},
		{begin, "unwind", "cycle begins", 1492.09375, 60, none, "[]"},
		{rest, "unwind", "at rest: waits for the next", p, 60 - 3.90625, none, "[]"},
		{trip, "unwind", "interlock trips", atTrip, 8.25, none, "[unwind_depleted]"},
		{trip, "process", "slows", atTrip, 8.25, none, "[unwind_depleted]"},
		{trip + 5, "process", "at rest", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{820, "crew", "done: load next roll", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{820, "unwind", "next ready", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{820, "unwind", "at rest: change is made", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{828, "unwind", "new roll runs", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{828, "crew", "call: load next roll", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		{828, "unwind", "ramps up", atTrip + 6.25, 2, none, "[unwind_depleted]"},
		// 6.25 s of ramp give 11.71875 m, the rest of 28 m at 3.75 m/s.
		{828 + 6.25, "unwind", "at its top speed", atTrip + 6.25, 2 + 11.71875, none, "[unwind_depleted]"},
		{828 + 6.25 + (28-11.71875)/3.75, "unwind", "interlock off", atTrip + 6.25, 30, none, "[]"},
		{828 + 6.25 + (28-11.71875)/3.75, "process", "speeds up", atTrip + 6.25, 30, none, "[]"},
	})
}

// A splice that fails, is made by hand, and parts in the process.
func TestLogOfAFailedSpliceThatParts(t *testing.T) {
	none := math.NaN()
	l := invented.ZeroSpeed()
	l.Unwind.SpliceSuccess, l.Unwind.SpliceBreaks = 0, 1
	l.Unwind.Storage.Capacity, l.Unwind.Storage.RunLevel, l.Unwind.Storage.RestartLevel = 500, 500, 250
	l.WebBreaks = &model.WebBreaks{MeanLength: math.Inf(1), AtSpeed: 2.5, Repair: model.Const(300)}
	trigger := 1490.09375 / 2.5
	failed := trigger + 3.125 + 8
	byHand := failed + 20 + 120
	// The splice is made with the content ahead of it: it parts when the process has taken that.
	content := 500 - 3.90625 - (byHand-trigger-3.125)*2.5
	parts := byHand*2.5 + content
	var broke []sim.Record
	for _, r := range sim.LogOf(t, l, model.Run{Horizon: 1500}) {
		if r.Event == sim.WebBreaks || r.Event == sim.ChangeFailed || r.Of == sim.OfCrew && r.Task == sim.TaskUnwindRecover || r.Event == sim.WebMended {
			broke = append(broke, r)
		}
	}
	for i := range broke {
		broke[i].UnwindStorage = none
	}
	at := parts / 2.5
	assertLog(t, broke, []step{
		{failed, "unwind", "failed: made by hand", failed * 2.5, none, none, "[]"},
		{failed, "crew", "call: splice by hand", failed * 2.5, none, none, "[]"},
		{failed + 20, "crew", "arrives: splice by hand", (failed + 20) * 2.5, none, none, "[]"},
		{byHand, "crew", "done: splice by hand", byHand * 2.5, none, none, "[]"},
		{at, "web", "web break: splice parted", parts, none, none, "[web_break]"},
		{at + 320, "web", "web break mended", parts + 6.25, none, none, "[]"},
	})
}
