package sim

import (
	"math"

	"rollchange/model"
)

// plan is what a station with a storage will do without being asked, while the
// process runs at constant speed: from one change to the next its motion is known
// in closed form. The steps are carried out only when somebody looks, or when the
// process changes its speed.
//
// A plan is made only where nothing else can come in between: the interlock, the
// slow level, a run-out, a trigger before the refill has ended. Where one can,
// the events come one by one (kind_zero.go). A log needs every event: with a
// record or a watch nothing is planned.
type plan struct {
	steps   [4]moment
	planned int // steps
	done    int // of them
}

// moment is a step of a plan.
type moment struct {
	at float64 // s
	do stepKind
}

type stepKind uint8

const (
	stepFast    stepKind = iota // at its top speed
	stepFull                    // the storage is refilled
	stepTrigger                 // slows for the next change
	stepRest                    // is at rest, and the dwell begins
)

// carryOut makes the steps of the plan real that lie behind. Steps of this very
// instant come after what happens before this station's turn in it.
func (st *station) carryOut() {
	l := st.l
	for st.done < st.planned {
		x := st.steps[st.done]
		if x.at > l.now || x.at == l.now && l.turn < st.which+1 {
			return
		}
		st.done++
		dt := x.at - st.at
		st.move(x.at, l.p*dt, l.p, 0)
		switch x.do {
		case stepFast:
			st.v, st.va, st.mode, st.ends = st.max, 0, fast, never
		case stepFull:
			st.setM(st.runM)
			st.mode, st.ends = locked, never
			st.v, st.va = l.p, 0
			st.endCycle()
		case stepTrigger:
			st.v = l.p
			st.beginCycle()
		case stepRest:
			st.ends = never
			st.atRest()
		}
	}
}

func (st *station) will(at float64, do stepKind) {
	st.steps[st.planned] = moment{at, do}
	st.planned++
}

// foresees makes a plan, if one can be made, and says whether it has: the next
// event of the station is then the end of the dwell, or the trigger.
func (st *station) foresees() bool {
	l := st.l
	st.planned, st.done = 0, 0
	if !l.run.plans || l.pa != 0 || l.p <= 0 || st.tripped || st.slow || st.cut || st.late {
		return false
	}
	v := l.p
	low := st.reserve + model.StoppingLength(v, l.spec.Process.Decel)
	if st.canSlow {
		low = max(low, st.slowM)
	}
	low += 1e3 * st.rounding() // nearer to a level than this nothing is planned
	t, S := st.at, st.S        // from which it runs with the process, its storage full
	switch st.mode {
	case locked:
	case up, fast:
		x, s, ok := st.refill(v, low)
		if !ok {
			return false
		}
		t, S = t+x, S+s
	default:
		return false
	}
	st.next, st.event = never, motionEnds
	far := st.target - S - model.StoppingLength(v, st.decTarget)
	if far < 0 && st.mode != locked { // it comes before the storage is full
		st.planned = 0
		return false
	}
	if st.which == 0 && st.end-S < far {
		st.happens(t+(st.end-S)/v, runsOut)
		return true
	}
	if math.IsInf(far, 1) {
		return true
	}
	far = max(0, far)
	t, S = t+far/v, S+far
	st.happens(t, atTarget)
	if !st.ready {
		return true
	}
	ramp := min(st.dec, st.torqueLimit(st.end-S))
	if st.which == 0 && st.end-S-model.StoppingLength(v, ramp) < -model.LeastLength {
		return true // the tail passes the splice point in the ramp
	}
	down := v / ramp
	if st.runM-v*down/2-v*st.dwell <= low {
		return true
	}
	st.will(t, stepTrigger)
	st.will(t+down, stepRest)
	st.next, st.event = t+down+st.dwell, motionEnds
	return true
}

// refill plans the rest of the refill: how long it takes, s, and the web that
// passes the station, m. It is not ok where the storage comes near to a level on
// the way, or the next change begins before.
func (st *station) refill(v, low float64) (seconds, metres float64, ok bool) {
	d, lack := st.v-v, st.runM-st.M
	fastIn := 0.0
	if st.mode == up {
		a := st.va
		fastIn = (st.max - st.v) / a
		least := st.M
		if d < 0 {
			least -= d * d / (2 * a)
		}
		if least <= low {
			return 0, 0, false
		}
		if x := (math.Sqrt(d*d+2*a*lack) - d) / a; x <= fastIn {
			st.will(st.at+x, stepFull)
			return x, (st.v + a*x/2) * x, st.clear(st.S+(st.v+a*x/2)*x, st.v+a*x)
		}
		lack -= (d + a*fastIn/2) * fastIn
		metres = (st.v + a*fastIn/2) * fastIn
		st.will(st.at+fastIn, stepFast)
	} else if st.M <= low {
		return 0, 0, false
	}
	x := lack / (st.max - v)
	st.will(st.at+fastIn+x, stepFull)
	return fastIn + x, metres + st.max*x, st.clear(st.S+metres+st.max*x, st.max)
}

// clear says that neither the trigger nor the end of the roll comes before S at
// speed s, in a refill.
func (st *station) clear(S, s float64) bool {
	return st.target-S-s*s/(2*st.decTarget) > 0 && (st.which == 1 || st.end > S)
}
