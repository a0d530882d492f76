package sim

import "rollchange/model"

// A station is an unwind or a rewind. The two are mirror images and share all
// of this code: what counts is the margin M, the web that may still be taken
// from an unwind storage (its content) or put into a rewind storage (capacity
// less content). In both, M changes at the speed of the station less that of
// the process, the splice or transfer draws it down, and the interlock trips
// when it is at or below reserve + p²/(2 decel of the line).
//
// Its state is as of the last time that somebody needed it (motion.at): between
// two changes of the process it is a closed form, see plan.go.
type station struct {
	l     *line
	which int // 0 unwind, 1 rewind
	of    Source
	kind  model.ChangeKind
	do    changer

	motion
	roll
	storage
	cycle
	plan

	next  float64 // s, of its next event
	event stationEvent
	stale bool // the next event has to be found anew

	callAhead, callDist float64 // s; m before the stop
	torqueLeft          float64 // m, web for which torqueRamp is known; 0: none
	torqueRamp          float64 // m/s2
	torqueFree          float64 // m, web up to which the torque limits no ramp, as far as known
	hChange, hStore     hold
	tChange, tArm       Task
	tRecover, tJoin     Task

	length, err, dwells, successes, partings, scraps source
	lateChange                                       source
	record                                           *recorder // nil: cycles are not kept
	lateSpeed                                        float64   // m/s, of the process while the next core is late; 0: as it is
	lateSlow                                         bool      // the process is slow for that
	changesLate                                      bool      // a flying change that is late is made by whoever armed it
	successShare, breakShare                         float64
	laws                                             laws
}

// stationEvent is what may happen next at a station, in the order in which
// simultaneous ones do.
type stationEvent uint8

const (
	motionEnds stationEvent = iota // of a ramp or of the dwell
	refillEnds                     // the storage is at its run level
	pastes                         // a flying change
	atTarget                       // the trigger, or where a stop for the change begins
	runsOut
	interlocks  // the interlock trips or lets go
	storageEnds // at its end, after the interlock
	slowLevels
	calls // the operator for a change at rest
)

// touch says that the next event of the station has to be found anew.
func (st *station) touch() { st.stale, st.l.stale = true, true }

// solve finds the next event of the station from its motion as it is now.
func (st *station) solve() {
	st.sync()
	st.next, st.stale = never, false
	st.do.solve(st)
}

// happens takes an event for the next one, if it comes before what was taken.
func (st *station) happens(t float64, e stationEvent) {
	if t < st.next || t == st.next && e < st.event {
		st.next, st.event = t, e
	}
}

// fire makes the next event of the station happen.
func (st *station) fire() {
	st.sync()
	st.touch()
	switch st.event {
	case motionEnds:
		st.motionEnded()
	case refillEnds:
		st.refilled()
	case pastes:
		st.reachesPaste()
	case atTarget:
		st.do.reachesTarget(st)
	case runsOut:
		st.runsOut()
	case interlocks:
		st.interlock()
	case storageEnds:
		st.emptied()
	case slowLevels:
		st.setSlow(!st.slow)
	case calls:
		st.callChange()
	}
}

func (st *station) zero() bool { return st.kind.Stores() }

func (st *station) changes() *changes { return &st.l.tally.side[st.which] }

// changer is a way to change rolls: what a station of its kind waits for, and
// what it does at the places that its control looks for.
type changer struct {
	solve         func(*station) // finds the next event
	reachesTarget func(*station)
	armed         func(*station) // the next roll or core has just become ready
}

// changerOf is what a station of a kind does.
func changerOf(kind model.ChangeKind) changer {
	switch kind {
	case model.Manual:
		return manual()
	case model.ZeroSpeed:
		return zeroSpeed()
	case model.Flying:
		return flying()
	}
	return changer{solve: func(*station) {}} // none: the process consumes the web
}
