package sim

import "rollchange/sim/metric"

// wasteClass is the cause that web is scrap for.
type wasteClass uint8

const (
	wSplice wasteClass = iota
	wRestart
	wWebBreak
	wStop
	wTransfer
	wChangeover
	wRejected
	wasteClasses
)

// wasteNames are the metrics of the classes, in their order.
var wasteNames = [wasteClasses]string{metric.WasteSplice, metric.WasteRestart, metric.WasteWebBreak,
	metric.WasteStop, metric.WasteTransfer, metric.WasteChangeover, metric.WasteRejected}

// span is a stretch of web in metres at the process point, scrap of one class.
type span struct {
	from, to float64
	class    wasteClass
}

// mostSpans is how many spans are kept. Only a stop scrap that reaches back over
// so many causes could ever be asked about more.
const mostSpans = 4096

// scrap is the web that is waste, and the web that is not: spans that never
// overlap, in order along the web from 0 on. A metre belongs to the cause that
// claimed it first. What no later cause can reach is added up and forgotten, so
// the list stays short however long the run, and however long a finished roll:
// of the roll that is being wound only its good web is kept, since that is what
// its rejection would turn into scrap.
//
// Good web is added up on its own, stretch by stretch between the spans, so that
// good and scrap together are a check on the web processed.
type scrap struct {
	spans []span
	first int // spans[:first] are retired
	total [wasteClasses]sum
	good  sum     // m, of web before edge
	floor float64 // web before this does not count (warm-up)
	edge  float64 // nothing before this can be claimed any more
	roll  float64 // where the finished roll that is being wound begins
	wound sum     // m, good web of it before edge

	orders   []stretch // of the web that may still change; none without orders
	products []produced
}

// claim makes the web from..to scrap of a class, where it is not scrap yet.
func (s *scrap) claim(from, to float64, class wasteClass) {
	if from < s.edge {
		from = s.edge
	}
	if !(to > from) {
		return
	}
	i := len(s.spans)
	for i > s.first && s.spans[i-1].to > from {
		i--
	}
	// Invariant: everything before spans[i] ends at or before from.
	for ; i < len(s.spans) && from < to; i++ {
		next := s.spans[i]
		if next.from >= to {
			break
		}
		if next.from > from {
			s.insert(i, span{from, next.from, class})
			i++
		}
		if next.to > from {
			from = next.to
		}
	}
	if from >= to {
		return
	}
	if i > s.first && s.spans[i-1].to == from && s.spans[i-1].class == class {
		s.spans[i-1].to = to // a line that starts and stops in steps of a millimetre claims on and on
		return
	}
	s.insert(i, span{from, to, class})
}

func (s *scrap) insert(i int, x span) {
	s.spans = append(s.spans, span{})
	copy(s.spans[i+1:], s.spans[i:])
	s.spans[i] = x
}

// retire adds up the web before edge, and more of it, up to the place, where too
// many spans are kept.
func (s *scrap) retire(edge, place float64) {
	if n := len(s.spans) - mostSpans; n > s.first {
		edge = larger(edge, smaller(place, s.spans[n-1].to))
	}
	if !(edge > s.edge) {
		return
	}
	for s.first < len(s.spans) && s.spans[s.first].from < edge {
		x := &s.spans[s.first]
		s.pass(x.from)
		to := smaller(x.to, edge)
		if from := larger(s.edge, s.floor); to > from {
			s.total[x.class].add(to - from)
			s.wasteOrders(from, to)
		}
		s.edge = larger(s.edge, to)
		if x.to > edge {
			x.from = edge
			break
		}
		s.first++
	}
	s.pass(edge)
	if s.first > 32 && s.first > len(s.spans)/2 {
		s.spans = s.spans[:copy(s.spans, s.spans[s.first:])]
		s.first = 0
	}
}

// pass adds up the web from the edge to the place, which is good.
func (s *scrap) pass(to float64) {
	if from := larger(s.edge, s.floor); to > from {
		s.good.add(to - from)
		s.passOrders(from, to)
		if from = larger(from, s.roll); to > from {
			s.wound.add(to - from)
		}
	}
	s.edge = larger(s.edge, to)
}

// endRoll ends the finished roll at a place on the web. When it is rejected, what
// is good of it becomes scrap.
func (s *scrap) endRoll(to float64, rejected bool) {
	if rejected {
		s.good.add(-s.wound.value)
		s.total[wRejected].add(s.wound.value)
		s.claim(s.roll, to, wRejected)
	}
	s.endRollOrders(rejected)
	s.roll, s.wound = to, sum{}
}

// restart forgets what was added up: only web from floor on counts.
func (s *scrap) restart(floor float64) {
	s.total = [wasteClasses]sum{}
	s.good, s.wound, s.floor = sum{}, sum{}, floor
	for i := range s.orders {
		x := &s.orders[i]
		x.good, x.scrap, x.wound = sum{}, sum{}, sum{}
	}
}

// until returns the scrap by class, and the good web, from the floor to the given
// place, what is retired and what is not.
func (s *scrap) until(end float64) (classes [wasteClasses]float64, good float64) {
	for c := range classes {
		classes[c] = s.total[c].value
	}
	good = s.good.value
	at := max(s.edge, s.floor)
	for _, x := range s.spans[s.first:] {
		from, to := max(x.from, s.floor), min(x.to, end)
		if to > from {
			good += max(0, from-at)
			classes[x.class] += to - from
			at = to
		}
	}
	return classes, good + max(0, end-at)
}
