package sim_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// lateTurret is a line with a parent roll without end and a turret of a kind, whose
// first core is late: the roll is at its 500 m after 200 s, the core ready after 250.
func lateTurret(kind model.ChangeKind) model.Line {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e6)
	l.Rewind = model.Rewind{Change: kind, Roll: model.RollSize{Length: model.Const(500)}, Trigger: model.ByLength, Overrun: 30, MaxSplices: -1,
		Doff: model.Const(60), LoadCore: model.Const(230), Dwell: model.Const(5), Decel: 1, Accel: 0.8, MaxSpeed: 3.75, TransferSuccess: 1,
		LateChange: model.Const(10), Recover: model.Const(90), LateSpeed: 0.5,
		Storage: model.Storage{Capacity: 60, RunLevel: 5, RestartLevel: 30, Reserve: 2}}
	return l
}

// Armed before the overrun is used up: the line slows from 2.5 to 0.5 m/s at 0.5 m/s2
// in 4 s and 6 m, runs 46 s at that, and speeds up at 0.25 m/s2 in 8 s and 12 m.
func TestLogOfALateCoreAtLateSpeed(t *testing.T) {
	none := math.NaN()
	l := lateTurret(model.Flying)
	l.Rewind.Overrun = 100
	assertLog(t, sim.LogOf(t, l, model.Run{Horizon: 265}), []step{
		{0, "crew", "call: doff and load core", 0, none, none, "[]"},
		{20, "crew", "arrives: doff and load core", 50, none, none, "[]"},
		{200, "rewind", "trigger: next not ready, runs on", 500, none, none, "[]"},
		{200, "process", "slows", 500, none, none, "[]"},
		{204, "process", "at speed", 506, none, none, "[]"},
		{250, "crew", "done: doff and load core", 529, none, none, "[]"},
		{250, "rewind", "next ready", 529, none, none, "[]"},
		{250, "process", "speeds up", 529, none, none, "[]"},
		{250, "rewind", "roll finished", 529, none, none, "[]"},
		{250, "crew", "call: doff and load core", 529, none, none, "[]"},
		{258, "process", "at speed", 541, none, none, "[]"},
	})
	r := simulated(t, l, model.Run{Horizon: 265})
	within(t, r, "time.slowed", 46./265)
	within(t, r, "time.ramping", 12./265)
	within(t, r, "transfer.not_ready", 1)
}

// Not armed at the end of an overrun of 20 m: from 0.5 m/s the line needs 0.25 m and
// 1 s to stop. Whoever loads the core makes the change, in 10 s.
func TestLogOfALateCoreThatStopsTheLine(t *testing.T) {
	none := math.NaN()
	l := lateTurret(model.Flying)
	l.Rewind.Overrun = 20
	stop := 204 + (519.75-506)/0.5
	assertLog(t, sim.LogOf(t, l, model.Run{Horizon: 271}), []step{
		{0, "crew", "call: doff and load core", 0, none, none, "[]"},
		{20, "crew", "arrives: doff and load core", 50, none, none, "[]"},
		{200, "rewind", "trigger: next not ready, runs on", 500, none, none, "[]"},
		{200, "process", "slows", 500, none, none, "[]"},
		{204, "process", "at speed", 506, none, none, "[]"},
		{stop, "rewind", "stop for change", 519.75, none, none, "[rewind_change]"},
		{stop, "process", "slows", 519.75, none, none, "[rewind_change]"},
		{stop + 1, "process", "at rest", 520, none, none, "[rewind_change]"},
		{250, "crew", "done: doff and load core", 520, none, none, "[rewind_change]"},
		{250, "crew", "stays: join core by hand", 520, none, none, "[rewind_change]"},
		{250, "rewind", "next ready", 520, none, none, "[rewind_change]"},
		{260, "crew", "done: join core by hand", 520, none, none, "[rewind_change]"},
		{260, "rewind", "roll finished", 520, none, none, "[rewind_change]"},
		{260, "crew", "call: doff and load core", 520, none, none, "[rewind_change]"},
		{260, "rewind", "change done", 520, none, none, "[]"},
		{260, "process", "speeds up", 520, none, none, "[]"},
		{270, "process", "at speed", 532.5, none, none, "[]"},
	})
}

