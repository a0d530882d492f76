package sim

import "rollchange/model"

// motion is how the web moves at a station: a length that is quadratic in time.
type motion struct {
	at, P    float64 // s and m: the state is as of then, when the process was at P
	S, v, va float64 // m, m/s, m/s2: wound or unwound length
	overS    float64 // m, what rounding made S too much
	mode     mode
	phase    phase
	ends     float64 // s, of the ramp or dwell that is on
	ramp     float64 // m/s2, down to rest
	capped   bool    // down, but held back by the storage at its run level to the speed of the process

	dec, acc, max float64 // m/s2, m/s
	decTarget     float64 // m/s2, decel that the trigger calculates with
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
	joins         // the splice or transfer is being made
	byHand        // it failed, and is made by hand
)

// move brings the station to time t. The process went on by dP since its state,
// at speed p then and with acceleration pa.
func (st *station) move(t, dP, p, pa float64) {
	dt := t - st.at
	st.at = t
	st.P += dP
	if st.risk.live {
		st.risk.margin -= dP
	}
	if st.mode == locked || st.capped {
		st.pass(dP)
		st.v = larger(p+pa*dt, 0)
		return
	}
	d0, d1 := st.v-p, st.va-pa
	if st.cut {
		st.owed += dP
		dP, d0, d1 = 0, st.v, st.va
	}
	if d0 < 0 && d0+d1*dt > 0 {
		st.least = smaller(st.least, st.M-d0*d0/(2*d1))
	}
	s1 := st.v + st.va*dt
	dS := (st.v + s1) / 2 * dt
	st.M += dS - dP
	st.pass(dS)
	st.v = s1
	if st.M < st.least {
		st.least = st.M
	}
}

// sync brings the station to the time of its line: what it has come to in the
// meantime, and where it is. It is called before the motion of the process
// changes, and before anything looks at the station.
func (st *station) sync() {
	l := st.l
	if st.kind == model.None {
		return
	}
	st.carryOut()
	if l.now > st.at {
		dt := l.now - st.at
		st.move(l.now, l.P-st.P, larger(l.p-l.pa*dt, 0), l.pa)
		if st.mode == locked || st.capped {
			st.v = l.p
		}
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
		st.v, st.va = l.p, l.pa
	case st.mode != down:
	case st.capped && -l.pa <= st.ramp:
		st.capped, st.v = false, l.p
		st.slowDown()
	case st.capped || -l.pa > st.ramp && st.v >= l.p && st.M >= st.runM:
		st.capped = true
		st.v, st.va = l.p, l.pa
		st.ends = never
		if l.target == 0 {
			st.ends = l.slots[slotRamp]
		}
	}
}

// slowDown ramps the station to rest for a change, at its own ramp.
func (st *station) slowDown() {
	st.va = -st.ramp
	st.ends = st.at + st.v/st.ramp
}

// motionEnded is the end of a ramp or of the dwell.
func (st *station) motionEnded() {
	st.ends = never
	switch st.mode {
	case down:
		st.atRest()
	case rest:
		if st.success < st.successShare {
			st.changed()
			return
		}
		st.failed, st.risk.fails = true, true
		st.phase = byHand
		st.l.log(st.of, ChangeFailed)
		st.l.run.crew.call(st.l, st.tRecover, 0)
	case up:
		st.v, st.va, st.mode = st.max, 0, fast
		st.l.log(st.of, StationAtSpeed)
	}
}

// atRest is the end of the ramp down for a change.
func (st *station) atRest() {
	st.v, st.va, st.mode, st.capped = 0, 0, rest, false
	if st.ready {
		st.beginDwell()
		return
	}
	st.phase = waits
	st.counted, st.risk.waited = true, true
	st.l.log(st.of, WaitsForNext)
	st.l.recount()
}

func (st *station) beginDwell() {
	waited := st.phase == waits
	st.phase = joins
	st.risk.begun = st.at
	if st.record != nil {
		st.record.dwelt = true
	}
	st.project()
	st.ends = st.at + st.dwell
	st.l.log(st.of, ChangeBegins)
	if waited {
		st.l.recount()
	}
}

// solveRunOut asks for the moment at which the tail passes the splice point, if
// the web does not come to rest within 1 mm of it.
func (st *station) solveRunOut() {
	if st.which == 1 || st.mode == rest || st.mode == gone || (st.v == 0 && st.va == 0) {
		return
	}
	left := st.end - st.S
	if st.va < 0 && (st.mode == down || st.l.target == 0) && left+model.StoppingLength(st.v, st.va) >= -model.LeastLength {
		return
	}
	st.happens(st.at+firstBelow(left, -st.v, -st.va/2), runsOut)
}

// decelNow and accelNow are the ramps of the station, limited by the torque of
// the spindle for the roll as it is now.
func (st *station) decelNow() float64 { return min(st.dec, st.torqueLimit(st.end-st.S)) }
func (st *station) accelNow() float64 { return min(st.acc, st.torqueLimit(st.end-st.S)) }
