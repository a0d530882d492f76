package sim

import (
	"fmt"

	"rollchange/model"
)

// orderClock is the orders of one line: the one that it runs, and how it goes over
// to the next.
//
// An order ends with the web at rest. The changeover follows; where it leaves a
// station that still moves (a storage that refills, a roll that is changed) and that
// has to change with the order, the next order waits for that too. Then the finished
// roll ends, the line becomes one for the product of the order, and another web is
// put on where it needs one.
type orderClock struct {
	on      bool
	due     bool    // the line stops, or stands, for the end of the order
	ended   bool    // it is at rest, and the order ended
	settles bool    // the changeover is made
	short   bool    // it rests with too little good web: the order goes on
	taken   bool    // the next order is known, or that there is none
	none    bool    // there is no order left
	over    bool    // and the last is finished
	end     float64 // in processed length
	least   float64 // where it ends when all its web is good
	before  float64 // m, good web of it made before the warm-up ended
	at      inHand
	next    inHand
	works   int     // operators who still work on the changeover
	time    float64 // s, that each of them needs

	scrapLength float64 // m, of the changeover
	mark        mark    // as the order before ended
	last        mark    // as this one ended

	pick     source
	lengths  []source // of the orders of a mix, those that differ
	lengthOf []int
	every    source // the usual changeover
	scrap    source
	between  [][2]source
	when     []source
}

// inHand is an order that a line has taken.
type inHand struct {
	order    int // in the list; -1: of a mix
	product  int
	length   float64 // m
	earliest float64 // s
}

// buildOrders prepares the sources of a line's orders.
func (o *orderClock) build(l *line, src func(model.Dist, string) source) {
	spec := l.spec
	o.on = true
	c := &spec.Changeover
	o.every, o.scrap = src(c.Time, "jobs.changeover"), src(c.Scrap, "jobs.scrap")
	for _, b := range c.Between {
		pair := fmt.Sprintf(" %s\tto %s", spec.Products[b.From].Name, spec.Products[b.To].Name)
		o.between = append(o.between, [2]source{src(b.Time, "changeover.between.time"+pair), src(b.Scrap, "changeover.between.scrap"+pair)})
	}
	for _, w := range c.When {
		o.when = append(o.when, src(w.Adds, "changeover.when.adds "+w.Changes))
	}
	if len(spec.Orders.List) > 0 {
		return
	}
	o.pick = src(share("orders.product"))
	name := "jobs.length"
	for i := range spec.Products {
		p := &spec.Products[i]
		s := src(p.OrderLength, name)
		at := len(o.lengths)
		for k := range o.lengths {
			if o.lengths[k].sameLaw(&s) {
				at = k
			}
		}
		if at == len(o.lengths) {
			o.lengths = append(o.lengths, s)
		}
		o.lengthOf = append(o.lengthOf, at)
		if i+1 < len(spec.Products) {
			name = "jobs.length\tproduct " + spec.Products[i+1].Name
		}
	}
}

// take gives the line its next order; false when there is none.
func (o *orderClock) take(l *line) (inHand, bool) {
	spec := l.run.spec
	if b := l.run.book; b != nil {
		k := b.take(l.id)
		if k < 0 {
			return inHand{}, false
		}
		x := &spec.Orders.List[k]
		return inHand{k, x.Product, x.Length, x.Earliest}, true
	}
	product := 0
	if len(spec.Products) > 1 {
		u := o.pick.draw()
		for product < len(spec.Products)-1 && u >= spec.Products[product].Share {
			u -= spec.Products[product].Share
			product++
		}
	}
	return inHand{-1, product, o.lengths[o.lengthOf[product]].draw(), 0}, true
}