// A turret out of storage: the trigger is 2.5²/2 = 3.125 m before the length. At 250 s
// the core is ready, the line speeds up, and the winder, at 0.5 m/s, is at rest after
// 0.5 s and 0.125 m. Its dwell begins with 0.15625 m more in the storage.
func TestLogOfALateCoreOutOfStorage(t *testing.T) {
	none := math.NaN()
	p := func(x float64) float64 { return 526.5 + 0.5*x + 0.125*x*x } // x s after 250
	wound := 526.5 + 0.125
	up := func(x float64) float64 { return wound + 0.4*(x-5.5)*(x-5.5) }
	fast := 5.5 + 3.75/0.8
	full := 5 + (p(8) + 2.5*(fast-8)) - up(fast) // content as the winder is at its top speed
	rest := fast + (full-5)/1.25
	assertLog(t, sim.LogOf(t, lateTurret(model.ZeroSpeed), model.Run{Horizon: 270}), []step{
		{0, "crew", "call: doff and load core", 0, none, 5, "[]"},
		{20, "crew", "arrives: doff and load core", 50, none, 5, "[]"},
		{198.75, "rewind", "trigger: next not ready, runs on", 496.875, none, 5, "[]"},
		{198.75, "process", "slows", 496.875, none, 5, "[]"},
		{202.75, "process", "at speed", 502.875, none, 5, "[]"},
		{250, "crew", "done: doff and load core", 526.5, none, 5, "[]"},
		{250, "rewind", "next ready", 526.5, none, 5, "[]"},
		{250, "process", "speeds up", 526.5, none, 5, "[]"},
		{250, "rewind", "cycle begins", 526.5, none, 5, "[]"},
		{250.5, "rewind", "at rest: change is made", p(0.5), none, 5.15625, "[]"},
		{255.5, "rewind", "roll finished", p(5.5), none, 5 + p(5.5) - wound, "[]"},
		{255.5, "crew", "call: doff and load core", p(5.5), none, 5 + p(5.5) - wound, "[]"},
		{255.5, "rewind", "ramps up", p(5.5), none, 5 + p(5.5) - wound, "[]"},
		{258, "process", "at speed", p(8), none, 5 + p(8) - up(8), "[]"},
		{250 + fast, "rewind", "at its top speed", p(8) + 2.5*(fast-8), none, full, "[]"},
		{250 + rest, "rewind", "storage refilled", p(8) + 2.5*(rest-8), none, 5, "[]"},
	})
}

// A line that slows more steeply than the winder: 1.25 s after the trigger the core is
// ready at 498.5 m, from where the winder would rest 1.375 m short of the length. It
// goes on, while the line speeds up, until v²/2 is what is left, and rests at 500 m.
func TestALateCoreShortensNoRoll(t *testing.T) {
	l := lateTurret(model.ZeroSpeed)
	l.Process.Decel, l.Rewind.LoadCore = 2, model.Const(180)
	x := (math.Sqrt(0.625*0.625+4*0.15625*1.375) - 0.625) / (2 * 0.15625) // 1.5 - x/2 - x²/8 = (1/2 + x/4)²/2
	var rows []sim.Record
	for _, r := range sim.LogOf(t, l, model.Run{Horizon: 205}) {
		if said(&r) == "rewind | cycle begins" || said(&r) == "rewind | at rest: change is made" {
			rows = append(rows, r)
		}
	}
	if assert.Len(t, rows, 2) {
		assert.InDelta(t, 200+x, rows[0].Time, 1e-9)
		assert.InDelta(t, 200+x+0.5+x/4, rows[1].Time, 1e-9)
		assert.InDelta(t, 500, rows[1].P-(rows[1].RewindStorage-5), 1e-9, "wound")
	}
}

