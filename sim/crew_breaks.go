package sim

// breakChanges begins or ends a break of the crew.
func (c *crew) breakChanges(b *breakTime) {
	n := len(c.people)
	if b.cover {
		n = 1
	}
	b.on = !b.on
	if b.on {
		c.away += n
		b.moment += b.length
	} else {
		c.away -= n
		b.moment += c.spec.Shift - b.length
	}
	if c.groups != nil {
		c.groups.breakChanges(b)
	}
	if !b.cover {
		for i := range c.run.lines {
			l := c.run.touch(i)
			h := hCrewBreak(len(l.stops))
			if b.on {
				l.holdOn(h, note{of: OfCrew, event: BreakBegins})
			} else if !c.otherBreak(b) {
				l.holdOff(h, note{of: OfCrew, event: BreakEnds})
			}
		}
	}
	if b.cover && b.on {
		c.run.touch(0).log(OfCrew, CoverBegins)
	} else if b.cover {
		c.run.touch(0).log(OfCrew, CoverEnds)
	}
	c.waiting = true
}

// otherBreak says whether another break that stops the line is on.
func (c *crew) otherBreak(b *breakTime) bool {
	for i := range c.breaks {
		if o := &c.breaks[i]; o != b && o.on && !o.cover {
			return true
		}
	}
	return false
}

// rollFinished calls for what follows each finished roll: packing and duties.
func (c *crew) rollFinished(l *line) {
	if l.spec.Rewind.Pack.Given() {
		c.call(l, TaskPack, 0)
	}
	for i := range c.duties {
		if n := c.spec.Duties[i].PerRoll; n > 0 {
			if c.duties[i].rolls++; c.duties[i].rolls%n == 0 {
				c.call(l, TaskDuty, i)
			}
		}
	}
}
