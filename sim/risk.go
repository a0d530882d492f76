package sim

import (
	"math"

	"rollchange/model"
)

// A depletion that is rare is reckoned, not counted: given everything else in a
// cycle, the chance that its dwell is at least the shortest that trips the
// interlock is known from the law of the dwell (conditional Monte Carlo:
// Asmussen and Glynn, Stochastic Simulation, 2007, ch. V.4). Its mean is that of
// the count, its variance is smaller, and it does not end at one over the
// number of splices.
//
// It can be reckoned while nothing but the dwell decides: from a moment at
// which the process runs at constant speed until the storage would be down.
// Whatever else changes the motion in between sets the cycle back to the
// count, until the process runs at constant speed again.
type risk struct {
	live     bool    // reckoned from the state at from, not disturbed since
	frozen   bool    // the interlock tripped before the change was made: the motion since is its doing
	done     bool    // what this change adds has been added
	foreseen bool    // the process changes speed by the slow level of this storage
	parts    bool    // the splice will part in the process
	hand     bool    // reckoned from within a change by hand
	from     float64 // s, the process is at constant speed
	end      float64 // s, the storage is down if the station stands on
	v        float64 // m/s, of the process at the end
	slows    float64 // s, the storage is at its slow level if the station stands on
	dwells   float64 // s, begin of the dwell
	hands    float64 // s, begin of the work by hand

	made   bool
	counts bool    // it was made after the warm-up
	accel  float64 // m/s2, of the ramp after the change
	over   float64 // s, the storage turns when the dwell is just too long
	slowed float64 // s, something else slows the process after the end, so that nothing trips any more

	fails  bool // the change failed and is made by hand
	waited bool // the station waited at rest for the next roll
	short  bool // the cycle began before the storage was at its run level
}

// The causes that a chance of depletion is made of.
const (
	byDwell    = iota // the dwell alone, from a storage at its run level
	byNotReady        // the station waited at rest for the next roll
	byFailed          // the change failed and was made by hand
	byRefill          // the cycle began before the storage was refilled
	riskCauses
)

var causeNames = [riskCauses]string{"dwell", "not_ready", "failed", "refill"}

// chance is a sum of chances of depletion: by cause, and in all as it would be
// under other laws of the dwell with the same mean and sd.
type chance struct {
	cause [riskCauses]float64
	tail  [len(model.TailLaws)]float64
}

func (c *chance) all() float64 {
	sum := 0.0
	for _, x := range c.cause {
		sum += x
	}
	return sum
}

// laws are what the chances of a station are reckoned from.
type laws struct {
	dwell, hand model.Dist
	tails       [len(model.TailLaws)]model.Dist
	handLeast   float64 // s, work by hand that is shorter has a chance below one in a million
	memo        [2]shares
}

// shares are the survivals of the dwell at x, kept because most cycles are alike.
type shares struct {
	known bool
	x     float64
	dwell float64
	tails [len(model.TailLaws)]float64
}

func lawsOf(dwell, hand model.Dist) laws {
	w := laws{dwell: dwell, hand: hand}
	for i, law := range model.TailLaws {
		w.tails[i] = dwell.Like(law)
	}
	if hand.Given() {
		w.handLeast = hand.Quantile(1e-6)
	}
	return w
}

// at is the chance that the dwell is at least x (s). Times that differ by less
// than a nanosecond are one.
func (w *laws) at(x float64, memo int) *shares {
	m := &w.memo[memo]
	if !m.known || math.Abs(m.x-x) > 1e-9 {
		m.known, m.x, m.dwell = true, x, w.dwell.SurvivalFrom(x)
		for i := range w.tails {
			m.tails[i] = w.tails[i].SurvivalFrom(x)
		}
	}
	return m
}

// after is the chance of lasting to x of what has lasted to e already.
func after(x, e float64) float64 {
	if e <= 0 {
		return 1
	}
	return min(1, x/e)
}

