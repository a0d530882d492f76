package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
	"rollchange/sim/metric"
)

// onlyGroup is the line with its operators in one group that does everything.
func onlyGroup(l model.Line) model.Line {
	l.Crew.Groups = []model.Group{{Name: "all", Operators: l.Crew.Operators}}
	return l
}

// One group that does all is as none, to the last bit, and is as busy as the crew.
func TestOneGroupIsAsNone(t *testing.T) {
	for seed := range uint64(effort.Of(30, 75, 3000)) {
		l := invented.Random(seed)
		if seed%2 == 0 {
			l.Crew.Lines = 3
		}
		one := onlyGroup(l)
		none, grouped := ran(t, &l, seed, 1), ran(t, &one, seed, 1)
		of := map[string]estimate.Figure{}
		for i, g := range sim.GaugesOf(&one) {
			of[g.Name] = grouped.Figures[i]
		}
		assert.InDelta(t, of[metric.CrewBusy].Num, of[metric.CrewBusyBy+"all"].Num, 1e-11, "line %d", seed)
		for i, g := range sim.GaugesOf(&l) {
			assert.Equal(t, none.Figures[i], of[g.Name], "line %d: %s", seed, g.Name)
		}
		assert.Equal(t, none.Low, grouped.Low)
		require.Equal(t, none.Events, grouped.Events, "line %d", seed)
	}
}

// jams is N machines that stop for two causes, each mended by a group of its own.
func jams(machines int, calendar bool, ops [2]int, lam, mu [2]float64) model.Line {
	l := invented.Manual()
	l.Process.Accel, l.Process.Decel = 1e6, 1e6
	l.Unwind.Roll.Length = model.Const(1e9)
	l.Crew = model.Crew{Operators: ops[0] + ops[1], Lines: machines, Reaction: model.Const(0), Shift: 8 * 3600}
	for i, name := range [2]string{"a", "b"} {
		l.Stops = append(l.Stops, model.Stop{Name: name, Every: model.Dist{Law: model.Exponential, A: 1 / lam[i]}, Calendar: calendar,
			Repair: model.Dist{Law: model.Exponential, A: 1 / mu[i]}, NeedsOperator: true})
		l.Crew.Groups = append(l.Crew.Groups, model.Group{Name: name, Operators: ops[i], Tasks: []string{"stop " + name, "unwind changes"}})
	}
	return l
}

// Two groups, each with its own cause of stops that comes by calendar time, are two
// queues that know nothing of each other: M3 and M1 of TestMachineInterference, six
// machines with one operator and with two (0.056 waits of the latter is from
// model.Interference, which TestInterferenceAgainstPeckAndHazelwood holds to print).
func TestTwoGroupsAreTwoQueues(t *testing.T) {
	if testing.Short() {
		t.Skip("TestTwoGroupsAreAClosedNetwork has two groups too")
	}
	effort.NotInRace(t)
	const n = 6
	ops, lam, mu := [2]int{1, 2}, [2]float64{1. / 20, 1. / 30}, [2]float64{1. / 2, 1. / 9}
	r := simulated(t, jams(n, true, ops, lam, mu), model.Run{Horizon: 2e5, WarmUp: 1e3, Replications: effort.Of(8, 8, 100), Seed: 3})
	for i, name := range [2]string{"a", "b"} {
		want := model.Interference(n, ops[i], lam[i], mu[i])
		if i == 0 {
			assert.InDelta(t, 0.84514904, want.Down, 1e-8, "printed: L .8451")
		}
		agrees(t, r, "stop_rate.stop."+name, want.Calls, 0.01)
		agrees(t, r, metric.CrewBusyBy+name, (want.Down-want.Waiting)/float64(ops[i]), 0.01)
	}
}