// start gives the line its first order, for which it is set up, at t = 0.
func (o *orderClock) start(l *line) {
	first, ok := o.take(l)
	l.scrap.begin(0, first.product)
	if ok {
		o.at = first
		l.dress(first.product)
		l.p, l.target = l.spec.Process.Speed, l.spec.Process.Speed
		o.end, o.least = first.length, first.length
	}
	if o.none = !ok; o.none {
		l.run.idle++
		o.due, o.ended, o.over = true, true, true
	}
	if !ok || first.earliest > 0 {
		h := hNoOrder(len(l.stops))
		l.p, l.target, l.resting = 0, 0, true
		l.holds.set, l.charged = 1<<h, h
		l.clocksMove(false)
		if ok {
			l.set(l.slotEarliest(), first.earliest)
		}
	}
	for i := range l.side {
		l.side[i].follow()
		l.side[i].touch()
	}
}

func (o *orderClock) solve(l *line) {
	if !o.on || o.due {
		return
	}
	o.aim(l)
	l.slots[l.slotJob()] = l.foreseen(o.end - l.P)
	if l.slots[l.slotEarliest()] < never { // it has not begun
		l.slots[l.slotJob()] = never
	}
}

// fire is the moment at which the line begins to stop for the end of the order, or
// finds that it has not made enough good web.
func (o *orderClock) fire(l *line) {
	l.moved = true
	if o.aim(l) {
		return
	}
	o.due = true
	if !o.taken {
		next, ok := o.take(l)
		o.next, o.none, o.taken = next, !ok, true
	}
	if o.none {
		l.holdOn(hNoOrder(len(l.stops)), note{of: OfJob, event: OrderEnds})
	} else {
		// Known before the hold goes on: a web that has not moved since it started rests there.
		var given bool
		if o.time, given = o.changeover(l); given {
			o.works = max(1, l.run.spec.Changeover.Operators)
		}
		l.holdOn(hChangeover(len(l.stops)), note{of: OfJob, event: OrderEnds})
		for range o.works {
			l.run.crew.call(l, TaskChangeover, 0)
		}
	}
	if l.resting {
		o.rested(l)
	}
}

// changeover draws what it takes to go over to the next order, s; false when the
// scenario says nothing of it.
func (o *orderClock) changeover(l *line) (seconds float64, given bool) {
	c := &l.run.spec.Changeover
	law, src := c.Time, &o.every
	if k := c.Pair(o.at.product, o.next.product); k >= 0 && c.Between[k].Time.Given() {
		law, src = c.Between[k].Time, &o.between[k][0]
	}
	if given = law.Given(); given {
		seconds = src.draw()
	}
	for i := range c.When {
		if w := &c.When[i]; w.Differs[o.at.product][o.next.product] {
			seconds, given = seconds+o.when[i].draw(), true
		}
	}
	return seconds, given
}

// scrapOf draws the scrap of the changeover to the next order, m.
func (o *orderClock) scrapOf(l *line) float64 {
	c := &l.run.spec.Changeover
	if k := c.Pair(o.at.product, o.next.product); k >= 0 && c.Between[k].Scrap.Given() {
		return o.between[k][1].draw()
	}
	return o.scrap.draw()
}

// rested is the end of the order: the web rests after its last metre. Where a break in
// the stop took some of its good web it goes on.
func (o *orderClock) rested(l *line) {
	if !o.due || o.ended {
		return
	}
	if o.lacks(l, l.P, 0, l.nearRest()) > 0 {
		o.short, l.stale = true, true
		return
	}
	o.ended, o.last = true, l.marks()
	if !o.none && !o.another(l) {
		o.scrapLength = o.scrapOf(l)
		l.scrap.claim(l.P, l.P+o.scrapLength, wChangeover)
	}
	if o.none || o.works == 0 {
		o.settle(l)
	}
}

// another says whether the next order runs from another web.
func (o *orderClock) another(l *line) bool {
	products := l.run.spec.Products
	return !products[o.at.product].SameStock(&products[o.next.product])
}

// changedOver is the end of the work of one operator on the changeover.
func (o *orderClock) changedOver(l *line) {
	if o.works--; o.works == 0 {
		o.settle(l)
	}
}

