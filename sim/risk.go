package sim

import (
	"math"

	"rollchange/model"
)

// A depletion that is rare is calculated, not counted: given everything else in a
// cycle, the chance that its dwell is at least the shortest that trips the
// interlock is known from the law of the dwell (conditional Monte Carlo:
// Asmussen and Glynn, Stochastic Simulation, 2007, ch. V.4). Its mean is that of
// the count, its variance is smaller, and it does not end at one over the
// number of splices.
//
// The storage is followed as it would be if the station stood on, along the path
// that the process really takes: how long the dwell is changes nothing in that
// path until the interlock trips. So whatever slows the line in between, a break
// or a stop, is in the calculation, and a good change never needs to be counted.
//
// What has to be counted is a trip before the dwell begins, because the next roll
// is not armed or the storage was low, and a cycle that a short next roll ends
// early. With on_low = "slow" the path hangs on the dwell, since a low storage
// slows the process: there it is calculated while the process runs at constant
// speed, and anything else sets the cycle back to the count until it does again.
type risk struct {
	live     bool    // being calculated
	frozen   bool    // the interlock tripped before the change was made: the motion since is its doing
	done     bool    // what this change adds has been added
	foreseen bool    // the process changes speed by the slow level of this storage
	parts    bool    // the splice will part in the process
	hand     bool    // calculated from within a change by hand
	back     bool    // it was set back to the count in between
	from     float64 // s, calculated from
	margin   float64 // m, of the storage if the station stands on
	end      float64 // s, the interlock trips if the station stands on; +Inf: not while the motion is as it is
	v, pa    float64 // m/s, m/s2, of the process then
	level    float64 // s, the process is at constant speed from then on
	slows    float64 // s, the storage is at its slow level if the station stands on
	begun    float64 // s, the dwell has begun
	hands    float64 // s, begin of the work by hand

	made   bool
	counts bool    // it was made after the warm-up
	accel  float64 // m/s2, of the ramp after the change
	slowed float64 // s, something else slows the process after the end, so that nothing trips any more

	fails  bool // the change failed and is made by hand
	waited bool // the station waited at rest for the next roll
	short  bool // the cycle began before the storage was at its run level
}

// project begins to calculate from now, when the station stands in a dwell or for a
// change by hand.
func (st *station) project() {
	r, l := &st.risk, st.l
	if r.live || st.starved || st.tripped || st.mode != rest || st.phase == waits {
		return // a line that this storage holds goes on when it is refilled: its path hangs on the dwell
	}
	if st.lateSpeed > 0 {
		return // how long it stands decides when the next roll is late, and so when the line slows: that is counted
	}
	if st.canSlow && (l.p == 0 || l.pa != 0 || st.arrives()) {
		return
	}
	r.live, r.made, r.from, r.margin, r.hand = true, false, st.at, st.M, st.phase == byHand
	if st.record != nil {
		st.record.begin(st, st.M)
	}
	st.foresee()
}

// foresee finds when the interlock trips if the station stands on, from the motion
// of the process as it is.
func (st *station) foresee() {
	r, l := &st.risk, st.l
	r.pa, r.level = 0, st.at
	if st.canSlow {
		seconds, v := st.downAt(r.margin, l.p)
		r.end, r.v, r.slows = st.at+seconds, v, never
		if v < l.p {
			r.slows = st.at + (r.margin-st.slowM)/l.p
		}
		return
	}
	d := l.spec.Process.Decel
	var x float64
	if g := r.margin - st.reserve - model.StoppingLength(l.p, d); l.pa == 0 && l.p > 0 {
		x = max(0, g) / l.p
	} else {
		x = fallsTo(g, -l.p-l.p*l.pa/d, -l.pa/2-l.pa*l.pa/(2*d), -l.p, -l.pa)
	}
	r.end, r.v = st.at+x, l.p
	if l.pa > 0 && x < never {
		r.v, r.pa, r.level = l.p+l.pa*x, l.pa, l.slots[slotRamp]
	}
}