// Without an overrun, and a line that slows more steeply than the winder: from the trigger
// on, 3.125 m before the length, the winder needs less than is left. The line is at 0.5 m/s
// after 1 s and 1.5 m, and the change begins 0.125 m before the length, 3 s later, whatever
// the last digit of the roll.
func TestALateCoreWithoutOverrunIsWaitedForAtLateSpeed(t *testing.T) {
	l := lateTurret(model.ZeroSpeed)
	l.Process.Decel, l.Rewind.Overrun = 2, 0
	for k := range 40 {
		length := 490 + 0.37*float64(k)
		l.Rewind.Roll.Length = model.Const(length)
		begins := math.NaN()
		for _, r := range sim.LogOf(t, l, model.Run{Horizon: 215}) {
			if said(&r) == "rewind | cycle begins" {
				begins = r.Time
			}
		}
		assert.InDelta(t, (length-3.125)/2.5+4, begins, 1e-9, "%g m", length)
	}
}

// Without chance, a flying turret that stops the line for every change makes no less
// good web when the line slows, if the next core is ready before the slowed line begins
// to stop, and the change at rest takes at least overrun/late_speed:
//
//	stop:  L + o in A + c          slow:  P in A, P >= L, at late_speed v or more
//	(L + o)/(A + c) <= (P + v c)/(A + c) <= P/A    where o <= v c and v <= P/A
//
// with A the time to arm the next core and c that of the change at rest.
func TestSlowMakesNoLessThanStop(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 3))
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	tried, more := 0, 0
	for range effort.Of(100, 500, 10000) {
		l := lateTurret(model.Flying)
		w := &l.Rewind
		l.Process.Accel, l.Process.Decel = in(0.1, 2), in(0.1, 2)
		w.Roll.Length, w.LateSpeed, w.Overrun = model.Const(in(50, 600)), in(0.1, 2.4), in(1, 50)
		w.LateChange = model.Const(in(1, 1.5) * w.Overrun / w.LateSpeed)
		w.LoadCore = model.Const(in(0.5, 2) * (w.Overrun/w.LateSpeed + w.Roll.Length.A/2.5))
		w.Doff = model.Const(0)
		l.Process.RestartScrap = model.Const(in(0, 5))
		run := model.Run{Horizon: 1e5, Replications: 1}
		slow := simulated(t, l, run).Metrics
		w.LateSpeed = 0
		stop := simulated(t, l, run).Metrics
		if slow["stop_rate.rewind_change"].Mean > 0 || stop["stop_rate.rewind_change"].Mean < 0.9*stop["transfer_rate"].Mean {
			continue // the slowed line stops too, or the other not for every change
		}
		tried++
		cycle := (w.Roll.Length.A + w.Overrun) / run.Horizon // a roll that the horizon cuts
		assert.GreaterOrEqual(t, slow["good_rate"].Mean, stop["good_rate"].Mean-cycle, "%+v", l.Rewind)
		if slow["good_rate"].Mean > stop["good_rate"].Mean*1.001 {
			more++
		}
	}
	assert.Greater(t, tried, effort.Of(3, 15, 300))
	assert.Greater(t, more, tried/4)

	// No condition can be left out: a core that is ready within the overrun stops
	// no line that runs on; and where the change at rest takes no time, a long overrun
	// is better run through at line speed. (A core that is ready just as the slowed line
	// begins to stop waits for its rest.)
	less := func(change func(*model.Rewind)) {
		l := lateTurret(model.Flying)
		change(&l.Rewind)
		slow := simulated(t, l, model.Run{Horizon: 1e5}).Metrics["good_rate"].Mean
		l.Rewind.LateSpeed = 0
		assert.Less(t, slow, 0.99*simulated(t, l, model.Run{Horizon: 1e5}).Metrics["good_rate"].Mean)
	}
	less(func(w *model.Rewind) { w.Overrun = 1000 })
	less(func(w *model.Rewind) { w.Overrun, w.LateChange, w.LateSpeed = 200, model.Const(0), 0.1 })
}
