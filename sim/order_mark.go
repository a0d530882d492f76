package sim

// mark is what a line had come to at a moment.
type mark struct {
	hours
	begin                                float64 // s, from which the order runs
	processed, residual, finished, rolls float64
}

// hours are times of a line up to a moment, s.
type hours struct {
	time, running, ramping, slowed float64
	stoppedBy                      [maxHolds]float64
}

func (l *line) marks() mark {
	t := &l.tally
	return mark{hours: hours{l.now, t.running, t.ramping, t.slowed, t.stoppedBy},
		processed: l.P, residual: t.residual.value, finished: t.finished, rolls: t.side[0].made}
}

// since is what an order came to from one mark to this.
func (m *mark) since(from *mark, l *line, x inHand) *OrderRun {
	r := &OrderRun{Order: x.order, Product: x.product, Line: l.id, From: from.time, Begin: from.begin, End: m.time,
		Running: m.running - from.running, Ramping: m.ramping - from.ramping, Slowed: m.slowed - from.slowed,
		Residual:      m.residual - from.residual,
		FinishedRolls: float64(l.run.spec.Products[x.product].Line.Rewind.LaneCount()) * (m.finished - from.finished), RollChanges: m.rolls - from.rolls}
	r.Good, r.Scrap = l.scrap.ofOrder(len(l.scrap.orders)-1, l.P)
	for h := range l.run.names {
		r.StoppedBy = append(r.StoppedBy, m.stoppedBy[h]-from.stoppedBy[h])
	}
	return r
}

// produced is what a line made of one product.
type produced struct {
	time, processed, good, scrap, residual, finished, rolls float64

	wound float64 // m, what is good of the orders that are over in the roll that is being wound
}

func (p *produced) add(m, from *mark) {
	p.time += m.time - from.time
	p.processed += m.processed - from.processed
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
	StoppedBy                  []float64 // s, by cause, in the order of CausesOfStops
	Good, Scrap, Residual      float64   // m
	FinishedRolls, RollChanges float64
}

// finish closes the books of the order that has ended.
func (o *orderClock) finish(l *line) {
	m, from := l.marks(), o.mark
	m.hours = o.last.hours
	l.products[o.at.product].add(&m, &from)
	if f := l.run.orders; f != nil {
		f(m.since(&from, l, o.at))
	}
	o.mark, o.before = m, 0
	l.scrap.settle()
}

// cutWarmUp forgets what was made before.
func (o *orderClock) cutWarmUp(l *line) {
	clear(l.products) // what was good in the roll that is being wound is not taken back
	good, _ := l.scrap.ofOrder(len(l.scrap.orders)-1, l.P)
	o.before += good
	begin := o.mark.begin
	o.mark = l.marks()
	o.mark.begin = begin
	if o.ended {
		o.last.hours = o.mark.hours
	}
}

// produced is what the line made of each product so far. What a station still does when
// the last order is over is that order's, the time is nobody's.
func (o *orderClock) produced(l *line) []produced {
	list := append([]produced(nil), l.products...)
	m := l.marks()
	if o.over {
		m.hours = o.mark.hours
	}
	list[o.at.product].add(&m, &o.mark)
	for i := range l.scrap.orders {
		p := &list[l.scrap.orders[i].product]
		good, scrap := l.scrap.ofOrder(i, l.P)
		p.good, p.scrap = p.good+good, p.scrap+scrap
	}
	return list
}
