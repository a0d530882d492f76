package sim

import (
	"math"

	"rollchange/model"
)

// A line is one running line. Speeds are linear in time and lengths quadratic
// between events, so its state is the three lengths, speeds and accelerations,
// what each station is doing, and a table of slots: the next time of each
// thing that may happen. There are few slots, and a scan of them is faster
// than a heap.
type line struct {
	s     *run
	spec  *model.Line
	id    int
	now   float64
	next  float64 // time of the earliest slot
	slot  int     // the earliest slot
	slots []float64

	// process
	P, p, pa  float64
	overP     float64 // m, what rounding made P too much
	target    float64 // speed that the process is at or ramps to
	atRest    bool
	holds     holds
	charged   hold // whom stopped time is charged to
	awaited   bool // a task that the line stands for has no operator there yet
	pending   []int32
	breakWork int // works still to do before the hold web_break goes off

	side [2]station

	// web
	splices   []inFlight
	atProcess int // splices[:atProcess] have passed the process
	atRewind  int // splices[:atRewind] have been wound
	// of them in the roll that is being wound
	rollSplices int
	scrap       scrap
	stopReach   float64 // m, as far back as stop_scrap can reach

	breaks breakClock
	stops  []stopClock
	job    jobClock

	restScrap, startScrap source
	tally, warm           tally
	low                   [2]*Histogram
	dirty                 dirt
	touched               bool
	works                 [taskKinds]source
	prepare, doff         source
	coreLoaded            bool
}

// dirt says which crossings have to be solved anew.
type dirt uint8

const (
	dProcess dirt = 1 << iota
	dUnwind
	dRewind
	dAll = dProcess | dUnwind | dRewind
)

// inFlight is a splice on its way through the line.
type inFlight struct {
	at    float64 // m, in processed length
	parts bool
}

// Slots, in the order in which simultaneous events happen: the process first
// (it only finishes ramps), then unwind, rewind, web breaks, stops, jobs; the
// crew comes after the lines. A station has slotsPerStation of them.
const (
	slotRamp = iota
	slotUnwind
	slotRewind = slotUnwind + slotsPerStation
	slotBreak  = slotRewind + slotsPerStation
	slotParted = slotBreak + 1
	slotStops  = slotParted + 1 // two for each stop: it falls due; it is over without an operator
)

func (l *line) slotJob() int { return slotStops + 2*len(l.stops) }

// advance brings the line to time t, before anything changes there.
func (l *line) advance(t float64) {
	dt := t - l.now
	if dt <= 0 {
		return
	}
	l.now = t
	p1 := l.p + l.pa*dt
	if p1 < 0 { // at the end of a ramp it is 0 only to rounding
		p1 = 0
	}
	dP := (l.p + p1) / 2 * dt
	switch {
	case l.pa != 0:
		l.tally.ramping += dt
	case l.p == 0:
		l.tally.stopped += dt
		l.tally.stoppedBy[l.charged] += dt
		if l.awaited {
			l.tally.waiting += dt
		}
	case l.p == l.spec.Process.Speed:
		l.tally.running += dt
	default:
		l.tally.slowed += dt
	}
	for i := range l.side {
		l.side[i].advance(dt, dP, p1)
	}
	if l.breaks.on {
		l.breaks.advance(l, dt, p1)
	}
	x := dP - l.overP // as in sum
	P := l.P + x
	l.overP = (P - l.P) - x
	l.P = P
	l.p = p1
}

// settle solves what has changed and finds the earliest slot.
func (l *line) settle() {
	if l.dirty&dProcess != 0 {
		l.breaks.solve(l)
		l.solveParted()
		l.job.solve(l)
	}
	if l.dirty&(dProcess|dUnwind) != 0 {
		l.side[0].solve()
	}
	if l.dirty&(dProcess|dRewind) != 0 {
		l.side[1].solve()
	}
	l.dirty = 0
	// The earliest slot, in their order where two are equal. A station keeps its
	// own until one of its slots changes.
	next, slot := l.slots[slotRamp], slotRamp
	for i := range l.side {
		st := &l.side[i]
		if st.stale {
			st.earliest()
		}
		if st.next < next {
			next, slot = st.next, st.base+st.first
		}
	}
	for i, t := range l.slots[slotBreak:] {
		if t < next {
			next, slot = t, slotBreak+i
		}
	}
	l.next, l.slot = next, slot
}

// fire makes the event of the earliest slot happen.
func (l *line) fire() {
	i := l.slot
	l.slots[i] = never
	if i >= slotUnwind && i < slotBreak {
		l.side[(i-slotUnwind)/slotsPerStation].stale = true
	}
	switch {
	case i == slotRamp:
		l.rampEnds()
	case i < slotRewind:
		l.side[0].fire(i - slotUnwind)
	case i < slotBreak:
		l.side[1].fire(i - slotRewind)
	case i == slotBreak:
		l.breaks.fire(l)
	case i == slotParted:
		l.parted()
	case i < l.slotJob():
		k := (i - slotStops) / 2
		if (i-slotStops)%2 == 0 {
			l.stopDue(k)
		} else {
			l.stopOver(k)
		}
	default:
		l.job.fire(l)
	}
	l.retire()
}

// retire forgets scrap and splices that nothing can reach any more.
func (l *line) retire() {
	edge := l.P - l.stopReach
	w := &l.side[1]
	if w.kind != model.None {
		wound := l.woundAt(w.S)
		edge = min(edge, wound) // what is not wound yet may be of this roll or the next
		if l.spec.Rewind.Trigger == model.ByLength {
			l.wind(wound)
		}
	}
	l.scrap.retire(edge)
	done := l.atProcess
	if w.kind != model.None {
		done = min(done, l.atRewind)
	}
	if done > 16 && done > len(l.splices)/2 {
		l.splices = l.splices[:copy(l.splices, l.splices[done:])]
		l.atProcess -= done
		l.atRewind = max(0, l.atRewind-done)
	}
}

// woundAt turns a wound length into the processed length of the same web.
func (l *line) woundAt(w float64) float64 { return w - l.side[1].start }

// foreseen returns the time at which a hold has to go on for the web to come to
// rest after the given distance. A stop that another hold has begun and that
// ends within 1 mm of the target is this one's too.
func (l *line) foreseen(distance float64) float64 {
	if math.IsInf(distance, 1) {
		return never
	}
	d := l.spec.Process.Decel
	f := distance - l.p*l.p/(2*d)
	if f <= 1e-3 {
		return l.now
	}
	if l.pa == -d {
		return never
	}
	return l.now + firstBelow(f, -l.p-l.p*l.pa/d, -l.pa/2-l.pa*l.pa/(2*d))
}

// reaches returns the time at which the process has moved on by the distance.
func (l *line) reaches(distance float64) float64 {
	if l.p == 0 && l.pa == 0 || math.IsInf(distance, 1) {
		return never
	}
	return l.now + firstBelow(distance, -l.p, -l.pa/2)
}