// Two causes by running time hold each other up: a machine that is down for one does
// not run towards the other. That is a closed network of a delay and two stations
// (Gordon and Newell, Oper. Res. 15 (1967) 254-265, citation from memory): with a and
// b machines at the stations
//
//	p(a, b) ~ 1/(N-a-b)! prod k=1..a of lamA/(min(k, cA) muA) prod k=1..b of lamB/(min(k, cB) muB)
//
// which for lamB = 0 is M/M/c//N.
func TestTwoGroupsAreAClosedNetwork(t *testing.T) {
	effort.NotInRace(t)
	const n = 6
	solve := func(ops [2]int, lam, mu [2]float64) (running float64, busy [2]float64) {
		weight := func(station, k int) float64 {
			w := 1.0
			for i := 1; i <= k; i++ {
				w *= lam[station] / (float64(min(i, ops[station])) * mu[station])
			}
			return w
		}
		sum := 0.0
		for a := 0; a <= n; a++ {
			for b := 0; a+b <= n; b++ {
				p := weight(0, a) * weight(1, b) / math.Gamma(float64(n-a-b)+1)
				sum += p
				running += p * float64(n-a-b) / n
				busy[0] += p * float64(min(a, ops[0])) / float64(ops[0])
				busy[1] += p * float64(min(b, ops[1])) / float64(ops[1])
			}
		}
		return running / sum, [2]float64{busy[0] / sum, busy[1] / sum}
	}
	ops, mu := [2]int{1, 2}, [2]float64{1. / 2, 1. / 9}
	alone, _ := solve(ops, [2]float64{1. / 20, 0}, mu)
	assert.InEpsilon(t, model.Interference(n, 1, 1./20, 1./2).Running, alone, 1e-12)

	lam := [2]float64{1. / 20, 1. / 30}
	running, busy := solve(ops, lam, mu)
	r := simulated(t, jams(n, false, ops, lam, mu), model.Run{Horizon: 2e5, WarmUp: 1e3, Replications: effort.Of(4, 9, 100), Seed: 5})
	agrees(t, r, "time.stopped", 1-running, 0.01)
	agrees(t, r, metric.CrewBusyBy+"a", busy[0], 0.01)
	agrees(t, r, metric.CrewBusyBy+"b", busy[1], 0.01)
}

// twoGroups is a line by hand with shifts of 1200 s: handlers change rolls and count
// stock in the first and the third of each day, a setter mends a jam at any time.
func twoGroups() model.Line {
	l := invented.Manual()
	l.Stops = []model.Stop{{Name: "jam", Every: model.Const(1000), Calendar: true, Repair: model.Const(100), NeedsOperator: true}}
	l.Crew.Operators, l.Crew.Shift = 2, 1200
	l.Crew.Duties = []model.Duty{{Name: "count", Every: model.Const(1150), Takes: model.Const(100)}}
	l.Crew.Groups = []model.Group{
		{Name: "handlers", Operators: 1, Tasks: []string{"unwind changes", "duties"}, Shifts: []int{1, 3}},
		{Name: "setter", Operators: 1, Tasks: []string{"stop jam"}}}
	return l
}

