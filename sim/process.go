package sim

// retarget finds the speed that the process should have and ramps to it.
func (l *line) retarget() {
	pr := &l.spec.Process
	target := pr.Speed
	for i := range l.side {
		st := &l.side[i]
		st.sync()
		if st.slow && st.slowSpeed < target {
			target = st.slowSpeed
		}
		if st.lateSlow && st.lateSpeed < target {
			target = st.lateSpeed
		}
	}
	if l.holds.any() {
		target = 0
	}
	l.target = target
	l.motionChanges()
	was := l.pa
	switch {
	case l.p > target:
		l.pa = -pr.Decel
		l.set(slotRamp, l.now+(l.p-target)/pr.Decel)
	case l.p < target:
		l.pa = pr.Accel
		l.set(slotRamp, l.now+(target-l.p)/pr.Accel)
		if l.resting {
			l.resting = false
			l.scrap.claim(l.P, l.P+l.startScrap.draw(), wRestart)
			l.clocksMove(true)
		}
	default:
		l.pa = 0
		l.set(slotRamp, never)
		if target == 0 && !l.resting {
			// A hold that goes on at the instant of a start: the web never moved.
			l.resting = true
			l.clocksMove(false)
			l.workAtRest()
		}
	}
	for i := range l.side {
		l.side[i].follow()
		if l.pa != 0 && l.pa != was {
			l.side[i].disturbed()
		}
	}
	switch {
	case l.pa > 0 && was <= 0:
		l.log(OfProcess, ProcessSpeedsUp)
	case l.pa < 0 && was >= 0:
		l.log(OfProcess, ProcessSlows)
	}
}

// motionChanges says that the process changes its motion: every crossing has to
// be found anew.
func (l *line) motionChanges() {
	l.moved, l.stale = true, true
	l.side[0].stale, l.side[1].stale = true, true
}

// rampEnds is the end of a ramp of the process.
func (l *line) rampEnds() {
	for i := range l.side {
		l.side[i].sync()
	}
	l.p, l.pa = l.target, 0
	l.motionChanges()
	for i := range l.side {
		l.side[i].follow()
		l.side[i].disturbed()
	}
	if l.p > 0 {
		for i := range l.side {
			l.side[i].project()
		}
		l.log(OfProcess, ProcessAtSpeed)
		return
	}
	for i := range l.side {
		if st := &l.side[i]; st.M < 0 && st.zero() { // the interlock stopped it in time, but for rounding
			st.setM(0)
		}
	}
	l.resting = true
	l.tally.rests++
	l.charged = l.holds.longest()
	l.scrap.claim(l.P-l.restScrap.draw(), l.P, wStop)
	l.retire()
	l.clocksMove(false)
	l.log(OfProcess, ProcessAtRest)
	l.workAtRest()
}

// workAtRest starts what waits for the web to rest.
func (l *line) workAtRest() {
	l.job.rested(l)
	l.order.rested(l)
	for i := range l.stops {
		l.startSelfRepair(i)
	}
	l.run.crew.rested(l)
}

// holdOn puts a hold on for what is noted. When the hold is on already it only
// writes the log.
func (l *line) holdOn(h hold, n note) {
	if l.holds.on(h) {
		l.logNote(n)
		return
	}
	l.holds.set |= 1 << h
	l.holds.since[h] = l.now
	l.tally.onsets[h]++
	l.logNote(n)
	l.holdsChanged()
}

// holdOff takes a hold off.
func (l *line) holdOff(h hold, n note) {
	on := l.holds.on(h)
	l.holds.set &^= 1 << h
	l.logNote(n)
	if on {
		l.holdsChanged()
	}
}

func (l *line) holdsChanged() {
	if l.holds.any() {
		l.charged = l.holds.longest()
	}
	l.retarget()
	l.recount()
}

// breakWeb puts the hold web_break on with so much web as scrap. Another cause
// while it is on adds its work only.
func (l *line) breakWeb(why Cause) {
	l.scrap.claim(l.P, l.P+l.breaks.scrap.draw(), wWebBreak)
	l.holdOn(hWebBreak, note{of: OfWeb, event: WebBreaks, cause: why})
}

// breakMended is the end of one work on the hold web_break.
func (l *line) breakMended() {
	if l.breakWork--; l.breakWork == 0 {
		for i := range l.side {
			if l.side[i].cut {
				l.side[i].thread()
			}
		}
		l.holdOff(hWebBreak, note{of: OfWeb, event: WebMended})
	}
}
