package sim

import (
	"math"

	"rollchange/model"
)

// storage is the festoon of a station, as margins: what an unwind storage holds,
// what a rewind storage still has room for.
type storage struct {
	M        float64 // m
	runM     float64 // at the run level
	restartM float64
	hurry    float64 // m/s, see rounding
	slowM    float64
	reserve  float64
	content0 float64 // m, web in the rewind storage at t = 0
	canSlow  bool    // on_low = "slow"

	tripped   bool
	slow      bool
	slowSpeed float64 // m/s
	cut       bool    // the storage was at its end with the web moving, and the web broke there
	owed      float64 // m, what the process has run on since; made good when the web is mended
	lost      float64 // m, that setM has moved and that is more than rounding
}

// store takes over the levels of the storage, as margins.
func (st *station) store(x *model.Storage, run, restart, slow float64) {
	st.M, st.runM, st.restartM, st.reserve = run, run, restart, x.Reserve
	st.canSlow, st.slowM, st.slowSpeed = x.Slow, slow, x.SlowSpeed
}

// solveStorage asks for the crossings of the storage.
func (st *station) solveStorage() {
	l := st.l
	if st.mode == locked || st.capped {
		if st.tripped && !st.capped { // it feeds again; while it still slows for its change it does not
			st.happens(l.now, interlocks)
		}
		return
	}
	feeds := st.mode == up || st.mode == fast
	d0, d1 := st.v-l.p, st.va-l.pa
	if st.cut {
		d0, d1 = st.v, st.va
	}
	if feeds || st.mode == down && (d0 > 0 || d1 > 0) {
		st.happens(l.now+risesTo(st.runM, st.M, d0, d1), refillEnds)
	}
	// Interlock: g = M - reserve - p²/(2 d), and its slopes.
	d := l.spec.Process.Decel
	g0 := st.M - st.reserve - model.StoppingLength(l.p, d)
	g1, g2 := d0-l.p*l.pa/d, d1/2-l.pa*l.pa/(2*d)
	switch {
	case !st.tripped:
		st.happens(l.now+fallsTo(g0, g1, g2, d0, d1), interlocks)
	case feeds:
		// Both the restart level and, by so much that it does not trip again at
		// once, the interlock's level; and rising.
		t := risesTo(st.restartM, st.M, d0, d1)
		if !math.IsInf(t, 1) {
			a, b, c := shifted(st.clears()-g0, -g1, -g2, t)
			t += firstBelow(a, b, c)
		}
		st.happens(l.now+t, interlocks)
	}
	if g0 < -st.rounding() && !st.cut { // less than the line needs to stop
		st.happens(l.now+fallsTo(st.M, d0, d1/2, d0, d1), storageEnds)
	}
	if !st.canSlow {
		return
	}
	switch {
	case !st.slow:
		st.happens(l.now+firstFall(st.M-st.slowM, d0, d1/2), slowLevels)
	case feeds:
		st.happens(l.now+st.keepsUp(d0, d1), slowLevels)
	}
}

// keepsUp is how long it takes until the station runs at line speed or more with
// the storage at its slow level or above, so that the process need not be slow;
// +Inf while the motion as it is does not lead there. d0 and d1 are the slopes
// of the content.
func (st *station) keepsUp(d0, d1 float64) float64 {
	v, wait := st.l.spec.Process.Speed, 0.0
	if st.v < v {
		if st.mode != up || st.max < v {
			return never
		}
		wait = (v - st.v) / st.va
	}
	M, d0 := st.M+(d0+d1*wait/2)*wait, d0+d1*wait
	if M >= st.slowM {
		return wait
	}
	return wait + risesTo(st.slowM, M, d0, d1)
}

// refilled is the end of a cycle: the storage is at its run level again. When
// the next change had begun from the speed of the refill, the refill ends all
// the same, and the ramp goes on from the speed of the process.
func (st *station) refilled() {
	st.setM(st.runM)
	if st.mode == down && st.cut { // nothing takes web out of it or brings some: it can move no further
		st.ends = never
		st.atRest()
		return
	}
	if st.mode == down {
		st.v = st.l.p
		st.slowDown()
		st.follow()
		st.l.log(st.of, StorageFull)
		return
	}
	st.mode = locked
	st.ends = never
	st.follow()
	st.endCycle()
	st.l.log(st.of, StorageRefilled)
	if st.slow {
		st.setSlow(false)
	}
}

// clears is how far the margin must be above the level of the interlock before it
// lets go, m: a thousandth of the storage, a millimetre at least, and more than
// rounding. Without it a line with a low restart level would stop and start
// without end.
func (st *station) clears() float64 { return max(1e-3, 1e-3*st.runM, 2*st.rounding()) }

// rounding is how exactly the margin is known, and the level of the interlock, m.
// The clock is right to its last digit, so what passes in a few of those is
// rounding; and so is what the line needs to stop from what it speeds up in them.
func (st *station) rounding() float64 { return 1e-9 + 1e-12*st.runM + 2e-15*st.at*st.hurry }

// derives works out what hangs on the figures of the product that the line runs alone:
// how fast what passes a station and what the line needs to stop change at most (hurry, m/s),
// and that the limit of the torque is not known.
func (st *station) derives() {
	p := &st.l.spec.Process
	st.hurry = st.max + p.Speed*(1+p.Accel/p.Decel)
	st.torqueLeft, st.torqueFree = 0, 0
}

// setM puts the margin at a value that it is at but for rounding, and the web
// that the station has let through with it, so that the books stay exact. More
// than rounding would be lost web.
func (st *station) setM(M float64) {
	d := M - st.M
	if math.Abs(d) > st.rounding() {
		st.lost += math.Abs(d)
	}
	st.pass(d)
	st.M = M
}

// setSlow slows the process for a storage that is low, or ends that.
func (st *station) setSlow(slow bool) {
	st.slow = slow
	if slow && st.record != nil {
		st.record.cuts(st)
	}
	st.l.log(st.of, SlowLevel)
	st.risk.foreseen = true
	st.l.retarget()
	st.risk.foreseen = false
}

// interlock trips when the storage nears its end, and lets go when it is back.
func (st *station) interlock() {
	l := st.l
	if st.tripped {
		st.tripped = false
		l.holdOff(st.hStore, note{of: st.of, event: InterlockOff})
		return
	}
	st.tripped = true
	if !st.starved {
		st.starved = true
		st.trips()
		if st.joined && st.counts == (l.now >= l.run.warmUp) {
			st.changes().starved++
		}
	}
	l.holdOn(st.hStore, note{of: st.of, event: InterlockTrips})
}

// emptied is the storage at its end with the web moving: an unwind storage with
// nothing more to give, a rewind storage with no more room. It can come to that
// only where a line runs with less than it needs to stop: started so after the
// interlock, or by another stop with the storage still filling, or left so by a
// roll that ran out. The web breaks there. The process runs on to rest by what is in its path, and the
// operator who mends the break threads so much web up to it.
func (st *station) emptied() {
	l := st.l
	st.setM(0)
	st.cut = true
	st.changes().emptied++
	if l.holds.on(hWebBreak) { // one is being mended already, and this with it
		l.log(st.of, StorageAtEnd)
		return
	}
	l.breakBy([2]Cause{UnwindStorageEmpty, RewindStorageOver}[st.which])
}

// thread makes good what the process ran on after the storage was at its end.
func (st *station) thread() {
	st.sync()
	st.cut = false
	st.moveTo(st.S + st.owed)
	st.owed = 0
	if st.which == 0 { // a roll shorter than that is taken to be just long enough
		st.end = max(st.end, st.S)
	}
	st.touch()
}
