package plan

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"rollchange/model"
)

// search looks for a sequence of a list by what orders take in the mean: each a time of
// its own, and a changeover by the product before. Lines take the first order that is
// left for them, as in the simulation.
type search struct {
	target Target
	orders []model.Order
	takes  []float64   // s, of each order
	change [][]float64 // s, by product and product
	lines  int
	kept   []bool // by order: it stays at its place

	free   []bool    // scratch
	until  []float64 // scratch, by line
	before []int     // scratch, product of each line
	tried  int
	ended  func() bool // the search is to end at once; may be nil
}

// goesOn says whether so many sequences are not tried yet and nobody has ended the search.
func (s *search) goesOn(most int) bool { return s.tried < most && (s.ended == nil || !s.ended()) }

// value is what a sequence comes to.
func (s *search) value(seq []int) value {
	s.tried++
	if s.lines == 1 {
		return s.ofOneLine(seq)
	}
	late, change, done := 0.0, 0.0, 0.0
	for i := range s.lines {
		s.until[i], s.before[i] = 0, -1
	}
	for i := range seq {
		s.free[i] = true
	}
	for left := len(seq); left > 0; {
		line := 0
		for i := range s.until {
			if s.until[i] < s.until[line] {
				line = i
			}
		}
		took := false
		for place, k := range seq {
			o := &s.orders[k]
			if !s.free[place] || o.Line != 0 && o.Line != line+1 {
				continue
			}
			c := 0.0
			if s.before[line] >= 0 {
				c = s.change[s.before[line]][o.Product]
			}
			end := math.Max(s.until[line]+c, o.Earliest) + s.takes[k]
			late += math.Max(0, end-o.Due)
			change += c
			done = math.Max(done, end)
			s.until[line], s.before[line], s.free[place], took = end, o.Product, false, true
			left--
			break
		}
		if !took {
			s.until[line] = math.Inf(1)
		}
	}
	return s.target.of(late, change, done)
}

func (s *search) ofOneLine(seq []int) value {
	late, change, now, before := 0.0, 0.0, 0.0, -1
	for _, k := range seq {
		o := &s.orders[k]
		if before >= 0 {
			c := s.change[before][o.Product]
			change += c
			now += c
		}
		now = math.Max(now, o.Earliest) + s.takes[k]
		late += math.Max(0, now-o.Due)
		before = o.Product
	}
	return s.target.of(late, change, now)
}

// places are where orders that are not kept may stand.
func (s *search) places(n int) []int {
	var list []int
	for i := range n {
		if !s.kept[i] {
			list = append(list, i)
		}
	}
	return list
}

// local is a local search from a sequence: the first move that is better is made,
// until there is none. A move takes up to three orders that follow each other to
// another place, or changes two.
func (s *search) local(seq []int, most int) value {
	best := s.value(seq)
	places := s.places(len(seq))
	m := len(places)
	try := make([]int, len(seq))
	for better := true; better && s.goesOn(most); {
		better = false
		for from := 0; from < m && s.goesOn(most); from++ {
			for to := 0; to < m; to++ {
				if to == from {
					continue
				}
				for block := 0; block <= 3; block++ {
					copy(try, seq)
					if !move(try, places, from, to, block) {
						continue
					}
					if v := s.value(try); v.below(best) {
						best, better = v, true
						copy(seq, try)
					}
				}
			}
		}
	}
	return best
}

// move changes two orders (block 0), or takes so many from a place to another, among
// the free places.
func move(seq, places []int, from, to, block int) bool {
	if block == 0 {
		if from > to {
			return false
		}
		a, b := places[from], places[to]
		seq[a], seq[b] = seq[b], seq[a]
		return true
	}
	if from+block > len(places) || to+block > len(places) || to >= from && to < from+block {
		return false
	}
	free := make([]int, len(places))
	for i, p := range places {
		free[i] = seq[p]
	}
	taken := slices.Clone(free[from : from+block])
	free = slices.Insert(slices.Delete(free, from, from+block), to, taken...)
	for i, p := range places {
		seq[p] = free[i]
	}
	return true
}

// starts are sequences to begin from: the list, by due time (Jackson 1955), by time
// that they take (Smith 1956), and by least changeover to the next.
func (s *search) starts(listed []int) [][]int {
	places := s.places(len(listed))
	by := func(key func(k int) float64) []int {
		seq, free := slices.Clone(listed), make([]int, len(places))
		for i, p := range places {
			free[i] = listed[p]
		}
		slices.SortStableFunc(free, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
		for i, p := range places {
			seq[p] = free[i]
		}
		return seq
	}
	list := [][]int{slices.Clone(listed),
		by(func(k int) float64 { return s.orders[k].Due }),
		by(func(k int) float64 { return s.takes[k] })}
	nearest := slices.Clone(listed)
	for i := range places {
		if places[i] == 0 {
			continue
		}
		before := s.orders[nearest[places[i]-1]].Product
		best := i
		for j := i; j < len(places); j++ {
			if s.change[before][s.orders[nearest[places[j]]].Product] < s.change[before][s.orders[nearest[places[best]]].Product] {
				best = j
			}
		}
		nearest[places[i]], nearest[places[best]] = nearest[places[best]], nearest[places[i]]
	}
	return append(list, nearest)
}

// best looks for the best sequence: local searches from several starts, and again from
// the best one with some orders moved by chance (iterated local search), as long as
// that helps.
func (s *search) best(listed []int, seed uint64, most int) ([]int, value) {
	var best []int
	var least value
	take := func(seq []int, v value) bool {
		if best == nil || v.below(least) {
			best, least = append(best[:0], seq...), v
			return true
		}
		return false
	}
	for _, seq := range s.starts(listed) {
		take(seq, s.local(seq, most))
	}
	places := s.places(len(listed))
	if len(places) < 3 {
		return best, least
	}
	chance := rand.New(rand.NewPCG(seed, 0x1f83d9abfb41bd6b))
	seq := make([]int, len(listed))
	for vain := 0; vain < 60 && s.goesOn(most); vain++ {
		copy(seq, best)
		for range 2 + chance.IntN(3) {
			a, b := places[chance.IntN(len(places))], places[chance.IntN(len(places))]
			seq[a], seq[b] = seq[b], seq[a]
		}
		if take(seq, s.local(seq, most)) {
			vain = -1
		}
	}
	return best, least
}