// Two groups, every row by hand. The first roll stops at 794.3 s as in
// TestLogOfAManualChange; the jam is mended beside the change and holds the line 65.7 s
// longer. Counting is not broken off when the shift ends at 1200 s. The second roll
// stops (2000 - 8 - 12.5 - 6.25)/2.5 + 10 s after the restart, in the second shift: the
// line stands until the third begins, and of what waits then it goes first.
func TestLogOfTwoGroups(t *testing.T) {
	none := math.NaN()
	stop := (2000 - 8 - 6.25) / 2.5
	stop2 := 1120 + 10 + (2000-8-12.5-6.25)/2.5
	assertLog(t, sim.LogOf(t, twoGroups(), model.Run{Horizon: 2800}), []step{
		{stop, "unwind", "stop for change", 1985.75, none, none, "[unwind_change]"},
		{stop, "process", "slows", 1985.75, none, none, "[unwind_change]"},
		{stop, "crew", "call: unwind change", 1985.75, none, none, "[unwind_change]"},
		{stop + 5, "process", "at rest", 1992, none, none, "[unwind_change]"},
		{stop + 20, "crew", "arrives: unwind change", 1992, none, none, "[unwind_change]"},
		{1000, "stop", "jam", 1992, none, none, "[unwind_change stop.jam]"},
		{1000, "crew", "call: repair jam", 1992, none, none, "[unwind_change stop.jam]"},
		{1020, "crew", "arrives: repair jam", 1992, none, none, "[unwind_change stop.jam]"},
		{stop + 260, "crew", "done: unwind change", 1992, none, none, "[unwind_change stop.jam]"},
		{stop + 260, "unwind", "new roll runs", 1992, none, none, "[unwind_change stop.jam]"},
		{stop + 260, "unwind", "change done", 1992, none, none, "[stop.jam]"},
		{1120, "crew", "done: repair jam", 1992, none, none, "[stop.jam]"},
		{1120, "stop", "jam: over", 1992, none, none, "[]"},
		{1120, "process", "speeds up", 1992, none, none, "[]"},
		{1130, "process", "at speed", 2004.5, none, none, "[]"},
		{1150, "crew", "call: count", 2054.5, none, none, "[]"},
		{1170, "crew", "arrives: count", 2104.5, none, none, "[]"},
		{1200, "crew", "shift ends: handlers", 2179.5, none, none, "[]"},
		{1270, "crew", "done: count", 2354.5, none, none, "[]"},
		{stop2, "unwind", "stop for change", 3977.75, none, none, "[unwind_change]"},
		{stop2, "process", "slows", 3977.75, none, none, "[unwind_change]"},
		{stop2, "crew", "call: unwind change", 3977.75, none, none, "[unwind_change]"},
		{stop2 + 5, "process", "at rest", 3984, none, none, "[unwind_change]"},
		{2000, "stop", "jam", 3984, none, none, "[unwind_change stop.jam]"},
		{2000, "crew", "call: repair jam", 3984, none, none, "[unwind_change stop.jam]"},
		{2020, "crew", "arrives: repair jam", 3984, none, none, "[unwind_change stop.jam]"},
		{2120, "crew", "done: repair jam", 3984, none, none, "[unwind_change stop.jam]"},
		{2120, "stop", "jam: over", 3984, none, none, "[unwind_change]"},
		{2300, "crew", "call: count", 3984, none, none, "[unwind_change]"},
		{2400, "crew", "shift begins: handlers", 3984, none, none, "[unwind_change]"},
		{2420, "crew", "arrives: unwind change", 3984, none, none, "[unwind_change]"},
		{2660, "crew", "done: unwind change", 3984, none, none, "[unwind_change]"},
		{2660, "unwind", "new roll runs", 3984, none, none, "[unwind_change]"},
		{2660, "unwind", "change done", 3984, none, none, "[]"},
		{2660, "process", "speeds up", 3984, none, none, "[]"},
		{2670, "process", "at speed", 3996.5, none, none, "[]"},
		{2680, "crew", "arrives: count", 4021.5, none, none, "[]"},
		{2780, "crew", "done: count", 4271.5, none, none, "[]"},
	})
}

// The same line in figures: the handlers work 260 s and 120 s, twice each, and are
// there for 1200 s, 70 s longer to count to the end, and 400 s. The line waits at rest
// 15 s for a handler and 20 s for the setter, then for the third shift.
func TestFiguresOfTwoGroups(t *testing.T) {
	r := simulated(t, twoGroups(), model.Run{Horizon: 2800, Replications: 1})
	for name, want := range map[string]float64{
		metric.CrewBusyBy + "handlers": 760. / 1670, metric.CrewBusyBy + "setter": 240. / 2800, metric.CrewBusy: 1000. / (1670 + 2800),
		metric.Waiting: (15 + 20 + (2420 - 1924.3)) / 2800,
	} {
		assert.InDelta(t, want, r.Metrics[name].Mean, 1e-9, name)
	}
	l := twoGroups()
	assert.InDelta(t, 1+2./72, l.Crew.Present(), 1e-12, "two shifts of 72 in a day")
}

