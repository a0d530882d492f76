package sim

import (
	"rollchange/model"
)

// takesOrders gives a line its orders.
func (l *line) takesOrders(from streams) {
	l.slots = append(l.slots, never)
	l.products = make([]produced, len(l.spec.Products))
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

// leastPartRoll is the web that a part roll must have to be put on again, m: the
// residual, and what the line and the station need to come to rest.
func (st *station) leastPartRoll() float64 {
	spec := st.l.spec
	v := spec.Process.Speed
	least := spec.Unwind.Residual + max(0, st.err.mean) + model.StoppingLength(v, spec.Process.Decel)
	if st.zero() {
		least += model.StoppingLength(st.max, min(st.dec, st.decTarget))
	}
	return least + 1
}

// takeOff takes the roll off the unwind because the next order runs from another
// stock: back to stock, or to waste where too little is left of it.
func (st *station) takeOff() {
	l := st.l
	l.run.crew.cancel(l, st.tChange)
	l.run.crew.cancel(l, st.tJoin)
	st.end = max(st.end, st.S)
	left := st.end - st.S
	l.tally.mounted.add(st.end - st.from)
	if reuse := l.spec.Unwind.Reuse; reuse && left < st.leastPartRoll() {
		l.tally.residual.add(left)
	} else {
		l.tally.returned.add(left)
		if reuse {
			at := l.run.stocks[l.order.at.product]
			l.run.stock[at] = append(l.run.stock[at], left)
		}
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
	if st.S-st.from <= model.LeastLength {
		return false
	}
	l.run.crew.cancel(l, st.tChange)
	st.closeFinishedRoll(0)
	l.run.crew.rollFinished(l)
	st.from = st.S
	return true
}

// beginWithOrder begins a finished roll of the next order, on another core where the
// last roll ended with its order.
func (st *station) beginWithOrder(another bool) {
	l := st.l
	l.tally.finishedLength.add(st.S - st.from)
	ready := st.ready
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
