package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// stopLine is a manual unwind at 2.5 m/s with ramps that lose 7.5 s a stop:
// 1992 m a roll, 20 s of reaction against 5 s of ramp, 240 s of change. Invented.
func stopLine() *Line {
	return &Line{
		Process: Process{Speed: 2.5, RatedSpeed: 2.5, Accel: 0.25, Decel: 0.5},
		Unwind: Unwind{Change: Manual, Roll: RollSize{Length: Const(2000)}, Residual: 8,
			ChangeTime: Const(240), SpliceSuccess: 1},
		Rewind: Rewind{Change: None, Trigger: ByLength, MaxSplices: -1},
		Crew:   Crew{Operators: 1, Lines: 1, Reaction: Const(20), Shift: 8 * 3600},
	}
}

// spliceLine has the same process and an unwind that splices at rest.
func spliceLine() *Line {
	l := stopLine()
	l.Unwind = Unwind{Change: ZeroSpeed, Roll: RollSize{Length: Const(1500)}, Residual: 6, ResidualLeast: 2,
		Load: Const(60), Prepare: Const(40), Dwell: Const(8), Decel: 0.8, Accel: 0.6, MaxSpeed: 3.75, SpliceSuccess: 1,
		Recover: Const(120), Storage: Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30, Reserve: 2}}
	return l
}

func TestCeilingByHand(t *testing.T) {
	l := stopLine()
	assert.InEpsilon(t, 1992/(1992/2.5+7.5+15+240), Ceiling(l), 1e-12)
	l.Unwind.CallAhead = 30
	assert.InEpsilon(t, 1992/(1992/2.5+7.5+240), Ceiling(l), 1e-12, "called in time")
	l.Process.Accel, l.Process.Decel = 1e9, 1e9
	assert.InEpsilon(t, 1992/(1992/2.5+240), Ceiling(l), 1e-8, "without ramps")

	// The mean is what counts for rolls that vary, not the shape.
	l = stopLine()
	l.Unwind.Roll.Length = Dist{Law: Uniform, A: 1500, B: 2500}
	assert.InEpsilon(t, 1992/(1992/2.5+7.5+15+240), Ceiling(l), 1e-12)

	// One operator cannot do two changes at a time; two may.
	l = stopLine()
	l.Rewind = Rewind{Change: Manual, Roll: RollSize{Length: Const(1992)}, Trigger: ByLength, ChangeTime: Const(200), MaxSplices: -1}
	assert.InEpsilon(t, 1992/(1992/2.5+7.5+440), Ceiling(l), 1e-12)
	l.Crew.Operators = 2
	assert.InEpsilon(t, 1992/(1992/2.5+7.5+15+240), Ceiling(l), 1e-12)

	// Many lines: the operator is the limit, 260 s for each roll of each line.
	l = stopLine()
	l.Crew.Lines = 10
	assert.InEpsilon(t, 1992./2600, Ceiling(l), 1e-12)
}

func TestCeilingOfSplices(t *testing.T) {
	l := spliceLine()
	assert.InEpsilon(t, 2.5, Ceiling(l), 1e-12, "splices out of ample storage cost no time")
	l.Unwind.Load = Const(972) // 20 + 972 + 40 + 8 s for a roll that lasts 600 s
	assert.InEpsilon(t, 1500./1040, Ceiling(l), 1e-12)
	l = spliceLine()
	l.Unwind.Dwell = Const(400) // the roll itself at 3.75 m/s takes 400 s
	assert.InEpsilon(t, 1500./800, Ceiling(l), 1e-12)
	l = spliceLine()
	l.Jobs = &Jobs{Length: Const(1000), Changeover: Const(600)}
	assert.InEpsilon(t, 1000/(400+7.5+15+600), Ceiling(l), 1e-12)
}

func TestCrewLoadByHand(t *testing.T) {
	// By hand 260 s of work, 15 s of them before the web rests or in the ramp,
	// are counted as standing with the ramps: 1 roll in 800 + 260 + 7.5 s.
	assert.InEpsilon(t, 260/(800+260+7.5), crewLoad(stopLine()), 1e-12)
	// A splice asks for 120 s of work in 600 s, the line goes on.
	assert.InEpsilon(t, 120./600, crewLoad(spliceLine()), 1e-12)
	l := spliceLine()
	l.Crew.Operators = 2
	assert.InEpsilon(t, 60./600, crewLoad(l), 1e-12)
	l.Crew.Lines = 2
	assert.InEpsilon(t, 120./600, crewLoad(l), 1e-12)
	l.Crew.Duties = []Duty{{Name: "check", Every: Const(100), Takes: Const(20)}}
	assert.InEpsilon(t, 120./600+0.2, crewLoad(l), 1e-12)
	assert.False(t, math.IsNaN(crewLoad(&Line{})))
}

// Two causes of stops by hand share no more rests than the rarer has: an order of
// 14,000 m holds 14 finished rolls, of which one may end with it.
func TestCeilingOfTwoCauses(t *testing.T) {
	l := spliceLine()
	l.Crew.Operators = 5
	l.Jobs = &Jobs{Length: Const(14000), Changeover: Const(2700)}
	automatic := Ceiling(l)
	assert.InEpsilon(t, 14000/(5600+7.5+15+2700), automatic, 1e-12)
	l.Rewind = Rewind{Change: Manual, Roll: RollSize{Length: Const(1000)}, Trigger: ByLength, ChangeTime: Const(120), MaxSplices: -1}
	assert.InEpsilon(t, 14000/(5600+14*7.5+15+2700+13*(15+120)), Ceiling(l), 1e-12, "by hand")
	assert.Less(t, Ceiling(l), 0.9*automatic)

	// Where a splice ends the finished roll, each is changed by hand all the same.
	l = spliceLine()
	l.Rewind = Rewind{Change: Manual, Trigger: BySplice, ChangeTime: Const(120), MaxSplices: -1}
	assert.InEpsilon(t, 1500/(600+15+120.), Ceiling(l), 1e-12)
	l.Unwind.SpliceBreaks = 0.01
	assert.InEpsilon(t, 2.5, Ceiling(l), 1e-12, "a splice that parts may not end it")

	// An order that brings a new roll saves one change, no more.
	l = stopLine()
	l.Jobs = &Jobs{Length: Const(9000), Changeover: Const(100), NewParentRoll: true}
	l.Crew.Operators = 5
	assert.InEpsilon(t, 1/(1/2.5+7.5/9000+(15+240)*(1./2000-1./9000)), Ceiling(l), 1e-12)
}
