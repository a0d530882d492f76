package sim_test

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
	"rollchange/sim/replicate"
)

// An unwind that ramps to rest at a full storage takes no more web than the
// line: it slows with it. Worked out by hand: at 596.2 s the unwind has slowed
// to 2.37 m/s and the storage lacks 0.0105625 m; the line slows at 2 m/s2, is at
// the unwind's speed 0.13/1.2 s later with 0.0176042 m lacking, and the storage is
// full again at 596.2 + (0.13 + sqrt(0.13² + 2.4·0.0105625))/1.2 s.
func TestALineThatStopsMoreSteeplyThanItsUnwind(t *testing.T) {
	none := math.NaN()
	trigger := 1490.09375 / 2.5
	stop := 596.2
	full := stop + (0.13+math.Sqrt(0.13*0.13+2.4*0.0105625))/1.2
	at := func(s float64) float64 { return stop*2.5 + 2.5*s - s*s }
	rest := stop + 1.25
	p := at(1.25)
	lack := 0.8 / 2 * (stop - trigger) * (stop - trigger)
	done := rest + 60
	assertLog(t, sim.LogOf(t, invented.Steep(), model.Run{Horizon: 659})[4:], []step{
		{trigger, "unwind", "cycle begins", 1490.09375, 80, none, "[]"},
		{stop, "stop", "jam", 1490.5, 80 - lack, none, "[stop.jam]"},
		{stop, "process", "slows", 1490.5, 80 - lack, none, "[stop.jam]"},
		{stop, "crew", "call: repair jam", 1490.5, 80 - lack, none, "[stop.jam]"},
		{stop, "crew", "arrives: repair jam", 1490.5, 80 - lack, none, "[stop.jam]"},
		{full, "unwind", "storage at its run level: still slowing", at(full - stop), 80, none, "[stop.jam]"},
		{rest, "process", "at rest", p, 80, none, "[stop.jam]"},
		{rest, "unwind", "at rest: change is made", p, 80, none, "[stop.jam]"},
		{rest + 8, "unwind", "new roll runs", p, 80, none, "[stop.jam]"},
		{rest + 8, "crew", "call: load next roll", p, 80, none, "[stop.jam]"},
		{rest + 8, "unwind", "ramps up", p, 80, none, "[stop.jam]"},
		{rest + 8, "unwind", "storage refilled", p, 80, none, "[stop.jam]"},
		{rest + 8, "crew", "arrives: load next roll", p, 80, none, "[stop.jam]"},
		{done, "crew", "done: repair jam", p, 80, none, "[stop.jam]"},
		{done, "stop", "jam: over", p, 80, none, "[]"},
		{done, "process", "speeds up", p, 80, none, "[]"},
	})
	r := simulated(t, invented.Steep(), model.Run{Horizon: 700, Replications: 1})
	assert.InDelta(t, 80-lack-0.13*0.13/2.4, r.Metrics["unwind_storage.lowest"].Mean, 1e-9, "lowest content")
	assert.InDelta(t, 1500-p, r.Metrics["waste.residual"].Mean*(r.Metrics["processed_rate"].Mean*700+1500-p), 1e-9, "the roll is left with more than its 6 m")
}

// on_low = "slow" with a slow refill: the process slows once a splice and speeds
// up once, when the unwind feeds at line speed and the storage is at its slow
// level again.
func TestASlowRefillDoesNotChatter(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Process.Accel, l.Process.Decel = 0.3, 0.5
	l.Unwind.Dwell, l.Unwind.Accel, l.Unwind.MaxSpeed = model.Const(14), 0.05, 200./60
	l.Unwind.Storage = model.Storage{Capacity: 80, RunLevel: 80, RestartLevel: 40, Slow: true, SlowLevel: 25, SlowSpeed: 1}
	slows, ups, splices := 0, 0, 0
	for _, r := range sim.LogOf(t, l, model.Run{Horizon: 4 * 3600}) {
		switch r.Event {
		case sim.SlowLevel:
			if r.Holds == nil && r.SpeedP > 2 {
				slows++
				assert.InDelta(t, 25, r.UnwindStorage, 1e-9)
				continue
			}
			ups++
			assert.GreaterOrEqual(t, r.UnwindStorage, 25-1e-9)
			assert.GreaterOrEqual(t, r.SpeedU, 2.5-1e-9)
		case sim.NewRoll:
			splices++
		}
	}
	assert.Greater(t, splices, 15)
	assert.InDelta(t, splices, slows, 1)
	assert.Equal(t, slows, ups)
}

