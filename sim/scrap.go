package sim

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
var wasteNames = [wasteClasses]string{"waste.splice", "waste.restart", "waste.web_break",
	"waste.stop", "waste.transfer", "waste.changeover", "waste.rejected"}

// span is a stretch of web in metres at the process point, scrap of one class.
type span struct {
	from, to float64
	class    wasteClass
}

// scrap is the web that is waste: spans that never overlap, in order along the
// web. A metre belongs to the cause that claimed it first. Spans that no later
// cause can reach are added up and forgotten, so the list stays short however
// long the run.
type scrap struct {
	spans []span
	first int // spans[:first] are retired
	total [wasteClasses]float64
	floor float64 // web before this does not count (warm-up)
	edge  float64 // nothing before this can be claimed any more
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
	if from < to {
		s.insert(i, span{from, to, class})
	}
}

func (s *scrap) insert(i int, x span) {
	s.spans = append(s.spans, span{})
	copy(s.spans[i+1:], s.spans[i:])
	s.spans[i] = x
}

// retire adds up the spans that end at or before edge.
func (s *scrap) retire(edge float64) {
	if edge > s.edge {
		s.edge = edge
	}
	for s.first < len(s.spans) && s.spans[s.first].to <= s.edge {
		x := s.spans[s.first]
		s.first++
		if x.from < s.floor {
			x.from = s.floor
		}
		if x.to > x.from {
			s.total[x.class] += x.to - x.from
		}
	}
	if s.first > 32 && s.first > len(s.spans)/2 {
		s.spans = s.spans[:copy(s.spans, s.spans[s.first:])]
		s.first = 0
	}
}

// restart forgets what was added up: only web from floor on counts.
func (s *scrap) restart(floor float64) {
	s.total = [wasteClasses]float64{}
	s.floor = floor
}

// until returns the scrap by class from the floor to the given place, what is
// retired and what is not.
func (s *scrap) until(end float64) [wasteClasses]float64 {
	sum := s.total
	for _, x := range s.spans[s.first:] {
		from, to := max(x.from, s.floor), min(x.to, end)
		if to > from {
			sum[x.class] += to - from
		}
	}
	return sum
}
