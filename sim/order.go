package sim

import (
	"fmt"

	"rollchange/model"
)

// orderClock is the orders of one line: the one that it runs, and how it goes over
// to the next.
//
// An order ends with the web at rest. The changeover follows; where it leaves a
// station that still moves (a storage that refills, a roll that is changed) the next
// order waits for that too. Then the finished roll ends, the line becomes one for
// the product of the order, and another web is put on where it needs one.
type orderClock struct {
	on      bool
	due     bool    // the line stops, or stands, for the end of the order
	ended   bool    // it is at rest, and the order ended
	settles bool    // the changeover is made
	none    bool    // there is no order left
	end     float64 // in processed length
	before  float64 // m, good web of it made before the warm-up ended
	at      inHand
	next    inHand
	works   int     // operators who still work on the changeover
	time    float64 // s, that each of them needs
	mark    mark    // as the order before ended
	over    mark    // as this one ended

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

// mark is what a line had come to at a moment.
type mark struct {
	hours
	begin                                             float64 // s, from which the order runs
	processed, good, scrap, residual, finished, rolls float64
}

// hours are times of a line up to a moment, s.
type hours struct {
	time, running, ramping, slowed float64
	stoppedBy                      [maxHolds]float64
}

func (l *line) marks() mark {
	t := &l.tally
	m := mark{hours: hours{l.now, t.running, t.ramping, t.slowed, t.stoppedBy},
		processed: l.P, residual: t.residual.value, finished: t.finished, rolls: t.side[0].made}
	scrap, good := l.scrap.until(l.P)
	m.good = good
	for _, x := range scrap {
		m.scrap += x
	}
	return m
}

// since is what an order came to from one mark to this.
func (m *mark) since(from *mark, l *line, x inHand) *OrderRun {
	r := &OrderRun{Order: x.order, Product: x.product, Line: l.id, From: from.time, Begin: from.begin, End: m.time,
		Running: m.running - from.running, Ramping: m.ramping - from.ramping, Slowed: m.slowed - from.slowed,
		Good: m.good - from.good, Scrap: m.scrap - from.scrap, Residual: m.residual - from.residual,
		FinishedRolls: m.finished - from.finished, RollChanges: m.rolls - from.rolls}
	for h := range l.run.names {
		r.StoppedBy = append(r.StoppedBy, m.stoppedBy[h]-from.stoppedBy[h])
	}
	return r
}

// produced is what a line made of one product.
type produced struct {
	time, processed, good, scrap, residual, finished, rolls float64
}

func (p *produced) add(m, from *mark) {
	p.time += m.time - from.time
	p.processed += m.processed - from.processed
	p.good += m.good - from.good
	p.scrap += m.scrap - from.scrap
	p.residual += m.residual - from.residual
	p.finished += m.finished - from.finished
	p.rolls += m.rolls - from.rolls
}

// OrderRun is one order as one replication ran it.
type OrderRun struct {
	Order   int // in the list; -1: of a mix
	Product int
	Line    int
	From    float64 // s, the end of the order before: what comes then is for this one
	Begin   float64 // s, the web of the order begins to run
	End     float64 // s, the web rests after its last metre

	Running, Ramping, Slowed   float64   // s, from From to End
	StoppedBy                  []float64 // s, by hold (StopsOf the line)
	Good, Scrap, Residual      float64   // m
	FinishedRolls, RollChanges float64
}

// buildOrders prepares the sources of a line's orders.
func (o *orderClock) build(l *line, src func(model.Dist, string) source) {
	spec := l.spec
	o.on = true
	c := &spec.Changeover
	o.every, o.scrap = src(c.Time, "jobs.changeover"), src(c.Scrap, "jobs.scrap")
	for i, b := range c.Between {
		o.between = append(o.between, [2]source{src(b.Time, fmt.Sprintf("changeover.between[%d].time", i)), src(b.Scrap, fmt.Sprintf("changeover.between[%d].scrap", i))})
	}
	for i, w := range c.When {
		o.when = append(o.when, src(w.Adds, fmt.Sprintf("changeover.when[%d].adds", i)))
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
	if ok {
		o.at = first
		l.dress(first.product)
		l.p, l.target = l.spec.Process.Speed, l.spec.Process.Speed
		o.end = first.length
	}
	if o.none = !ok; o.none {
		l.run.idle++
		o.due, o.ended = true, true
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
	if o.on && !o.due {
		l.slots[l.slotJob()] = l.foreseen(o.end - l.P)
	}
}

// fire is the moment at which the line begins to stop for the end of the order, or
// finds that it has not made enough good web.
func (o *orderClock) fire(l *line) {
	l.moved = true
	if l.run.spec.Orders.Good {
		_, good := l.scrap.until(o.end)
		if short := o.at.length - o.before - (good - o.mark.good); short > 1e-6 {
			o.end += short
			return
		}
	}
	o.due = true
	next, ok := o.take(l)
	o.next, o.none = next, !ok
	if !ok {
		l.holdOn(hNoOrder(len(l.stops)), note{of: OfJob, event: OrderEnds})
	} else {
		c := &l.run.spec.Changeover
		l.holdOn(hChangeover(len(l.stops)), note{of: OfJob, event: OrderEnds})
		if o.time, ok = o.changeover(l); ok {
			o.works = max(1, c.Operators)
			for range o.works {
				l.run.crew.call(l, TaskChangeover, 0)
			}
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
	for i := range c.Between {
		if b := &c.Between[i]; b.From == o.at.product && b.To == o.next.product && b.Time.Given() {
			law, src = b.Time, &o.between[i][0]
		}
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
	for i := range c.Between {
		if b := &c.Between[i]; b.From == o.at.product && b.To == o.next.product && b.Scrap.Given() {
			return o.between[i][1].draw()
		}
	}
	return o.scrap.draw()
}

// rested is the end of the order: the web rests after its last metre.
func (o *orderClock) rested(l *line) {
	if !o.due || o.ended {
		return
	}
	o.ended, o.over = true, l.marks()
	switch {
	case o.none:
		o.finish(l)
		if l.run.idle++; l.run.idle == len(l.run.lines) {
			l.run.over = true
		}
	case o.works == 0:
		o.settles, l.stale = true, true
	}
}

// changedOver is the end of the work of one operator on the changeover.
func (o *orderClock) changedOver(l *line) {
	if o.works--; o.works == 0 {
		o.settles, l.stale = true, true
	}
}

// settled says whether both stations stand, so that rolls can be taken off.
func (l *line) settled() bool {
	for i := range l.side {
		st := &l.side[i]
		if st.kind == model.None {
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
	u := &l.side[0]
	products := l.run.spec.Products
	other := !products[o.at.product].SameStock(&products[o.next.product])
	wasReady := u.ready
	if other {
		u.takeOff()
	}
	another := o.finish(l)
	o.due, o.ended, o.settles = false, false, false
	scrap := o.scrapOf(l)
	l.dress(o.next.product)
	o.at = o.next
	lead := 0.0
	if other {
		lead = l.spec.Process.Path
		if u.zero() {
			lead += u.M
		}
		u.joinParentRoll(WithNewOrder)
		if wasReady { // it was the other web
			l.run.crew.call(l, u.tArm, 0)
		}
	}
	if st := &l.side[1]; st.kind != model.None && l.spec.Rewind.EndWithOrder {
		st.beginWithOrder(another)
	}
	l.scrap.claim(l.P, l.P+lead+scrap, wChangeover)
	o.end = l.P + lead + o.at.length
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

// finish closes the books of the order that has ended, and says whether its last
// finished roll ended with it.
func (o *orderClock) finish(l *line) (ended bool) {
	if st := &l.side[1]; st.kind != model.None && l.spec.Rewind.EndWithOrder {
		ended = st.endWithOrder()
	}
	m, from := l.marks(), o.mark
	m.hours = o.over.hours
	l.products[o.at.product].add(&m, &from)
	if f := l.run.orders; f != nil {
		f(m.since(&from, l, o.at))
	}
	o.mark, o.before = m, 0
	return ended
}

// cutWarmUp forgets what was made before.
func (o *orderClock) cutWarmUp(l *line, good float64) {
	clear(l.products)
	o.before += good - o.mark.good
	begin := o.mark.begin
	o.mark = l.marks()
	o.mark.begin = begin
}

// produced is what the line made of each product so far.
func (o *orderClock) produced(l *line) []produced {
	list := append([]produced(nil), l.products...)
	if !o.none {
		m := l.marks()
		list[o.at.product].add(&m, &o.mark)
	}
	return list
}
