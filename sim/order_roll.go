package sim

import (
	"rollchange/model"
)

// takesOrders gives a line its orders.
func (l *line) takesOrders(from streams) {
	l.slots = append(l.slots, never)
	l.products = make([]produced, len(l.spec.Products))
	l.scrap.products = l.products
	l.order.build(l, func(d model.Dist, name string) source {
		return from.source(d, sourceName(name, l.id))
	})
	l.furnish(from)
	l.order.start(l)
}

// stocksOf numbers the stocks that products run from, and makes room for their part
// rolls.
func stocksOf(products []model.Product) (of []int, rolls [][]float64) {
	for i := range products {
		at := len(rolls)
		for k := range i {
			if products[k].SameStock(&products[i]) {
				at = of[k]
				break
			}
		}
		if at == len(rolls) {
			rolls = append(rolls, nil)
		}
		of = append(of, at)
	}
	return of, rolls
}

// leastPartRoll is the web that a part roll of a stock must have to be put on again, m:
// the residual, and what the line and the station need to come to rest, for any of its
// products.
func (l *line) leastPartRoll(stock int) float64 {
	most := 0.0
	for i, of := range l.run.stocks {
		if of != stock {
			continue
		}
		p, f := l.run.spec.Products[i].Line, &l.wardrobe.outfits[l.wardrobe.of[i]].side[0]
		least := p.Unwind.Residual + max(0, p.Unwind.ResidualError.Mean()) + model.StoppingLength(p.Process.Speed, p.Process.Decel)
		if p.Unwind.Change.Stores() {
			least += model.StoppingLength(f.max, min(f.dec, f.decTarget))
		}
		most = max(most, least)
	}
	return most + 1
}

// takeOff takes the roll off the unwind because the next order runs from another
// stock: back to stock, or to waste where too little is left of it.
//
// Where the other web was spliced in early, ahead m of it are in storage and path
// already, and the roll has so much more left.
func (st *station) takeOff(ahead float64) {
	l := st.l
	l.run.crew.cancel(l, st.tChange)
	l.run.crew.cancel(l, st.tJoin)
	st.end = max(st.end, st.S)
	left := st.end - st.S + ahead
	l.tally.mounted.add(st.end - st.from)
	stock := l.run.stocks[l.order.at.product]
	switch reuse := l.spec.Unwind.Reuse; {
	case !reuse:
		l.tally.returned.add(left)
		l.tally.returns++
	case left < l.leastPartRoll(stock):
		l.tally.residual.add(left)
	default:
		l.tally.returned.add(left)
		l.tally.returns++
		l.run.stock[stock] = append(l.run.stock[stock], left)
	}
	st.counted, st.failed, st.ranOut = false, false, false // of a splice that is not made
}

// partRoll takes a part roll of the stock that the order runs from; false when there
// is none.
func (l *line) partRoll() (length float64, ok bool) {
	if !l.order.on || !l.spec.Unwind.Reuse {
		return 0, false
	}
	rolls := &l.run.stock[l.run.stocks[l.order.at.product]]
	n := len(*rolls)
	if n == 0 {
		return 0, false
	}
	length = (*rolls)[n-1]
	*rolls = (*rolls)[:n-1]
	l.tally.reused++
	return length, true
}

// endWithOrder ends the finished roll where the winder stands. However short it is:
// it is the last of its order. False for a core that has hardly any web: it stays.
func (st *station) endWithOrder() bool {
	l := st.l
	st.sync()
	l.run.crew.cancel(l, st.tChange)
	if st.S-st.from <= model.LeastLength {
		return false
	}
	st.closeFinishedRoll(0)
	l.run.crew.setFinished(l)
	st.from = st.S
	return true
}

// beginWithOrder begins a finished roll of the next order, on another core where the
// last roll ended with its order.
func (st *station) beginWithOrder(another bool) {
	l := st.l
	l.tally.finishedLength.add(st.S - st.from)
	ready := st.ready
	st.onTime()
	st.counted, st.failed, st.ranOut = false, false, false
	st.startFinishedRoll(st.S)
	switch {
	case !another:
		st.ready = ready
	case ready: // it is the core that was
		l.run.crew.call(l, st.tArm, 0)
	}
	st.touch()
}

// refit makes a roll that stays on one of the product that runs now, where the laws of
// that are others: what chance says of the change that ends it is drawn anew. It rests.
func (st *station) refit() {
	l := st.l
	w := &l.wardrobe
	old, now := &w.outfits[w.wore], &w.outfits[w.wears]
	for i, src := range w.slots {
		if old.owner[i] == now.owner[i] {
			continue
		}
		switch src {
		case &st.dwells:
			st.dwell = src.draw()
		case &st.scraps:
			st.scrapLength = src.draw()
		}
	}
	a, b := old.spec, now.spec
	if st.which == 0 {
		if old.side[0].breakShare != st.breakShare {
			st.willPart = st.partings.chance() < st.breakShare
		}
		st.target += a.Unwind.Residual - b.Unwind.Residual
		if st.kind != model.Flying {
			st.lateBy = b.Unwind.Residual - b.Unwind.ResidualLeast
		}
		st.touch()
		return
	}
	st.lateBy = b.Rewind.Overrun
	if x, y := &a.Rewind, &b.Rewind; x.Trigger != y.Trigger || x.Roll.ByDiameter != y.Roll.ByDiameter || x.Roll.Core != y.Roll.Core ||
		!x.Roll.Length.Equal(y.Roll.Length) || !x.Roll.Diameter.Equal(y.Roll.Diameter) || y.Roll.ByDiameter && a.Web.Caliper != b.Web.Caliper {
		l.wind(l.woundAt(st.S))
		st.end = st.from + st.drawLength(&y.Roll)
		st.onTime()
		st.late = false
		st.aim()
	}
	st.touch()
}

// joinAhead begins a roll of the web of the next order, of which so much has been
// unwound already: it was spliced in early.
func (st *station) joinAhead(ahead float64) {
	if ahead == 0 {
		st.joinParentRoll(WithNewOrder)
		return
	}
	l := st.l
	at, parts, scrapLength := l.P+st.M+l.spec.Process.Path-ahead, st.willPart, st.scrapLength
	st.startParentRoll(st.S - ahead)
	st.end = max(st.end, st.S) // a roll that short is taken to be just long enough
	l.newSplice(max(at, l.P), parts, scrapLength)
	l.logNote(note{of: OfUnwind, event: NewRoll, cause: WithNewOrder})
}