// A residual error below a millimetre is no run-out and no error.
func TestAResidualErrorWithinAMillimetre(t *testing.T) {
	for _, kind := range []model.ChangeKind{model.ZeroSpeed, model.Manual, model.Flying} {
		for _, e := range []float64{-0.0009, -0.0005, -1e-9, 1e-9, 0.0005} {
			l := invented.ZeroSpeed()
			l.Unwind.Change, l.Unwind.Residual, l.Unwind.ResidualLeast, l.Unwind.ResidualError = kind, 0, 0, model.Const(e)
			l.Unwind.Roll.Length, l.Unwind.ChangeTime = model.Const(400), model.Const(10)
			r := simulated(t, l, model.Run{Horizon: 86400})
			assert.Zero(t, r.Metrics["splice.run_out"].Mean, "%s %g", kind, e)
			assert.Positive(t, r.Metrics["splice_rate"].Mean)
		}
	}
}

// There is no scrap before the first metre: rolls of 20 m, each with a rest that
// would spoil 30 m, make scrap of all that came before the last rest.
func TestNoScrapBeforeTheFirstMetre(t *testing.T) {
	l := invented.Manual()
	l.Process.StopScrap, l.Unwind.Roll.Length, l.Unwind.Residual = model.Const(30), model.Const(20), 0
	r := simulated(t, l, model.Run{Horizon: 270, Replications: 1})
	// At rest at 10.5 s, changed at 5.5 + 260 s; 4.5 s of ramp of the second roll.
	assert.InDelta(t, 20/(20+0.25*4.5*4.5/2), r.Metrics["waste.stop"].Mean, 1e-12)
}

// A warm-up that ends inside a splice: what the storage gave before does not
// count, so the web supplied is what was processed after it.
func TestAWarmUpThatEndsInASplice(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Dwell, l.Unwind.SpliceScrap = model.Const(60), model.Const(200)
	l.Unwind.Storage = model.Storage{Capacity: 300, RunLevel: 300, RestartLevel: 100}
	r := simulated(t, l, model.Run{Horizon: 660, WarmUp: 600, Replications: 1})
	// Processed from 600 to 660 s: 150 m, all before the splice's scrap; 6 m left on the core.
	assert.InDelta(t, 2.5, r.Metrics["good_rate"].Mean, 1e-12)
	left := 1500 - (1490.09375 + 3.90625)
	assert.InDelta(t, left/(150+left), r.Metrics["waste.total"].Mean, 1e-9)
}

// A line that may start again with less than it needs to stop comes to the end of
// its storage with the web moving: the web breaks there, the content stays 0, and
// what the process ran on is threaded from the new roll.
func TestAStorageAtItsEndBreaksTheWeb(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Process.Accel, l.Process.Decel = 0.5, 0.1
	l.Crew.Reaction, l.Unwind.Load, l.Unwind.Prepare, l.Unwind.Dwell = model.Const(0), model.Const(5), model.Const(5), model.Const(10)
	l.Unwind.Roll.Length, l.Unwind.MaxSpeed = model.Dist{Law: model.Uniform, A: 100, B: 400}, 155./60
	l.Unwind.Storage = model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 5}
	run := model.Run{Horizon: 8 * 3600, Replications: 5, Seed: 1}
	r := simulated(t, l, run)
	assert.Positive(t, r.Metrics["unwind_storage.empty"].Mean)
	assert.GreaterOrEqual(t, r.Metrics["unwind_storage.lowest"].Mean, 0.0)
	assert.Equal(t, r.Metrics["unwind_storage.empty"].Mean, r.Metrics["stop_rate.web_break"].Mean)
	breaks := 0
	for _, x := range sim.LogOf(t, l, run) {
		assert.GreaterOrEqual(t, x.UnwindStorage, -1e-9, "at %g s", x.Time)
		if x.Event == sim.WebBreaks {
			breaks++
			assert.Equal(t, sim.UnwindStorageEmpty, x.Cause)
			assert.InDelta(t, 0, x.UnwindStorage, 1e-9)
			assert.Positive(t, x.SpeedP)
		}
	}
	assert.Positive(t, breaks)
}

