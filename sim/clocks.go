package sim

import "math"

// breakClock is web breaks of themselves: a Poisson process along the web with
// rate (p/atSpeed)^n / meanLength per metre. In time its hazard is
// p^(n+1) / (atSpeed^n meanLength), so over a ramp from p0 to p1 at a the
// hazard is (p1^(n+2) - p0^(n+2)) / (a (n+2) atSpeed^n meanLength). While the web
// is being mended the clock stands: it has no memory, so that is the same as to
// lose the breaks that would fall due then.
type breakClock struct {
	on            bool
	n             float64
	scale         float64 // atSpeed^n meanLength
	left          float64 // hazard to the next break
	full          float64 // hazard a second at line speed
	every         source
	repair, scrap source
}

func (b *breakClock) perSecond(l *line, p float64) float64 {
	if p == l.spec.Process.Speed {
		return b.full
	}
	return math.Pow(p, b.n+1) / b.scale
}

func (b *breakClock) advance(l *line, dt, p1 float64) {
	switch {
	case l.holds.on(hWebBreak):
	case l.pa != 0 && b.n == 0:
		b.left -= (l.p + p1) / 2 * dt / b.scale
	case l.pa != 0:
		b.left -= (math.Pow(p1, b.n+2) - math.Pow(l.p, b.n+2)) / (l.pa * (b.n + 2) * b.scale)
	case l.p != 0:
		b.left -= b.perSecond(l, l.p) * dt
	}
}

func (b *breakClock) solve(l *line) {
	if !b.on {
		return
	}
	t := never
	switch {
	case l.holds.on(hWebBreak): // stands still
	case l.pa != 0 && b.n == 0:
		t = firstBelow(b.left*b.scale, -l.p, -l.pa/2)
	case l.pa != 0:
		if x := math.Pow(l.p, b.n+2) + l.pa*(b.n+2)*b.scale*max(0, b.left); x >= 0 {
			t = max(0, (math.Pow(x, 1/(b.n+2))-l.p)/l.pa)
		}
	case l.p != 0:
		t = max(0, b.left/b.perSecond(l, l.p))
	}
	l.slots[slotBreak] = l.now + t
}

func (b *breakClock) fire(l *line) {
	b.left = b.every.draw()
	l.dirty |= dProcess
	l.breakBy("")
}

// breakBy breaks the web. A break while the web is being mended is lost.
func (l *line) breakBy(detail string) {
	if l.holds.on(hWebBreak) {
		return
	}
	l.breakWork++
	l.breakWeb(detail)
	l.s.crew.call(l, taskBreak, 0)
}

// newSplice sends a splice on its way through the line.
func (l *line) newSplice(at float64, parts bool, scrapLength float64) {
	l.splices = append(l.splices, inFlight{at, parts})
	l.scrap.claim(at, at+scrapLength, wSplice)
	l.dirty |= dProcess
	l.side[1].spliceAhead()
}

// solveParted finds when the next splice that parts is at the process.
func (l *line) solveParted() {
	for l.atProcess < len(l.splices) && l.splices[l.atProcess].at < l.P {
		l.atProcess++
	}
	l.slots[slotParted] = never
	if i := l.nextParting(); i >= 0 {
		l.slots[slotParted] = l.reaches(l.splices[i].at - l.P)
	}
}

// nextParting is the index of the next splice ahead of the process that will
// part, -1 when there is none.
func (l *line) nextParting() int {
	for i := l.atProcess; i < len(l.splices); i++ {
		if l.splices[i].parts {
			return i
		}
	}
	return -1
}

// parted is a splice that parts in the process.
func (l *line) parted() {
	if i := l.nextParting(); i >= 0 {
		l.splices[i].parts = false
	}
	l.dirty |= dProcess
	l.breakBy("splice parted")
}

// stopClock is one [[stop]].
type stopClock struct {
	calendar, needsOperator bool
	left                    float64 // s of running to the next, while the web rests
	every, repair, scrap    source
	self                    bool // is over by itself, and has not begun to be
}

// clocksMove starts and stops the clocks that count running time.
func (l *line) clocksMove(moving bool) {
	for i := range l.stops {
		c := &l.stops[i]
		slot := &l.slots[slotStops+2*i]
		switch {
		case c.calendar:
		case moving:
			*slot = l.now + c.left
		default:
			c.left = *slot - l.now
			*slot = never
		}
	}
}

// stopDue is a stop that falls due. While it is on already, it is lost.
func (l *line) stopDue(i int) {
	c := &l.stops[i]
	l.slots[slotStops+2*i] = l.now + c.every.draw()
	h := hFirstStop + hold(i)
	if l.holds.on(h) {
		return
	}
	l.scrap.claim(l.P, l.P+c.scrap.draw(), wStop)
	c.self = !c.needsOperator
	l.holdOn(h, "stop", l.spec.Stops[i].Name, "")
	if c.needsOperator {
		l.s.crew.call(l, taskStop, i)
	} else if l.atRest {
		l.startSelfRepair(i)
	}
}

// startSelfRepair starts the time of a stop that needs no operator, at rest.
func (l *line) startSelfRepair(i int) {
	if c := &l.stops[i]; c.self && l.holds.on(hFirstStop+hold(i)) {
		c.self = false
		l.slots[slotStops+2*i+1] = l.now + c.repair.draw()
	}
}

func (l *line) stopOver(i int) {
	l.holdOff(hFirstStop+hold(i), "stop", l.spec.Stops[i].Name, "over")
}

// jobClock is the orders.
type jobClock struct {
	on, due, begun            bool
	end                       float64 // in processed length
	length, changeover, scrap source
}

func (j *jobClock) solve(l *line) {
	if j.on && !j.due {
		l.slots[l.slotJob()] = l.foreseen(j.end - l.P)
	}
}

// fire is the moment at which the line begins to stop for the end of an order.
func (j *jobClock) fire(l *line) {
	j.due = true
	l.holdOn(hChangeover(len(l.stops)), "job", "order done", "")
	l.s.crew.call(l, taskChangeover, 0)
	if l.atRest {
		j.rested(l)
	}
}

// rested counts the next order from the place where the web rests.
func (j *jobClock) rested(l *line) {
	if !j.due || j.begun {
		return
	}
	j.begun = true
	j.end = l.P + j.length.draw()
	l.scrap.claim(l.P, l.P+j.scrap.draw(), wChangeover)
}

func (j *jobClock) changedOver(l *line) {
	j.due, j.begun = false, false
	l.dirty |= dProcess
	if u := &l.side[0]; l.spec.Jobs.NewParentRoll && u.mode != down && u.mode != rest && u.mode != gone && !u.changing {
		u.returnRoll()
	}
	l.holdOff(hChangeover(len(l.stops)), "job", "new order", "")
}