// downAt is how long the storage lasts from margin M with the station at rest and
// the process at speed v, s, and the speed of the process then.
func (st *station) downAt(M, v float64) (seconds, speed float64) {
	return (&levels{st.runM, st.reserve, st.slowM, st.canSlow, st.slowSpeed}).downAt(M, v, st.l.spec.Process.Decel)
}

// downAt is that of a line that slows at d, m/s2.
func (x *levels) downAt(M, v, d float64) (seconds, speed float64) {
	low := x.reserve + model.StoppingLength(v, d) // the interlock
	if slow := x.slowSpeed; x.slows && slow < v && x.slow < M && x.slow > low {
		// To the slow level; a ramp in which content and interlock level fall
		// alike; the rest at the slow speed.
		return (M-x.slow)/v + (v-slow)/d + (x.slow-low)/slow, slow
	}
	return (M - low) / v, v
}

// disturbed is a change of the motion of the process.
func (st *station) disturbed() {
	r, l := &st.risk, st.l
	if st.record != nil && !(r.foreseen && st.slow) {
		st.record.turns(st)
	}
	switch {
	case !r.live || r.frozen || r.foreseen && st.slow:
	case st.canSlow:
		st.disturbedSlow()
	case l.now < r.end:
		st.foresee()
	case l.pa < 0:
		r.slowed = min(r.slowed, l.now)
		if _, over := st.latest(); r.made && l.now < over {
			st.creditAll()
		}
	}
}

// disturbedSlow is a change of the motion where a low storage slows the process.
// Its own slowing is foreseen. When the process speeds up after it, or was never
// slowed, the station feeds again; had it not, the same would have come at the
// same web, later.
func (st *station) disturbedSlow() {
	r, now := &st.risk, st.l.now
	if st.l.pa == 0 {
		return // the end of a ramp that was foreseen
	}
	if r.foreseen {
		now = st.l.slowedBy(1 - st.which)
	} else if r.made && now > r.slows && !st.slow {
		now = st.later(now)
	}
	if !r.made || now < r.end {
		r.live, r.back = false, true
		if st.record != nil {
			st.record.now.is &^= cycleReckoned
		}
		return
	}
	r.slowed = min(r.slowed, now)
	if _, over := st.latest(); r.foreseen || now < over {
		st.creditAll()
	}
}

// later is when the process comes to the web that it is at by now, if it slows at
// the slow level. A stop by the clock comes at its time.
func (st *station) later(now float64) float64 {
	l, r := st.l, &st.risk
	if l.turn == turnOthers && l.slot >= slotStops && l.slot < l.slotJob() {
		return now
	}
	v, d := l.spec.Process.Speed, l.spec.Process.Decel
	x, ramp := v*(now-r.slows), (v*v-r.v*r.v)/(2*d)
	if x < ramp {
		return r.slows + (v-math.Sqrt(v*v-2*d*x))/d
	}
	return r.slows + (v-r.v)/d + (x-ramp)/r.v
}

// latest is the latest time at which the change may be made without tripping the
// interlock, and the time at which the storage then turns, s. When the change is
// made at L and the station ramps up at a, the storage lacks g(t) at t, that is
// what it would be below the level of the interlock if the station stood on, less
// a (t - L)²/2. So
//
//	L = min over t of t - sqrt(2 g(t)/a),  t from the end to where the process slows
//
// With the process at constant speed v, g = v (t - end), and the least is at
// v/(2 a) after the end. While it speeds up at b, from the speed v at the end,
// g = (1 + b/d)(v y + b y²/2) with y = t - end, and the least is where
// 2 a g = g'², at the speed v sqrt(a/(a - (1 + b/d) b)).
func (st *station) latest() (latest, over float64) {
	return st.risk.latest(st.l.spec.Process.Decel)
}