// A flying splice that fails half the time, with one operator: he mends the break
// first and loads the next roll after it. A cycle is the 990 m of a roll and, half
// the time, a break of 110 s (10 s to come, 100 s of work; of the ramps, 2 s each,
// half is lost twice): 990/(495 + 55) = 1.8 m/s.
func TestTheOnlyOperatorMendsTheLineFirst(t *testing.T) {
	l := invented.Manual()
	l.Process = model.Process{Speed: 2, RatedSpeed: 2, Accel: 1, Decel: 1}
	l.Unwind = model.Unwind{Change: model.Flying, Roll: model.RollSize{Length: model.Const(1000)}, Residual: 10,
		Load: model.Const(300), Prepare: model.Const(100), SpliceSuccess: 0.5, Recover: model.Const(60)}
	l.Crew.Reaction = model.Const(10)
	l.WebBreaks = &model.WebBreaks{MeanLength: math.Inf(1), AtSpeed: 2, Repair: model.Const(100)}
	r := simulated(t, l, model.Run{Horizon: 10 * 86400, Replications: 20, Seed: 11})
	// 30,000 rolls; the share that fails has an sd of 0.3 %, the rate of 0.03 %.
	assert.InEpsilon(t, 1.8, r.Metrics["good_rate"].Mean, 4.5*0.0003)
	assert.Zero(t, r.Metrics["splice.not_ready"].Mean)
}

// An operator who becomes free in the instant in which a hold goes off is not
// given the task of that hold as if the line still stood for it: tasks are judged
// by the state after all of the instant.
func TestUrgentIsJudgedAtTheEndOfTheInstant(t *testing.T) {
	l := invented.Manual()
	l.Unwind.Roll.Length = model.Const(1e7)
	l.Crew.Reaction = model.Const(0)
	// Both are called while the only operator works; the check is due first.
	l.Crew.Duties = []model.Duty{
		{Name: "first", Every: model.Const(100), Takes: model.Const(150)},
		{Name: "second", Every: model.Const(240), Takes: model.Const(30)},
	}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Const(250), Calendar: true, Repair: model.Const(10), NeedsOperator: true}}
	var order []string
	for _, r := range sim.LogOf(t, l, model.Run{Horizon: 300}) {
		if r.Event == sim.Arrives {
			order = append(order, r.Name)
		}
	}
	require.NotEmpty(t, order)
	// At 250 s the operator is free, and in the same instant the line stops.
	assert.Equal(t, []string{"first", "jam"}, order[:2])
}

// A join in a changeover is no splice: with a new parent roll for every order,
// splices still fail as often as they are said to.
func TestJoinsInAChangeoverAreNoSplices(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.SpliceSuccess = 0.9
	l.Jobs = &model.Jobs{Length: model.Dist{Law: model.Exponential, A: 1500}, Changeover: model.Const(60), NewParentRoll: true}
	r := simulated(t, l, model.Run{Horizon: 10 * 86400, Replications: 20, Seed: 4})
	agrees(t, r, "splice.failed", 0.1, 0.03)
	// A roll of 1,500 m is spliced when its order is longer than that: e^-1 of
	// them, less what runs on from one order to the next, so below one an order.
	assert.Less(t, r.Metrics["splice_rate"].Mean, 0.7*r.Metrics["stop_rate.changeover"].Mean)
	assert.Positive(t, r.Metrics["splice_rate"].Mean)
}

// A flying change that is late is made at rest by whoever armed the roll, without
// a call, when late_change is given; without it an operator comes and does it by hand.
func TestALateFlyingChange(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Unwind.Change = model.Flying
	l.Unwind.Load = model.Const(700)
	l.Unwind.Residual, l.Unwind.ResidualLeast = 8, 0
	stop := (1500 - 8 - 6.25) / 2.5
	armed := 20 + 700 + 40.0
	for _, c := range []struct {
		late model.Dist
		off  float64
	}{{model.Dist{}, armed + 20 + 120}, {model.Const(6), armed + 6}} {
		l.Unwind.LateChange = c.late
		var off float64
		calls := 0
		for _, r := range sim.LogOf(t, l, model.Run{Horizon: 1000}) {
			if r.Event == sim.StopsForChange {
				assert.InDelta(t, stop, r.Time, 1e-9)
			}
			if r.Event == sim.ChangeDone {
				off = r.Time
			}
			if r.Event == sim.Called && r.Task == sim.TaskUnwindJoin {
				calls++
			}
		}
		assert.InDelta(t, c.off, off, 1e-9)
		assert.Equal(t, c.late.Given(), calls == 0)
	}
}

