package sim

import (
	"math"

	"rollchange/model"
)

// A station is an unwind or a rewind. The two are mirror images and share all
// of this code: what counts is the margin M, the web that may still be taken
// from an unwind storage (its content) or put into a rewind storage (capacity
// less content). In both, M changes at the speed of the station less that of
// the process, the splice or transfer draws it down, and the interlock trips
// when it is at or below reserve + p²/(2 decel of the line).
type station struct {
	l     *line
	which int // 0 unwind, 1 rewind
	kind  model.ChangeKind
	base  int     // first slot
	stale bool    // a slot has changed since the earliest was found
	first int     // the earliest slot
	next  float64 // s, its time
	mode  mode
	phase phase

	S, s, sa float64 // m, m/s, m/s2: wound or unwound length
	overS    float64 // m, what rounding made S too much
	M        float64 // m, margin of the storage
	start    float64 // m, web in the rewind storage at t = 0

	// the roll
	rollStart, rollEnd float64 // in S; rollEnd is the true end of a parent roll
	target             float64 // in S, where it is to be changed
	lateBy             float64 // m, how much further while the next is not ready
	dwell              float64 // s, drawn with the roll, as are the next three
	success            float64
	scrapLength        float64
	parts              bool
	ready              bool // the next roll or core is armed
	late               bool // the trigger has passed and it was not
	counted            bool // this change has been counted as not ready
	changing           bool // a hold for the change is on, or a run-out is being mended
	called             bool // the operator for a manual change
	mended             bool // the run-out is mended, the next roll not armed yet
	runOut             bool
	failed             bool

	// the cycle: from the moment that the station slows to the end of its refill
	cycle   bool
	ramp    float64 // m/s2, of the station down to rest
	capped  bool    // down, but held back by the storage at its run level to the speed of the process
	least   float64 // least margin in it
	starved bool    // the interlock tripped in it
	joined  bool    // its splice has been made
	risk    risk
	counts  bool // that was after the warm-up

	tripped   bool
	slow      bool
	slowSpeed float64
	cut       bool    // the storage was at its end with the web moving, and the web broke there
	owed      float64 // m, what the process has run on since; made good when the web is mended
	lost      float64 // m, that setM has moved and that is more than rounding

	// constants
	dec, acc, max       float64
	decTarget           float64 // m/s2, decel that the trigger reckons with
	runM, restartM      float64
	slowM, reserve      float64
	canSlow             bool
	callAhead, callDist float64
	hChange, hStore     hold
	tChange, tArm       taskKind
	tRecover, tJoin     taskKind

	length, err, dwells, successes, partings, scraps source
	lateChange                                       source
	changesLate                                      bool // a flying change that is late is made by whoever armed it
	successShare, breakShare                         float64
	laws                                             laws
}

// mode is how the station moves.
type mode uint8

const (
	locked mode = iota // at the speed of the process
	down               // ramps to rest for a change
	rest               // at rest in a change; see phase
	up                 // ramps to max_speed
	fast               // at max_speed, the storage refills
	gone               // run out: gives nothing
)

// phase is what a station at rest waits for.
type phase uint8

const (
	noPhase phase = iota
	waits         // for the next roll or core
	dwells        // the splice or transfer is being made
	byHand        // it failed, and is made by hand
)

// Slots of a station, in their order among simultaneous events.
const (
	slotMotion = iota
	slotRefill // or the point of a flying change
	slotTarget
	slotRunOut
	slotInterlock
	slotEnd // the storage is at its end, after the interlock
	slotSlow
	slotCall
	slotsPerStation
)

func (st *station) zero() bool { return st.kind == model.ZeroSpeed }

