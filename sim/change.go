package sim

import (
	"math"

	"rollchange/model"
)

// callChange calls the operator for a change at rest.
func (st *station) callChange() {
	if !st.called {
		st.called = true
		st.set(slotCall, never)
		st.l.s.crew.call(st.l, st.tChange, 0)
	}
}

// reachesTarget is the trigger: where a stop for the change has to begin.
func (st *station) reachesTarget() {
	switch {
	case st.kind == model.Manual:
		st.stopForChange()
	case st.kind == model.Flying:
		st.notReady()
		st.stopForChange()
	case st.ready || st.late:
		st.beginCycle()
	default:
		st.notReady()
		st.l.log(st.name(), "trigger", "next not ready, runs on")
	}
}

// reachesPaste is the point at which a flying change is made.
func (st *station) reachesPaste() {
	if !st.ready {
		st.notReady()
		st.l.log(st.name(), "trigger", "next not ready, runs on")
		return
	}
	st.changeFlying()
}

func (st *station) notReady() { st.late, st.counted = true, true }

// stopForChange puts on the hold for a change at rest.
func (st *station) stopForChange() {
	st.changing = true
	st.set(slotTarget, never)
	st.l.holdOn(st.hChange, st.name(), "stop for change", "")
	if st.kind == model.Manual {
		st.callChange()
	}
}

// beginCycle ramps the station down for a splice or transfer.
func (st *station) beginCycle() {
	st.endCycle()
	st.newRisk()
	st.cycle, st.least = true, st.M
	st.mode, st.capped, st.ramp = down, false, st.decelNow()
	st.slowDown()
	st.follow()
	st.set(slotRefill, never)
	st.l.log(st.name(), [2]string{"splice cycle begins", "transfer cycle begins"}[st.which], "")
}

// motionEnds is the end of a ramp or of the dwell.
func (st *station) motionEnds() {
	switch st.mode {
	case down:
		st.s, st.sa, st.mode, st.capped = 0, 0, rest, false
		if st.ready {
			st.beginDwell()
		} else {
			st.phase = waits
			st.counted, st.risk.waited = true, true
			st.l.log(st.name(), "at rest", "waits for the next")
			st.l.recount()
		}
	case rest:
		if st.success < st.successShare {
			st.changed()
			return
		}
		st.failed, st.risk.fails = true, true
		st.phase = byHand
		st.l.log(st.name(), [2]string{"splice failed", "transfer failed"}[st.which], "made by hand")
		st.l.s.crew.call(st.l, st.tRecover, 0)
	case up:
		st.s, st.sa, st.mode = st.max, 0, fast
		st.l.log(st.name(), "at its max speed", "")
	}
}

func (st *station) beginDwell() {
	st.phase = dwells
	st.risk.dwells = st.l.now
	st.project()
	st.set(slotMotion, st.l.now+st.dwell)
	st.l.log(st.name(), "at rest", [2]string{"splice is made", "transfer is made"}[st.which])
	st.l.recount()
}

// armed is the end of the task that prepares the next roll or core.
func (st *station) armed() {
	st.ready = true
	st.touch()
	st.l.log(st.name(), [2]string{"next roll armed", "next core ready"}[st.which], "")
	switch {
	case st.mode == gone && st.mended:
		st.join()
	case st.mode == rest && st.phase == waits:
		st.beginDwell()
	case !st.late || st.mode == down || st.mode == gone:
	case st.zero() && st.mode != rest:
		st.beginCycle()
	case st.kind == model.Flying && st.changing:
		if !st.changesLate { // else whoever armed it goes on
			st.l.s.crew.call(st.l, st.tJoin, 0)
		}
	case st.kind == model.Flying:
		st.changeFlying()
	}
	st.l.recount()
}

// changeFlying makes a change at line speed.
func (st *station) changeFlying() {
	fails := st.success >= st.successShare
	st.failed = fails
	st.changed()
	if fails {
		st.l.breakBy([2]string{"unwind change failed", "rewind change failed"}[st.which])
	}
}

// changedByHand is the end of a change at rest (manual, or a flying one that came too late).
func (st *station) changedByHand() {
	ranOut := st.mode == gone
	st.changed()
	if ranOut {
		st.l.s.crew.call(st.l, taskRunOut, 0)
	}
	st.l.holdOff(st.hChange, st.name(), "change done", "")
}

// changed is the moment that the new roll is joined, in any way.
func (st *station) changed() {
	l := st.l
	c := st.changes()
	c.made++
	st.joined, st.counts = true, l.now >= l.s.warmUp
	count := func(happened *bool, n *float64) {
		if *happened {
			*n++
			*happened = false
		}
	}
	count(&st.counted, &c.notReady)
	count(&st.failed, &c.failed)
	count(&st.runOut, &c.runOut)
	if st.starved {
		c.starved++
	}
	if st.which == 0 {
		st.newParentRoll()
	} else {
		st.newFinishedRoll()
	}
	if st.zero() {
		st.mode, st.phase = up, noPhase
		st.sa = st.accelNow()
		st.set(slotMotion, l.now+st.max/st.sa)
		st.madeNow()
		l.log(st.name(), "ramps up", "")
	}
	st.touch()
	l.recount()
}