// A finished roll that is rejected loses what is good of it, whether that was
// added up already or not, and no more: against the same line with every roll
// accepted.
func TestARejectedRollLosesItsGoodWeb(t *testing.T) {
	l := invented.Manual()
	l.Process.StopScrap, l.Process.RestartScrap = model.Const(7), model.Const(11)
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(700)}, Trigger: model.ByLength, MaxSplices: -1, ChangeTime: model.Const(60), MinLength: 0}
	good := simulated(t, l, model.Run{Horizon: 30000, Replications: 1})
	l.Rewind.MinLength = 701
	none := simulated(t, l, model.Run{Horizon: 30000, Replications: 1})
	processed := good.Metrics["processed_rate"].Mean * 30000
	whole := math.Floor(processed/700) * 700
	assert.InDelta(t, (none.Metrics["waste.rejected"].Mean+none.Metrics["good_rate"].Mean*30000/(processed+8*none.Metrics["splice_rate"].Mean*30000))*(processed+8*none.Metrics["splice_rate"].Mean*30000),
		good.Metrics["good_rate"].Mean*30000, 1e-6, "what is good with every roll accepted is rejected or still good")
	assert.Less(t, none.Metrics["good_rate"].Mean*30000, processed-whole+1e-9, "good is only the roll being wound")
}

func TestALineThatMakesNoProgressIsAnError(t *testing.T) {
	start := effort.Processor(t)
	l := invented.Manual()
	l.Unwind.Roll.Length, l.Unwind.Residual, l.Unwind.ChangeTime, l.Crew.Reaction = model.Const(1e-15), 0, model.Const(0), model.Const(0)
	s := invented.Study(l)
	s.Run.Replications = 1
	_, err := replicate.Simulate(context.Background(), s, replicate.Options{})
	require.ErrorContains(t, err, "no progress")
	assert.Less(t, effort.Processor(t)-start, time.Second, "a person waits for it")
}

// One operator, called ahead to the unwind, while the rewind stops the line
// first: he is called away, and the line goes on.
func TestAnOperatorCalledAheadDoesNotWaitForEver(t *testing.T) {
	l := invented.Manual()
	l.Unwind.CallAhead = 60
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(650)}, Trigger: model.ByLength,
		ChangeTime: model.Const(45), CallAhead: 60, MaxSplices: -1}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: 900}, Repair: model.Const(60), NeedsOperator: true}}
	for operators := 1; operators <= 3; operators++ {
		l.Crew.Operators = operators
		r := simulated(t, l, model.Run{Horizon: 10 * 86400, Replications: 2, Seed: 2})
		assert.Greater(t, r.Metrics["processed_rate"].Mean, 1.3, "%d operators", operators)
	}
}

// An operator who was called ahead begins when his hold goes on, also where the web
// rests for something else already, as for a run-out: he waited for a rest that had
// come, and the line stood for ever.
func TestAnOperatorCalledAheadBeginsAtALineThatRests(t *testing.T) {
	l := invented.Random(134)
	l.Crew.Breaks, l.Crew.Duties, l.Rewind.Pack, l.Crew.Operators = nil, nil, model.Dist{}, 3
	r := simulated(t, l, model.Run{Horizon: 100e3, WarmUp: 50e3, Replications: 1, Seed: 134})
	assert.Less(t, r.Metrics["time.stopped"].Mean, 0.9)
}

// A web that rests with the last of its storage just at a splice that ends the finished
// roll: the operator, called when the roll was near its length, is there, and the line
// goes on. The parent roll of 300 m is used up at 360 m with the 60 m of the storage,
// where the finished roll of 23 m is 8 m short, less than the line needs to stop.
func TestAChangeThatIsDueAtRestIsMade(t *testing.T) {
	l := invented.Manual()
	l.Process = model.Process{Speed: 0.6, RatedSpeed: 0.6, Accel: 0.05, Decel: 0.02}
	l.Unwind = model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Const(300)}, Load: model.Const(2), Prepare: model.Const(60),
		Dwell: model.Const(300), Decel: 0.008, Accel: 0.05, MaxSpeed: 1, SpliceSuccess: 1, Storage: model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30}}
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(23)}, Trigger: model.ByLengthOrSplice, ChangeTime: model.Const(0.04), MaxSplices: -1}
	l.Crew.Reaction = model.Const(0)
	stands, err := sim.StandsForEver(&l, sim.Replication{Horizon: 5000})
	require.NoError(t, err)
	assert.False(t, stands)
}