// settle goes over to the next order as soon as the stations stand. What they wait for
// is urgent now.
func (o *orderClock) settle(l *line) {
	o.settles, l.stale = true, true
	l.recount()
}

// settled says whether the stations that change with the order stand, so that rolls
// can be taken off.
func (o *orderClock) settled(l *line) bool {
	fits := o.none || l.wardrobe.of[o.next.product] == l.wardrobe.wears
	changes := [2]bool{!fits || !o.none && o.another(l), !fits || l.spec.Rewind.EndWithOrder}
	for i := range l.side {
		st := &l.side[i]
		if st.kind == model.None || !changes[i] {
			continue
		}
		if st.sync(); st.mode != locked || st.changing || st.cut {
			return false
		}
	}
	return true
}

// begins goes over to the next order, with the line at rest.
func (o *orderClock) begins(l *line) {
	w, ended := &l.side[1], false
	endsRoll := w.kind != model.None && l.spec.Rewind.EndWithOrder
	if endsRoll {
		ended = w.endWithOrder()
	}
	if o.lacks(l, l.P, 0, l.nearRest()) > 0 { // a roll was rejected since it came to rest
		if endsRoll {
			w.beginWithOrder(ended)
		}
		o.goOn(l)
		return
	}
	if o.settles = false; o.none {
		o.endsAll(l)
		return
	}
	u, other := &l.side[0], o.another(l)
	wasReady, lead, ahead := u.ready, 0.0, 0.0 // m in storage and path to run out before the order, and of the other web there already
	if other {
		ahead = o.takesOff(l)
	}
	o.finish(l)
	l.scrap.begin(l.P, o.next.product)
	o.due, o.ended, o.taken = false, false, false
	refit := l.dress(o.next.product)
	o.at = o.next
	if other {
		lead = threaded(l) - min(threaded(l), ahead) // of the product that is put on
		u.joinAhead(ahead)
		if wasReady { // it was the other web
			l.run.crew.call(l, u.tArm, 0)
		}
		l.scrap.claim(l.P, l.P+lead+o.scrapLength, wChangeover)
	} else if refit {
		u.refit()
	}
	switch {
	case endsRoll:
		w.beginWithOrder(ended)
	case refit && w.kind != model.None:
		w.refit()
	}
	o.least = l.P + lead + o.at.length
	o.end = o.least
	o.goesOver(l)
}

// endsAll ends the orders of the line: there is none left.
func (o *orderClock) endsAll(l *line) {
	o.finish(l)
	o.over = true
	if l.run.idle++; l.run.idle == len(l.run.lines) {
		l.run.over = true
	}
}

// takesOff takes the web off for another, of which so much is in the line already, m.
func (o *orderClock) takesOff(l *line) (ahead float64) {
	u := &l.side[0]
	if l.run.spec.Unwind.SpliceIn && u.kind != model.Manual {
		ahead = min(threaded(l), u.S-u.from)
	}
	u.takeOff(ahead)
	o.scrapLength = o.scrapOf(l)
	return ahead
}

// threaded is the web in storage and path, m.
func threaded(l *line) float64 {
	web := l.spec.Process.Path
	if u := &l.side[0]; u.zero() {
		web += u.M
	}
	return web
}

// goesOver ends the changeover: the order begins, or the line waits until it may be run.
func (o *orderClock) goesOver(l *line) {
	l.moved, l.stale = true, true
	if o.at.earliest > l.now {
		l.holdOn(hNoOrder(len(l.stops)), note{of: OfJob, event: WaitsForOrder})
		l.set(l.slotEarliest(), o.at.earliest)
	} else {
		o.mark.begin = l.now
	}
	l.holdOff(hChangeover(len(l.stops)), note{of: OfJob, event: OrderBegins})
}

// earliest is the time from which the order may be run.
func (o *orderClock) earliest(l *line) {
	o.mark.begin = l.now
	l.moved = true
	l.holdOff(hNoOrder(len(l.stops)), note{of: OfJob, event: OrderBegins})
}
