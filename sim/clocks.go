package sim

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
		slot := slotStops + 2*i
		switch {
		case c.calendar:
		case moving:
			l.set(slot, l.now+c.left)
		default:
			c.left = l.slots[slot] - l.now
			l.set(slot, never)
		}
	}
}

// stopDue is a stop that falls due. While it is on already, it is lost.
func (l *line) stopDue(i int) {
	c := &l.stops[i]
	l.set(slotStops+2*i, l.now+c.every.draw())
	h := hFirstStop + hold(i)
	if l.holds.on(h) {
		return
	}
	l.scrap.claim(l.P, l.P+c.scrap.draw(), wStop)
	c.self = !c.needsOperator
	l.holdOn(h, note{of: OfStop, event: StopBegins, which: i})
	if c.needsOperator {
		l.run.crew.call(l, TaskStop, i)
	} else if l.resting {
		l.startSelfRepair(i)
	}
}

// startSelfRepair starts the time of a stop that needs no operator, at rest.
func (l *line) startSelfRepair(i int) {
	if c := &l.stops[i]; c.self && l.holds.on(hFirstStop+hold(i)) {
		c.self = false
		l.set(slotStops+2*i+1, l.now+c.repair.draw())
	}
}

func (l *line) stopOver(i int) {
	l.holdOff(hFirstStop+hold(i), note{of: OfStop, event: StopEnds, which: i})
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
	l.holdOn(hChangeover(len(l.stops)), note{of: OfJob, event: OrderEnds})
	l.run.crew.call(l, TaskChangeover, 0)
	if l.resting {
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
	l.moved, l.stale = true, true
	if u := &l.side[0]; l.spec.Jobs.NewParentRoll {
		if u.sync(); u.mode != down && u.mode != rest && u.mode != gone && !u.changing {
			u.returnRoll()
		}
	}
	l.holdOff(hChangeover(len(l.stops)), note{of: OfJob, event: OrderBegins})
}
