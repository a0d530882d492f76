package sim

import "rollchange/model"

// callChange calls the operator for a change at rest.
func (st *station) callChange() {
	if !st.called {
		st.called = true
		st.l.run.crew.call(st.l, st.tChange, 0)
	}
}

func (st *station) notReady() { st.late, st.counted = true, true }

// stopForChange puts on the hold for a change at rest.
func (st *station) stopForChange() {
	st.changing = true
	st.l.holdOn(st.hChange, note{of: st.of, event: StopsForChange})
	if st.kind == model.Manual {
		st.callChange()
		if st.l.resting { // an operator who was called ahead is there
			st.l.run.crew.rested(st.l)
		}
	}
}

// nextReady is the end of the task that prepares the next roll or core.
func (st *station) nextReady() {
	st.sync()
	st.ready = true
	st.touch()
	st.l.log(st.of, NextReady)
	st.slowForCore(false)
	switch {
	case st.mode == gone && st.mended:
		st.join()
	case st.mode == gone:
	default:
		st.do.armed(st)
	}
	st.l.recount()
}

// changedByHand is the end of a change at rest (manual, or a flying one that came too late).
func (st *station) changedByHand() {
	st.sync()
	toMend := st.mode == gone && st.kind == model.Manual // a flying change that ran out has called already
	st.changed()
	if toMend {
		st.l.run.crew.call(st.l, TaskRunOut, 0)
	}
	st.l.holdOff(st.hChange, note{of: st.of, event: ChangeDone})
}

// changed is the moment that the new roll is joined, in any way.
func (st *station) changed() {
	l := st.l
	c := st.changes()
	c.made++
	st.joined, st.counts = true, l.now >= l.run.warmUp
	count := func(happened *bool, n *float64) {
		if *happened {
			*n++
			*happened = false
		}
	}
	count(&st.counted, &c.notReady)
	count(&st.failed, &c.failed)
	count(&st.ranOut, &c.runOut)
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
		st.va = st.accelNow()
		st.ends = l.now + st.max/st.va
		st.madeNow()
		l.log(st.of, StationSpeedsUp)
	}
	st.touch()
	l.recount()
}

// runsOut is the tail passing the splice point with nothing to splice it to.
func (st *station) runsOut() {
	l := st.l
	if !st.open && st.zero() {
		st.newRisk()
		st.open, st.least = true, st.M
	}
	// S is at the end, but for rounding; or a millimetre past it, where a roll came
	// to rest that was just long enough.
	st.end = max(st.end, st.S)
	st.setM(st.M + st.end - st.S)
	st.moveTo(st.end)
	st.v, st.va, st.mode, st.capped, st.ranOut = 0, 0, gone, false, true
	st.ends = never
	l.breakWork++
	l.breakWeb(RunOut)
	if st.kind == model.Manual {
		if !st.changing {
			st.stopForChange()
		}
	} else {
		st.changing = st.kind == model.Flying
		l.run.crew.call(l, TaskRunOut, 0)
	}
	l.recount()
}

// runOutMended is the end of the repair of a run-out.
func (st *station) runOutMended() {
	st.sync()
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
	st.l.run.crew.cancel(st.l, st.tJoin)
	st.changed()
	st.l.breakMended()
	if st.l.holds.on(st.hChange) {
		st.l.holdOff(st.hChange, note{of: st.of, event: ChangeDone})
	}
}
