package sim

// retarget finds the speed that the process should have and ramps to it.
func (l *line) retarget() {
	pr := &l.spec.Process
	target := pr.Speed
	for i := range l.side {
		if st := &l.side[i]; st.slow && st.slowSpeed < target {
			target = st.slowSpeed
		}
	}
	if l.holds.any() {
		target = 0
	}
	l.target = target
	l.dirty |= dProcess
	was := l.pa
	switch {
	case l.p > target:
		l.pa = -pr.Decel
		l.slots[slotRamp] = l.now + (l.p-target)/pr.Decel
	case l.p < target:
		l.pa = pr.Accel
		l.slots[slotRamp] = l.now + (target-l.p)/pr.Accel
		if l.atRest {
			l.atRest = false
			l.scrap.claim(l.P, l.P+l.startScrap.draw(), wRestart)
			l.clocksMove(true)
		}
	default:
		l.pa = 0
		l.slots[slotRamp] = never
		if target == 0 && !l.atRest {
			// A hold that goes on at the instant of a start: the web never moved.
			l.atRest = true
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
		l.log("process", "speeds up", "")
	case l.pa < 0 && was >= 0:
		l.log("process", "slows", "")
	}
}

// rampEnds is the end of a ramp of the process.
func (l *line) rampEnds() {
	l.p, l.pa = l.target, 0
	l.dirty |= dProcess
	for i := range l.side {
		l.side[i].follow()
	}
	for i := range l.side {
		l.side[i].disturbed()
	}
	if l.p > 0 {
		for i := range l.side {
			l.side[i].project()
		}
		l.log("process", "at speed", "")
		return
	}
	for i := range l.side {
		if st := &l.side[i]; st.M < 0 && st.zero() { // the interlock stopped it in time, but for rounding
			st.setM(0)
		}
	}
	l.atRest = true
	l.tally.rests++
	l.charged = l.holds.longest()
	l.scrap.claim(l.P-l.restScrap.draw(), l.P, wStop)
	l.clocksMove(false)
	l.log("process", "at rest", "")
	l.workAtRest()
}

// workAtRest starts what waits for the web to rest.
func (l *line) workAtRest() {
	l.job.rested(l)
	for i := range l.stops {
		l.startSelfRepair(i)
	}
	l.s.crew.rested(l)
}

// holdOn puts a hold on for what the station and event say. When the hold is
// on already it only writes the log.
func (l *line) holdOn(h hold, station, event, detail string) {
	if l.holds.on(h) {
		l.log(station, event, detail)
		return
	}
	l.holds.set |= 1 << h
	l.holds.since[h] = l.now
	l.tally.onsets[h]++
	l.log(station, event, detail)
	l.holdsChanged()
}

// holdOff takes a hold off.
func (l *line) holdOff(h hold, station, event, detail string) {
	on := l.holds.on(h)
	l.holds.set &^= 1 << h
	l.log(station, event, detail)
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
func (l *line) breakWeb(detail string) {
	l.scrap.claim(l.P, l.P+l.breaks.scrap.draw(), wWebBreak)
	l.holdOn(hWebBreak, "web", "web break", detail)
}

// breakMended is the end of one work on the hold web_break.
func (l *line) breakMended() {
	if l.breakWork--; l.breakWork == 0 {
		for i := range l.side {
			if l.side[i].cut {
				l.side[i].thread()
			}
		}
		l.holdOff(hWebBreak, "web", "web break mended", "")
	}
}