// project begins to reckon from now, when the station stands in a dwell or for a
// change by hand and the process runs at constant speed.
func (st *station) project() {
	r, l := &st.risk, st.l
	if r.live || st.starved || st.mode != rest || st.phase == waits || l.p == 0 || l.pa != 0 {
		return
	}
	r.live, r.made, r.from, r.hand = true, false, l.now, st.phase == byHand
	r.end, r.v = st.downAt(st.M, l.p)
	r.end += l.now
	r.slows = never
	if r.v < l.p {
		r.slows = l.now + (st.M-st.slowM)/l.p
	}
}

// downAt is how long the storage lasts from margin M with the station at rest and
// the process at speed v, s, and the speed of the process then.
func (st *station) downAt(M, v float64) (seconds, speed float64) {
	d := st.l.spec.Process.Decel
	low := st.reserve + v*v/(2*d) // the interlock
	if slow := st.slowSpeed; st.canSlow && slow < v && st.slowM < M && st.slowM > low {
		// To the slow level; a ramp in which content and interlock level fall
		// alike; the rest at the slow speed.
		return (M-st.slowM)/v + (v-slow)/d + (st.slowM-low)/slow, slow
	}
	return (M - low) / v, v
}

// disturbed is a change of the motion of the process. That at the slow level of
// the station's own storage is foreseen. When the process speeds up after it,
// or was never slowed, the station feeds again; had it not, the same would have
// come at the same web, later.
func (st *station) disturbed() {
	r, now := &st.risk, st.l.now
	switch {
	case !r.live || r.frozen || r.foreseen && st.slow:
		return
	case r.foreseen:
		now = st.l.slowedBy(1 - st.which)
	case r.made && now > r.slows && !st.slow:
		now = st.later(now)
	}
	if !r.made || now < r.end {
		r.live = false
		return
	}
	if r.slowed = min(r.slowed, now); r.foreseen || now < r.over {
		st.settleAll()
	}
}

// later is when the process comes to the web that it is at by now, if it slows at
// the slow level. A stop by the clock comes at its time.
func (st *station) later(now float64) float64 {
	l, r := st.l, &st.risk
	if l.slot >= slotStops && l.slot < l.slotJob() {
		return now
	}
	v, d := l.spec.Process.Speed, l.spec.Process.Decel
	x, ramp := v*(now-r.slows), (v*v-r.v*r.v)/(2*d)
	if x < ramp {
		return r.slows + (v-math.Sqrt(v*v-2*d*x))/d
	}
	return r.slows + (v-r.v)/d + (x-ramp)/r.v
}

// madeNow is the moment of the change: the ramp that follows is known now.
func (st *station) madeNow() {
	r, l := &st.risk, st.l
	r.counts = l.now >= l.s.warmUp
	if r.short {
		st.changes().notRefilled++
	}
	if r.live && st.target-st.S < r.v*r.v/(2*st.accelNow()) {
		r.live = false // the next change begins before the storage turns: that cuts the cycle short
	}
	switch {
	case r.live:
		r.made, r.accel = true, st.accelNow()
		r.over = r.end + r.v/(2*r.accel)
		r.slowed = min(r.slowed, st.arrival())
		if r.frozen || l.now >= r.over {
			st.settleAll()
		}
	case st.starved:
		st.credit(1)
	}
}

// trips is the interlock in a cycle: what is reckoned stands, the rest counts.
func (st *station) trips() {
	r := &st.risk
	if r.live {
		r.slowed = st.l.slowedBy(1 - st.which)
	}
	switch {
	case r.live && !r.made:
		r.frozen = true
	case r.live:
		r.slowed = min(r.slowed, st.arrival())
		st.settleAll()
	case st.joined && !r.done:
		st.credit(1)
	}
}

