package sim

import "rollchange/model"

// lacks is the good web that the order still needs when it ends at a place on the web
// of which the last stretch will be scrap, m; 0 where its length counts all web, or
// where it lacks no more than near.
func (o *orderClock) lacks(l *line, end, last, near float64) float64 {
	if !l.run.spec.Orders.Good {
		return 0
	}
	good, _ := l.scrap.ofOrder(len(l.scrap.orders)-1, end-last)
	if x := o.at.length - o.before - good; x > near {
		return x
	}
	return 0
}

// nearRest is how near to its target a web comes to rest, m: a millimetre, and what
// rounding of the clock does to a ramp up that is cut off by a much gentler one down.
func (l *line) nearRest() float64 {
	p := &l.spec.Process
	return model.LeastLength + 4e-15*l.now*p.Speed*(1+p.Accel/p.Decel)
}

// aim finds where an order of good web ends, with the scrap of its own stop, as far as
// the scrap is known by now, and says whether that is further on than it was.
func (o *orderClock) aim(l *line) (further bool) {
	if !l.run.spec.Orders.Good {
		return false
	}
	last, was := 0.0, o.end
	if !l.resting {
		next := l.restScrap // a copy: it looks at the next draw and leaves it
		last = next.draw()
	}
	o.end = max(o.least, l.P)
	open := l.scrap.open(len(l.scrap.orders) - 1) // the scrap of the stop may reach back beyond it
	for x := o.lacks(l, o.end, last, leastTolerance); x > 0; x = o.lacks(l, o.end, last, leastTolerance) {
		end := max(o.end+x, last+l.scrap.reach(max(o.end-last, open), x))
		if !(end > o.end) { // what it lacks is less than the last digit of a place so far along
			break
		}
		o.end = end
	}
	return o.end > was+leastTolerance
}

// goOn goes on with an order that has too little good web. The order that follows
// stays the next.
func (o *orderClock) goOn(l *line) {
	o.end = l.P
	l.run.crew.cancel(l, TaskChangeover)
	o.due, o.ended, o.settles, o.short, o.works = false, false, false, false, 0
	l.moved, l.stale = true, true
	h := hChangeover(len(l.stops))
	if o.none {
		h = hNoOrder(len(l.stops))
	}
	l.holdOff(h, note{of: OfJob, event: OrderBegins})
}