// refilled is the end of a cycle: the storage is at its run level again. When
// the next change had begun from the speed of the refill, the refill ends all
// the same, and the ramp goes on from the speed of the process.
func (st *station) refilled() {
	st.setM(st.runM)
	if st.mode == down {
		st.s = st.l.p
		st.slowDown()
		st.follow()
		st.l.log(st.name(), "storage at its run level", "still slowing")
		return
	}
	st.mode = locked
	st.set(slotMotion, never)
	st.follow()
	st.endCycle()
	st.l.log(st.name(), [2]string{"storage refilled", "storage drawn down"}[st.which], "")
	if st.slow {
		st.setSlow(false)
	}
}

// setM puts the margin at a value that it is at but for rounding, and the web
// that the station has let through with it, so that the books stay exact. The
// clock is right to its last digit, so at most what passes in a few of those is
// rounding. More would be lost web.
func (st *station) setM(M float64) {
	d := M - st.M
	if math.Abs(d) > 1e-9+1e-12*st.runM+2e-15*st.l.now*(st.max+st.l.spec.Process.Speed) {
		st.lost += math.Abs(d)
	}
	st.pass(d)
	st.M = M
}

// setSlow slows the process for a storage that is low, or ends that.
func (st *station) setSlow(slow bool) {
	st.slow = slow
	st.l.log(st.name(), "storage passes slow level", "")
	st.risk.foreseen = true
	st.l.retarget()
	st.risk.foreseen = false
}

// emptied is the storage at its end with the web moving: an unwind storage with
// nothing more to give, a rewind storage with no more room. It can come to that
// only after the interlock let a line start with less than it needs to stop. The
// web breaks there. The process runs on to rest by what is in its path, and the
// operator who mends the break threads so much web up to it.
func (st *station) emptied() {
	l := st.l
	st.setM(0)
	st.cut = true
	st.changes().emptied++
	if l.holds.on(hWebBreak) { // one is being mended already, and this with it
		l.log(st.name(), [2]string{"storage empty", "storage over its capacity"}[st.which], "web breaks")
		return
	}
	l.breakBy([2]string{"unwind storage empty", "rewind storage over its capacity"}[st.which])
}

// thread makes good what the process ran on after the storage was at its end.
func (st *station) thread() {
	st.cut = false
	st.moveTo(st.S + st.owed)
	st.owed = 0
	if st.which == 0 { // a roll shorter than that is taken to be just long enough
		st.rollEnd = max(st.rollEnd, st.S)
	}
	st.touch()
}

func (st *station) endCycle() {
	if !st.cycle {
		return
	}
	c, least := st.changes(), max(0, st.least)
	c.extremeSum += least
	c.cycles++
	st.l.low[st.which].add(least)
	st.cycle, st.starved, st.joined = false, false, false
}

// interlock trips when the storage nears its end, and lets go when it is back.
func (st *station) interlock() {
	l := st.l
	if st.tripped {
		st.tripped = false
		l.holdOff(st.hStore, st.name(), "interlock off", "")
		return
	}
	st.tripped = true
	if !st.starved {
		st.starved = true
		st.trips()
		if st.joined && st.counts == (l.now >= l.s.warmUp) {
			st.changes().starved++
		}
	}
	l.holdOn(st.hStore, st.name(), [2]string{"storage depleted", "storage full"}[st.which], "interlock")
}

// runsOut is the tail passing the splice point with nothing to splice it to.
func (st *station) runsOut() {
	l := st.l
	if !st.cycle && st.zero() {
		st.newRisk()
		st.cycle, st.least = true, st.M
	}
	st.setM(st.M + st.rollEnd - st.S) // S is at the end, but for rounding
	st.moveTo(st.rollEnd)
	st.s, st.sa, st.mode, st.capped, st.runOut = 0, 0, gone, false, true
	if st.zero() {
		st.set(slotMotion, never)
	}
	st.set(slotRefill, never)
	st.set(slotTarget, never)
	l.breakWork++
	l.breakWeb("run-out")
	switch st.kind {
	case model.Manual:
		if !st.changing {
			st.stopForChange()
		}
	case model.Flying:
		st.changing = true
		l.s.crew.call(l, taskRunOut, 0)
	default:
		l.s.crew.call(l, taskRunOut, 0)
	}
	l.recount()
}

// runOutMended is the end of the repair of a run-out.
func (st *station) runOutMended() {
	if st.mode != gone { // manual: the new roll is on already
		st.l.breakMended()
		return
	}
	if st.ready {
		st.join()
		return
	}
	st.mended = true
	st.l.recount()
}

// join puts the armed roll in after a run-out that is mended.
func (st *station) join() {
	st.mended = false
	st.l.s.crew.cancel(st.l, st.tJoin)
	st.changed()
	st.l.breakMended()
	if st.l.holds.on(st.hChange) {
		st.l.holdOff(st.hChange, st.name(), "change done", "")
	}
}
