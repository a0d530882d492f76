package sim

import "rollchange/model"

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
	st.mode = down
	st.sa = -st.decelNow()
	st.set(slotMotion, st.l.now-st.s/st.sa)
	st.set(slotRefill, never)
	st.l.log(st.name(), [2]string{"splice cycle begins", "transfer cycle begins"}[st.which], "")
}

// motionEnds is the end of a ramp or of the dwell.
func (st *station) motionEnds() {
	switch st.mode {
	case down:
		st.s, st.sa, st.mode = 0, 0, rest
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
		st.l.s.crew.call(st.l, st.tJoin, 0)
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
		st.l.breakBy(st.name() + " change failed")
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
	if st.mode == down {
		st.M, st.s = st.runM, st.l.p
		st.set(slotMotion, st.l.now-st.s/st.sa)
		st.l.log(st.name(), "storage at its run level", "still slowing")
		return
	}
	st.mode = locked
	st.M = st.runM
	st.set(slotMotion, never)
	st.follow()
	st.endCycle()
	st.l.log(st.name(), [2]string{"storage refilled", "storage drawn down"}[st.which], "")
}

func (st *station) endCycle() {
	if !st.cycle {
		return
	}
	c := st.changes()
	c.extremeSum += st.least
	c.cycles++
	st.l.low[st.which].add(st.least)
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
	st.s, st.sa, st.mode, st.runOut = 0, 0, gone, true
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