// advance moves the station on by dt; dP is how far the process goes, p1 its
// speed then.
func (st *station) advance(dt, dP, p1 float64) {
	if st.risk.live {
		st.risk.margin -= dP
	}
	if st.mode == locked || st.capped {
		st.pass(dP)
		st.s = p1
		return
	}
	d0, d1 := st.s-st.l.p, st.sa-st.l.pa
	if st.cut {
		st.owed += dP
		dP, d0, d1 = 0, st.s, st.sa
	}
	if d0 < 0 && d0+d1*dt > 0 {
		st.least = min(st.least, st.M-d0*d0/(2*d1))
	}
	s1 := st.s + st.sa*dt
	dS := (st.s + s1) / 2 * dt
	st.M += dS - dP
	st.pass(dS)
	st.s = s1
	if st.M < st.least {
		st.least = st.M
	}
}

// pass adds to the web that has passed the station, as sum does.
func (st *station) pass(x float64) {
	x -= st.overS
	S := st.S + x
	st.overS = (S - st.S) - x
	st.S = S
}

// moveTo sets the web that has passed the station.
func (st *station) moveTo(S float64) { st.S, st.overS = S, 0 }

// follow takes over the motion of the process where the station is locked to it.
//
// A storage at its run level takes no more. A station that ramps to rest there
// while the process slows more steeply is capped: it slows with the process,
// and goes on at its own ramp as soon as that is the steeper.
func (st *station) follow() {
	l := st.l
	switch {
	case st.mode == locked:
		st.s, st.sa = l.p, l.pa
	case st.mode != down:
	case st.capped && -l.pa <= st.ramp:
		st.capped, st.s = false, l.p
		st.slowDown()
	case st.capped || -l.pa > st.ramp && st.s >= l.p && st.M >= st.runM:
		st.capped = true
		st.s, st.sa = l.p, l.pa
		st.set(slotMotion, never)
		if l.target == 0 {
			st.set(slotMotion, l.slots[slotRamp])
		}
	}
}

// slowDown ramps the station to rest for a change, at its own ramp.
func (st *station) slowDown() {
	st.sa = -st.ramp
	st.set(slotMotion, st.l.now+st.s/st.ramp)
}

// touch says that the crossings of the station have to be solved anew.
func (st *station) touch() { st.l.dirty |= dUnwind << st.which }

func (st *station) set(slot int, t float64) {
	st.l.slots[st.base+slot] = t
	st.stale = true
}

// earliest finds the first of the station's slots to come.
func (st *station) earliest() {
	next, first := never, 0
	for i, t := range st.l.slots[st.base : st.base+slotsPerStation] {
		if t < next {
			next, first = t, i
		}
	}
	st.next, st.first, st.stale = next, first, false
}

// solve finds the crossings of the station from its motion as it is now.
func (st *station) solve() {
	if st.kind == model.None {
		return
	}
	st.solveTarget()
	if st.which == 0 {
		st.set(slotRunOut, st.runOutAt())
	}
	if st.zero() {
		st.solveStorage()
	}
}

func (st *station) solveTarget() {
	l := st.l
	left := st.target - st.S
	switch {
	case st.kind == model.Manual:
		if st.changing {
			return
		}
		st.set(slotTarget, l.foreseen(left))
		if !st.called {
			st.set(slotCall, l.reaches(left-st.callDist))
		}
	case st.kind == model.Flying:
		st.set(slotRefill, never)
		st.set(slotTarget, never)
		if st.changing {
			return
		}
		if !st.late {
			st.set(slotRefill, l.reaches(left))
		}
		if !st.ready {
			st.set(slotTarget, l.foreseen(left+st.lateBy))
		}
	case st.mode == locked || st.mode == up || st.mode == fast:
		if st.late {
			left += st.lateBy
		}
		if math.IsInf(left, 1) {
			st.set(slotTarget, never)
			return
		}
		d := st.decTarget
		st.set(slotTarget, l.now+firstBelow(left-st.s*st.s/(2*d), -st.s-st.s*st.sa/d, -st.sa/2-st.sa*st.sa/(2*d)))
	default:
		st.set(slotTarget, never)
	}
}