// arrival is the time at which the splice, made while the storage lasts, stops
// the process: it parts there, or a rewind by hand ends its roll at it. The
// process has then used up what was between it and the splice point, whenever
// the splice was made.
func (st *station) arrival() float64 {
	l, r := st.l, &st.risk
	if st.which == 1 || r.v == 0 {
		return never
	}
	d := l.spec.Process.Decel
	if w := &l.spec.Rewind; w.Change == model.Manual && w.Trigger != model.ByLength {
		return r.end + (st.reserve+l.spec.Process.Path)/r.v
	}
	if r.parts {
		return r.end + (st.reserve+r.v*r.v/(2*d)+l.spec.Process.Path)/r.v
	}
	return never
}

// slowedBy is when, as things stand, the other station, the web, a stop or an order
// slows the process.
func (l *line) slowedBy(other int) float64 {
	t := min(l.slots[slotBreak], l.slots[slotParted], l.slots[l.slotJob()])
	for i := range l.stops {
		t = min(t, l.slots[slotStops+2*i])
	}
	st := &l.side[other]
	if st.zero() {
		return min(t, l.slots[st.base+slotInterlock], l.slots[st.base+slotSlow])
	}
	return min(t, l.slots[st.base+slotTarget])
}

// settleAll adds what is still being reckoned: the chance that the station
// stands past the moment from which its ramp just saves the storage.
func (st *station) settleAll() {
	r := &st.risk
	switch {
	case !r.live || !r.made:
	case r.slowed < r.over:
		// Every dwell that trips before has done so then; no other will.
		st.settle(r.slowed - math.Sqrt(2*r.v*max(0, r.slowed-r.end)/r.accel))
	default:
		st.settle(r.end - r.v/(2*r.accel))
	}
}

// newRisk ends what is reckoned of the last cycle and begins the next.
func (st *station) newRisk() {
	st.settleAll()
	st.risk = risk{hands: never, slowed: never, parts: st.parts, short: st.M < st.runM-1e-3}
}

// settle adds the chance that the station still stands at the time latest.
func (st *station) settle(latest float64) {
	r := &st.risk
	x, e := latest-r.dwells, r.from-r.dwells
	sure := !r.hand && x <= st.laws.handLeast // a change by hand trips the interlock
	if r.fails && !sure {
		h := st.laws.hand
		st.credit(after(h.SurvivalFrom(latest-r.hands), max(0, h.SurvivalFrom(max(0, r.from-r.hands)))))
		return
	}
	at := st.laws.at(x, 0)
	s, tails := at.dwell, at.tails
	if e > 0 {
		s = after(s, st.laws.dwell.SurvivalFrom(e))
		for i := range tails {
			tails[i] = after(tails[i], st.laws.tails[i].SurvivalFrom(e))
		}
	}
	q := 0.0
	if sure {
		q = 1 - st.successShare
	}
	r.live, r.done = false, true
	if r.counts != (st.l.now >= st.l.s.warmUp) {
		return
	}
	c := &st.changes().chance
	c.cause[byFailed] += q
	st.addCause(c, (1-q)*s)
	for i := range tails {
		c.tail[i] += q + (1-q)*tails[i]
	}
}

// credit adds a chance that does not come from the law of the dwell.
func (st *station) credit(p float64) {
	r := &st.risk
	r.live, r.done = false, true
	if r.counts != (st.l.now >= st.l.s.warmUp) {
		return
	}
	c := &st.changes().chance
	for i := range c.tail {
		c.tail[i] += p
	}
	if r.fails {
		c.cause[byFailed] += p
		return
	}
	st.addCause(c, p)
}

// addCause splits a chance into what a full storage and a ready roll would have
// had too, and what their want adds.
func (st *station) addCause(c *chance, p float64) {
	r := &st.risk
	if !r.waited && !r.short {
		c.cause[byDwell] += p
		return
	}
	v := st.l.spec.Process.Speed
	t, w := st.downAt(st.runM-v*v/(2*st.decTarget), v)
	least := min(p, st.laws.at(t-w/(2*st.acc), 1).dwell)
	c.cause[byDwell] += least
	if r.waited {
		c.cause[byNotReady] += p - least
	} else {
		c.cause[byRefill] += p - least
	}
}