// latest is that of a station whose line slows at d, m/s2.
func (r *risk) latest(d float64) (latest, over float64) {
	a := r.accel
	if math.IsInf(r.end, 1) || r.v <= 0 {
		return never, never
	}
	b, ramp := r.pa, r.level-r.end // m/s2, and s for which it speeds up
	if turn := r.v / (2 * a); b == 0 && r.slowed >= r.end+turn {
		return r.end - turn, r.end + turn
	}
	k := 1 + b/d
	lacks := func(y float64) float64 {
		up := max(0, min(y, ramp))
		return k*(r.v+b*up/2)*up + (r.v+b*up)*(y-up)
	}
	var y float64
	if b > 0 && a > k*b {
		y = r.v * (math.Sqrt(a/(a-k*b)) - 1) / b
	}
	if b == 0 || a <= k*b || y > ramp {
		up := max(0, ramp)
		v := r.v + b*up
		y = up + max(0, model.StoppingLength(v, a)-lacks(up))/v
	}
	y = max(0, min(y, r.slowed-r.end))
	return r.end + y - math.Sqrt(2*lacks(y)/a), r.end + y
}

// cutShort says that the next change may begin before the storage turns: a cycle
// that ends so is counted. It hangs on the next roll alone, not on the dwell. A
// finished roll that ends at splices may end at one that is not made yet, which
// has the path and the run level of the storage before it.
func (st *station) cutShort() bool {
	l := st.l
	v, next := l.spec.Process.Speed, st.target-st.from
	if st.which == 1 && l.spec.Rewind.Trigger != model.ByLength {
		next = min(next, l.spec.Process.Path+st.content0)
	}
	return next < model.StoppingLength(v, st.accelNow())
}

// madeNow is the moment of the change: the ramp that follows is known now.
func (st *station) madeNow() {
	r, l := &st.risk, st.l
	r.counts = l.now >= l.run.warmUp
	c := st.changes()
	if r.short {
		c.notRefilled++
	}
	if r.live && st.cutShort() {
		r.live, r.back = false, true
	}
	if st.record != nil {
		st.record.makes(st)
	}
	switch {
	case r.fails:
		c.exposedFailed++
	case r.odd() || !r.live:
		c.exposed++
	}
	switch {
	case r.live:
		r.made, r.accel = true, st.accelNow()
		if r.frozen {
			r.slowed = min(r.slowed, st.arrival())
			st.creditAll()
		}
	case st.starved:
		st.credit(1)
	}
}

// odd says that more than the dwell decided this cycle.
func (r *risk) odd() bool { return r.fails || r.odds() }

// odds is odd without what failing decides.
func (r *risk) odds() bool { return r.waited || r.short || r.back }

// trips is the interlock in a cycle: what is calculated stands, the rest counts.
func (st *station) trips() {
	r := &st.risk
	if st.record != nil {
		st.record.trips(st)
	}
	if r.live {
		r.slowed = min(r.slowed, st.l.slowedBy(1-st.which))
	}
	switch {
	case r.live && !r.made:
		r.frozen = true
	case r.live:
		r.slowed = min(r.slowed, st.arrival())
		st.creditAll()
	case st.joined && !r.done:
		st.credit(1)
	}
}

// arrives says that the splice stops the process when it gets there.
func (st *station) arrives() bool {
	w := &st.l.spec.Rewind
	return st.which == 0 && (st.risk.parts || w.Change == model.Manual && w.Trigger != model.ByLength)
}

// arrival is the time at which the splice, made while the storage lasts, stops
// the process: it parts there, or a rewind by hand ends its roll at it. The
// process has then used up what was between it and the splice point, whenever
// the splice was made.
func (st *station) arrival() float64 {
	l, r := st.l, &st.risk
	if !st.arrives() || r.v == 0 {
		return never
	}
	d := l.spec.Process.Decel
	if r.parts {
		return r.end + (st.reserve+model.StoppingLength(r.v, d)+l.spec.Process.Path)/r.v
	}
	return r.end + (st.reserve+l.spec.Process.Path)/r.v
}

// slowedBy is when, as things stand, the other station, the web, a stop or an order
// slows the process.
func (l *line) slowedBy(other int) float64 {
	t := min(l.slots[slotBreak], l.slots[slotParted], l.slots[l.slotJob()])
	for i := range l.stops {
		t = min(t, l.slots[slotStops+2*i])
	}
	st := &l.side[other]
	if !st.zero() {
		return min(t, st.trip)
	}
	if st.event == interlocks || st.event == slowLevels || st.event == atTarget && st.willSlow() {
		t = min(t, st.next)
	}
	return t
}