// runOutAt is the time at which the tail passes the splice point, if the web
// does not come to rest within 1 mm of it.
func (st *station) runOutAt() float64 {
	if st.mode == rest || st.mode == gone || (st.s == 0 && st.sa == 0) {
		return never
	}
	if st.kind == model.Flying && !st.late && !st.changing && st.target <= st.rollEnd+1e-3 {
		return never // pasted, or stopped, within 1 mm of the end
	}
	left := st.rollEnd - st.S
	if st.sa < 0 && (st.mode == down || st.l.target == 0) && left+st.s*st.s/(2*st.sa) >= -1e-3 {
		return never
	}
	return st.l.now + firstBelow(left, -st.s, -st.sa/2)
}

func (st *station) solveStorage() {
	l := st.l
	if st.mode == locked || st.capped {
		st.set(slotRefill, never)
		st.set(slotSlow, never)
		st.set(slotEnd, never)
		st.set(slotInterlock, never)
		if st.tripped {
			st.set(slotInterlock, l.now)
		}
		return
	}
	feeds := st.mode == up || st.mode == fast
	d0, d1 := st.s-l.p, st.sa-l.pa
	if st.cut {
		d0, d1 = st.s, st.sa
	}
	st.set(slotRefill, never)
	if feeds || st.mode == down && (d0 > 0 || d1 > 0) {
		st.set(slotRefill, l.now+risesTo(st.runM, st.M, d0, d1))
	}
	// Interlock: g = M - reserve - p²/(2 d), and its slopes.
	d := l.spec.Process.Decel
	g0 := st.M - st.reserve - l.p*l.p/(2*d)
	g1, g2 := d0-l.p*l.pa/d, d1/2-l.pa*l.pa/(2*d)
	st.set(slotEnd, never)
	if g0 < -1e-9 && !st.cut { // less than the line needs to stop
		st.set(slotEnd, l.now+fallsTo(st.M, d0, d1/2, d0, d1))
	}
	switch {
	case !st.tripped:
		st.set(slotInterlock, l.now+fallsTo(g0, g1, g2, d0, d1))
	case feeds:
		// Both the restart level and, by a millimetre so that it does not trip
		// again at once, the interlock's level; and rising.
		t := risesTo(st.restartM, st.M, d0, d1)
		if !math.IsInf(t, 1) {
			a, b, c := shifted(1e-3-g0, -g1, -g2, t)
			t += firstBelow(a, b, c)
		}
		st.set(slotInterlock, l.now+t)
	default:
		st.set(slotInterlock, never)
	}
	switch {
	case !st.canSlow:
	case !st.slow:
		st.set(slotSlow, l.now+firstFall(st.M-st.slowM, d0, d1/2))
	case feeds:
		st.set(slotSlow, l.now+st.keepsUp(d0, d1))
	default:
		st.set(slotSlow, never)
	}
}

// keepsUp is how long it takes until the station runs at line speed or more with
// the storage at its slow level or above, so that the process need not be slow;
// +Inf while the motion as it is does not lead there. d0 and d1 are the slopes
// of the content.
func (st *station) keepsUp(d0, d1 float64) float64 {
	v, wait := st.l.spec.Process.Speed, 0.0
	if st.s < v {
		if st.mode != up || st.max < v {
			return never
		}
		wait = (v - st.s) / st.sa
	}
	M, d0 := st.M+(d0+d1*wait/2)*wait, d0+d1*wait
	if M >= st.slowM {
		return wait
	}
	return wait + risesTo(st.slowM, M, d0, d1)
}

// fire makes the event of one of the station's slots happen.
func (st *station) fire(slot int) {
	st.touch()
	switch slot {
	case slotMotion:
		st.motionEnds()
	case slotRefill:
		if st.zero() {
			st.refilled()
		} else {
			st.reachesPaste()
		}
	case slotTarget:
		st.reachesTarget()
	case slotRunOut:
		st.runsOut()
	case slotInterlock:
		st.interlock()
	case slotEnd:
		st.emptied()
	case slotSlow:
		st.setSlow(!st.slow)
	case slotCall:
		st.callChange()
	}
}

func (st *station) name() string {
	if st.which == 0 {
		return "unwind"
	}
	return "rewind"
}

func (st *station) changes() *changes { return &st.l.tally.side[st.which] }
