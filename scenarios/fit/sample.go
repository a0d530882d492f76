package fit

import (
	"cmp"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
)

// sample is values as the likelihood needs them, above a least value: those alike
// together, and the sums that a law takes of exact ones.
type sample struct {
	from  float64 // shorter ones were not recorded, above the least value
	n     float64 // values
	ended float64 // of them not open

	exact   []row   // values, and intervals so narrow that the density at their middle tells their chance
	of      float64 // of them
	sum     float64
	meanLog float64
	squares float64 // of their logarithms about the mean
	ends    float64 // logarithms of the widths
	bends   bends

	edges []float64 // where the other intervals begin and end
	cells []cell
	tails [][2]float64 // of the curve at the edges

	mean, log, sdLog float64 // of the middles, to start from

	gain float64 // of likelihood, below which a maximum is found
}

// What a last step gains: of a fit, and of one of the many that another is judged by.
const (
	sure   = 1e-9
	nearly = 1e-5
)

// row is an exact value, or the middle of a narrow interval, and how often it is there.
type row struct{ x, log, n, width float64 }

// cell is an interval between two edges, the last to infinity, and how many values
// lie in it.
type cell struct {
	low, high int
	n         float64
}

// span is what a value may have been.
type span struct{ low, high float64 }

// spans are the values that may have been recorded, sorted, and how many those are
// that may not: below what was said to be the least recorded.
func spans(values []Value, from float64) (list []span, below int) {
	list = make([]span, 0, len(values))
	for _, v := range values {
		s := span{v.low(), v.high()}
		if s.high < from || s.high == from && s.low < from {
			below++
			continue
		}
		s.low = max(s.low, from)
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b span) int {
		if d := cmp.Compare(a.low, b.low); d != 0 {
			return d
		}
		return cmp.Compare(a.high, b.high)
	})
	return list, below
}

// newSample gathers spans above a least value.
func newSample(list []span, from, least float64) *sample {
	s := &sample{from: from - least, n: float64(len(list)), gain: sure}
	var groups []row
	var sumLog, sumSquare, squares float64
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j] == list[i] {
			j++
		}
		n, low, high := float64(j-i), list[i].low-least, list[i].high-least
		i = j
		mid := (low + high) / 2
		if math.IsInf(high, 1) {
			mid = low
		} else {
			s.ended += n
		}
		l := portable.Log(max(mid, math.SmallestNonzeroFloat64))
		groups = append(groups, row{mid, l, n, high - low})
		s.mean += n * mid / s.n
		squares += n * mid * mid / s.n
		sumLog, sumSquare = sumLog+n*l, sumSquare+n*l*l
	}
	s.log = sumLog / s.n
	s.sdLog = math.Sqrt(max(1e-12, sumSquare/s.n-s.log*s.log))
	sd := math.Sqrt(max(0, squares-s.mean*s.mean))
	s.exact = groups[:0] // each is read before its place is taken
	i := 0
	for _, g := range groups {
		if g.width == 0 || g.width <= narrow*min(g.x, sd) {
			s.take(g)
		} else {
			s.edges = append(s.edges, list[i].low-least, list[i].high-least)
			s.cells = append(s.cells, cell{n: g.n})
		}
		i += int(g.n)
	}
	if s.of > 0 {
		s.meanLog /= s.of
		for _, r := range s.exact {
			s.squares += r.n * (r.log - s.meanLog) * (r.log - s.meanLog)
		}
	}
	s.index()
	return s
}

// take adds an exact value or a narrow interval.
func (s *sample) take(r row) {
	s.exact = append(s.exact, r)
	s.of, s.sum, s.meanLog = s.of+r.n, s.sum+r.n*r.x, s.meanLog+r.n*r.log
	if r.width > 0 {
		s.ends += r.n * portable.Log(r.width)
		s.bends.take(r)
	}
}

// index sorts the edges, each once, and says which ones each cell has.
func (s *sample) index() {
	ends := s.edges
	s.edges = slices.Compact(slices.Sorted(slices.Values(ends)))
	for i := range s.cells {
		s.cells[i].low, _ = slices.BinarySearch(s.edges, ends[2*i])
		s.cells[i].high, _ = slices.BinarySearch(s.edges, ends[2*i+1])
	}
	s.tails = make([][2]float64, len(s.edges))
}

// likelihood is the logarithm of the likelihood of a curve: densities of exact
// values, chances of intervals, and all given that they were long enough to be
// recorded.
func (s *sample) likelihood(c curve) float64 {
	sum := s.density(c)
	for i, x := range s.edges {
		s.tails[i][0], s.tails[i][1] = c.tails(x)
	}
	for _, k := range s.cells {
		sum += k.n * c.chance(s.edges[k.low], s.edges[k.high], s.tails[k.low], s.tails[k.high])
	}
	if s.from > 0 {
		sum -= s.n * c.logUpper(s.from)
	}
	return sum
}

// density is the part of the exact values and the narrow intervals, by their sums where
// those suffice.
func (s *sample) density(c curve) float64 {
	if s.of == 0 {
		return 0
	}
	bend := s.bends.of(c, s.exact)
	if math.Abs(bend) > mostBent*s.of {
		return math.Inf(-1)
	}
	return s.ends + bend + s.heights(c)
}

// heights is the sum of the logarithms of the densities.
func (s *sample) heights(c curve) float64 {
	sumLog := s.of * s.meanLog
	switch c.law {
	case model.Exponential:
		return -s.of*portable.Log(c.a) - s.sum/c.a
	case model.Lognormal:
		off := s.meanLog - c.a
		return -sumLog - s.of*portable.Log(c.b*math.Sqrt(2*math.Pi)) - (s.squares+s.of*off*off)/(2*c.b*c.b)
	case model.Gamma:
		return (c.a-1)*sumLog - s.sum/c.b - s.of*(c.a*portable.Log(c.b)+c.lg)
	}
	l := portable.Log(c.b)
	sum := s.of*(portable.Log(c.a)-c.a*l) + (c.a-1)*sumLog
	for _, r := range s.exact {
		sum -= r.n * portable.Exp(c.a*(r.log-l))
	}
	return sum
}

// start is where the search for a maximum begins: by moments of the middles.
func (s *sample) start(law model.Law) point {
	switch law {
	case model.Exponential:
		return point{portable.Log(s.mean * s.n / max(1, s.ended))}
	case model.Lognormal:
		return point{s.log, portable.Log(s.sdLog)}
	case model.Weibull: // the logarithm has sd pi/sqrt(6)/shape and mean ln scale - 0.5772/shape
		wide := s.sdLog * math.Sqrt(6) / math.Pi
		return point{s.log + 0.5772*wide, -portable.Log(wide)}
	}
	// Minka, Estimating a Gamma distribution (2002): the root of ln k - digamma(k) = d, nearly.
	d := max(1e-9, portable.Log(s.mean)-s.log)
	return point{portable.Log(s.mean), portable.Log((3 - d + math.Sqrt((d-3)*(d-3)+24*d)) / (12 * d))}
}
