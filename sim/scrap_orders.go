package sim

// stretch is the web of one order: what is good of it and what scrap, before the edge.
// A later stop may make scrap of the web of an order that is over, and a finished roll
// that is rejected may hold web of several: each metre stays that of the order that it
// was made in.
type stretch struct {
	from               float64 // m, on the web; up to where the next begins
	product            int
	good, scrap, wound sum // m; wound is what is good of it in the roll that is being wound
}

// begin begins the web of an order at a place.
func (s *scrap) begin(at float64, product int) {
	s.orders = append(s.orders, stretch{from: at, product: product})
}

// overlap is how much of from..to is of an order, m.
func (s *scrap) overlap(i int, from, to float64) float64 {
	from = max(from, s.orders[i].from)
	if i+1 < len(s.orders) {
		to = min(to, s.orders[i+1].from)
	}
	return max(0, to-from)
}

// passOrders adds good web from..to to its orders.
func (s *scrap) passOrders(from, to float64) {
	for i := range s.orders {
		if x := s.overlap(i, from, to); x > 0 {
			s.orders[i].good.add(x)
			if x = s.overlap(i, max(from, s.roll), to); x > 0 {
				s.orders[i].wound.add(x)
			}
		}
	}
}

// wasteOrders adds scrap from..to to its orders.
func (s *scrap) wasteOrders(from, to float64) {
	for i := range s.orders {
		if x := s.overlap(i, from, to); x > 0 {
			s.orders[i].scrap.add(x)
		}
	}
}

// endRollOrders ends the roll that is being wound.
func (s *scrap) endRollOrders(rejected bool) {
	for i := range s.orders {
		if x := &s.orders[i]; rejected {
			x.good.add(-x.wound.value)
			x.scrap.add(x.wound.value)
		}
		s.orders[i].wound = sum{}
	}
	for i := range s.products {
		if x := &s.products[i]; rejected {
			x.good -= x.wound
			x.scrap += x.wound
		}
		s.products[i].wound = 0
	}
}

// settle adds the orders that lie before the edge to their products.
func (s *scrap) settle() {
	n := 0
	for n+1 < len(s.orders) && s.orders[n+1].from <= s.edge {
		n++
	}
	for i := range s.orders[:n] {
		x := &s.orders[i]
		p := &s.products[x.product]
		p.good, p.scrap, p.wound = p.good+x.good.value, p.scrap+x.scrap.value, p.wound+x.wound.value
	}
	s.orders = s.orders[:copy(s.orders, s.orders[n:])]
}

// open is the place from which on the web of an order is not added up yet.
func (s *scrap) open(i int) float64 { return max(s.edge, s.floor, s.orders[i].from) }

// ofOrder is what is good of an order up to a place, and what scrap.
func (s *scrap) ofOrder(i int, end float64) (good, waste float64) {
	good, waste = s.orders[i].good.value, s.orders[i].scrap.value
	at := s.open(i)
	first := len(s.spans) // of the spans that reach into it
	for first > s.first && s.spans[first-1].to > at {
		first--
	}
	for _, x := range s.spans[first:] {
		from, to := max(x.from, s.floor), min(x.to, end)
		if to > from {
			good += s.overlap(i, at, from)
			waste += s.overlap(i, from, to)
			at = max(at, to)
		}
	}
	return good + s.overlap(i, at, end), waste
}

// reach is the place on the web up to which there are so many good metres from a place
// on, as far as the scrap is known.
func (s *scrap) reach(from, good float64) float64 {
	for _, x := range s.spans[s.first:] {
		if x.to <= from {
			continue
		}
		if gap := x.from - from; gap > 0 {
			if good <= gap {
				break
			}
			good -= gap
		}
		from = x.to
	}
	return from + good
}