// Three lines, an operator for each end, both called ahead: the one for the unwinds may
// wait at a line that stands for its rewind, and the one for the rewinds at a line that
// stands for its unwind, each for a hold that cannot go on. One of them is called away
// to another line, and no line stands for longer than six changes take.
func TestGroupsDoNotHoldEachOtherUp(t *testing.T) {
	l := invented.Manual()
	l.Unwind.CallAhead, l.Unwind.ChangeTime, l.Unwind.Roll.Length = 150, model.Const(40), model.Dist{Law: model.Uniform, A: 300, B: 1500}
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Dist{Law: model.Uniform, A: 100, B: 300}}, Trigger: model.ByLength,
		ChangeTime: model.Const(30), CallAhead: 80, MaxSplices: -1}
	l.Crew.Lines, l.Crew.Operators = 3, 2
	l.Crew.Groups = []model.Group{{Name: "front", Operators: 1, Tasks: []string{"unwind changes"}}, {Name: "back", Operators: 1, Tasks: []string{"rewind changes"}}}
	var rested [3]float64
	away, longest := 0, 0.0
	run := model.Run{Horizon: 5 * 86400, Seed: 4}
	for _, r := range sim.LogOf(t, l, run) {
		switch r.Event {
		case sim.ProcessAtRest:
			rested[r.Line] = r.Time
		case sim.ProcessSpeedsUp:
			longest = max(longest, r.Time-rested[r.Line])
		case sim.CalledAway:
			away++
		}
	}
	assert.Greater(t, away, 10)
	for _, last := range rested {
		longest = max(longest, run.Horizon-last)
	}
	assert.Less(t, longest, 3*(60+50.)+60)
}

// What may wait for a group is 32,768 calls while it is off: no call of a weekend is
// lost. Packers who are there on Mondays only pack the rolls of the whole week, a
// fixed time each.
func TestWorkOfAWeekWaits(t *testing.T) {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Rewind.Pack, l.Crew.Reaction, l.Rewind.Roll.Length = model.Const(5), model.Const(0), model.Const(500)
	l.Crew.Operators, l.Crew.Shift = 3, 8*3600
	l.Crew.Groups = []model.Group{{Name: "operators", Operators: 2, Tasks: []string{"preparing rolls", "preparing cores"}},
		{Name: "packers", Operators: 1, Tasks: []string{"packing"}, Days: []int{0}}}
	r := simulated(t, l, model.Run{Horizon: 4 * model.Week, WarmUp: model.Week, Replications: 1})
	rolls := r.Metrics[metric.FinishedRollRate].Mean
	assert.Greater(t, rolls*model.Week, 2900.0)
	assert.InDelta(t, rolls*5*7, r.Metrics[metric.CrewBusyBy+"packers"].Mean, 1e-3)
}

// An event allocates nothing, with groups and shifts too: ten times the horizon takes
// no more memory but for lists that grow to the longest that they come to. What the
// whole process allocates meanwhile is counted too, so the limit is far from nothing,
// and far from the hundred thousand events.
func TestGroupsAllocateNothing(t *testing.T) {
	l := invented.EveryChance()
	l.Crew.Operators, l.Crew.Shift = 2, 8*3600
	l.Crew.Groups = []model.Group{{Name: "a", Operators: 1, Shifts: []int{1, 2}}, {Name: "b", Operators: 1, Tasks: []string{"duties", "stops"}}}
	allocations := func(days float64) float64 {
		line := sim.Prepare(&l)
		return testing.AllocsPerRun(2, func() {
			_, _ = line.Run(t.Context(), sim.Replication{Seed: 3, Horizon: days * 86400}, nil)
		})
	}
	assert.InDelta(t, allocations(7), allocations(70), 100)
}
