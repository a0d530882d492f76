package sim

import (
	"math"

	"rollchange/model"
)

// A line is one running line. Speeds are linear in time and lengths quadratic
// between events, so its state is the three lengths, speeds and accelerations,
// what each station is doing, and a table of slots: the next time of each
// thing that may happen to the process. There are few slots, and a scan of them
// is faster than a heap. A station keeps its own next event.
type line struct {
	run     *run
	spec    *model.Line
	id      int
	now     float64 // s, the process is as of then
	next    float64 // time of the next event
	turn    int     // whose event it is: 0 the process, 1 the unwind, 2 the rewind, above that another's
	slot    int     // and of which slot, where it is of none of the stations
	slots   []float64
	stale   bool // the next event has to be found anew
	touched bool // something happens in it at this instant
	moved   bool // the process has changed its motion, or a clock of it was set

	// process
	P, p, pa   float64
	overP      float64 // m, what rounding made P too much
	target     float64 // speed that the process is at or ramps to
	resting    bool
	holds      holds
	charged    hold    // whom stopped time is charged to
	waitsUntil float64 // s, when the last operator comes whom the line stands for; never while one is not free
	pending    []int32
	breakWork  int // works still to do before the hold web_break goes off

	side [2]station

	// web
	splices     []inFlight
	atProcess   int // splices[:atProcess] have passed the process
	parting     int // no splice between atProcess and this parts
	atRewind    int // splices[:atRewind] have been wound
	rollSplices int // of them in the roll that is being wound
	scrap       scrap
	stopReach   float64 // m, as far back as stop_scrap can reach

	breaks breakClock
	stops  []stopClock
	job    jobClock

	wardrobe wardrobe
	order    orderClock
	products []produced // by product, of the orders that are over

	restScrap, startScrap source
	tally, warm           tally
	low                   [2]*Histogram
	works                 [tasks]source
	prepare, doff         source
	coreLoaded            bool
}

// inFlight is a splice on its way through the line.
type inFlight struct {
	at    float64 // m, in processed length
	parts bool
}

// Slots, in the order in which simultaneous events happen: the process first
// (it only finishes ramps), then unwind and rewind, web breaks, stops, jobs; the
// crew comes after the lines.
const (
	slotRamp = iota
	slotBreak
	slotParted
	slotStops // two for each stop: it falls due; it is over without an operator
)

// turnOthers is the turn of whatever comes after the stations.
const turnOthers = 3

func (l *line) slotJob() int { return slotStops + 2*len(l.stops) }

// slotEarliest is the time from which an order may be begun, that the line stands for.
func (l *line) slotEarliest() int { return l.slotJob() + 1 }

// set sets the time of a slot.
func (l *line) set(slot int, t float64) {
	l.slots[slot] = t
	l.stale = true
}

// sync brings the process to time t, before anything changes there. The stations
// follow when they are asked.
func (l *line) sync(t float64) {
	dt := t - l.now
	if dt <= 0 {
		return
	}
	was := l.now
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
		if l.holds.set&l.holds.off == 0 {
			l.tally.down += dt
		}
		if l.waitsUntil > was {
			l.tally.waiting += min(t, l.waitsUntil) - was
		}
	case l.p == l.spec.Process.Speed:
		l.tally.running += dt
	default:
		l.tally.slowed += dt
	}
	if l.breaks.on {
		l.breaks.advance(l, dt, p1)
	}
	if dP != 0 { // a web at rest stays where it is: what rounding made P too much may be half of its last digit
		x := dP - l.overP // as in sum
		P := l.P + x
		l.overP = (P - l.P) - x
		l.P = P
	}
	l.p = p1
}

// syncAll brings process and stations to time t.
func (l *line) syncAll(t float64) {
	l.sync(t)
	for i := range l.side {
		l.side[i].sync()
	}
}

// schedule solves what has changed and finds the next event.
func (l *line) schedule() {
	switch o := &l.order; {
	case o.short:
		o.goOn(l)
	case o.settles && o.settled(l):
		o.begins(l)
	}
	if l.moved {
		l.breaks.solve(l)
		l.solveParted()
		l.job.solve(l)
		l.order.solve(l)
		l.moved = false
	}
	for i := range l.side {
		if st := &l.side[i]; st.stale {
			st.solve()
		}
	}
	// The earliest, in their order where two are equal.
	next, slot, turn := l.slots[slotRamp], slotRamp, 0
	for i := range l.side {
		if st := &l.side[i]; st.next < next {
			next, turn = st.next, i+1
		}
	}
	for i, t := range l.slots[slotBreak:] {
		if t < next {
			next, slot, turn = t, slotBreak+i, turnOthers
		}
	}
	l.next, l.slot, l.turn = next, slot, turn
	l.stale = false
}

// fire makes the next event happen.
func (l *line) fire() {
	l.stale = true
	if l.turn == 1 || l.turn == 2 {
		l.side[l.turn-1].fire()
		return
	}
	i := l.slot
	l.slots[i] = never
	switch {
	case i == slotRamp:
		l.rampEnds()
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
	case i > l.slotJob():
		l.order.earliest(l)
	case l.order.on:
		l.order.fire(l)
	default:
		l.job.fire(l)
	}
}

// retire forgets scrap and splices that nothing can reach any more.
func (l *line) retire() {
	edge := l.P - l.stopReach
	w := &l.side[1]
	if w.kind != model.None {
		w.sync()
		wound := l.woundAt(w.S)
		edge = smaller(edge, wound) // what is not wound yet may be of this roll or the next
		if l.spec.Rewind.Trigger == model.ByLength {
			l.wind(wound)
		}
	}
	l.scrap.retire(edge, l.P)
	done := l.atProcess
	if w.kind != model.None {
		done = min(done, l.atRewind)
	}
	if done > 16 && done > len(l.splices)/2 {
		l.splices = l.splices[:copy(l.splices, l.splices[done:])]
		l.atProcess -= done
		l.parting = max(0, l.parting-done)
		l.atRewind = max(0, l.atRewind-done)
	}
}

// woundAt turns a wound length into the processed length of the same web.
func (l *line) woundAt(w float64) float64 { return w - l.side[1].content0 }

// foreseen returns the time at which a hold has to go on for the web to come to
// rest after the given distance. A stop that another hold has begun and that
// ends within 1 mm of the target is this one's too.
func (l *line) foreseen(distance float64) float64 {
	if math.IsInf(distance, 1) {
		return never
	}
	d := l.spec.Process.Decel
	f := distance - model.StoppingLength(l.p, d)
	if f <= model.LeastLength {
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
