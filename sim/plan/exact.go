package plan

import "math"

// mostExact is how many orders a sequence may have for the least changeover to be found
// without doubt.
const mostExact = 12

// leastChangeover is a sequence of one line with the least time of changeovers, s: the
// shortest path through all orders by dynamic programming over sets of them (Held and
// Karp, J. SIAM 10 (1962) 196). Orders that are kept stay at their places.
func (s *search) leastChangeover(listed []int) ([]int, float64) {
	n := len(listed)
	sets := 1 << n
	least := make([]float64, sets*n)
	from := make([]int8, sets*n)
	for i := range least {
		least[i] = math.Inf(1)
	}
	fits := func(i, place int) bool { return !s.kept[place] && !s.kept[i] || i == place }
	for i := range n {
		if fits(i, 0) {
			least[(1<<i)*n+i] = 0
		}
	}
	for set, place := 1, 0; set < sets; set++ {
		place = 0
		for x := set; x > 0; x &= x - 1 {
			place++ // of the order that comes next
		}
		if place == n {
			break
		}
		for last := range n {
			so := least[set*n+last]
			if math.IsInf(so, 1) {
				continue
			}
			for next := range n {
				if set&(1<<next) != 0 || !fits(next, place) {
					continue
				}
				at := (set|1<<next)*n + next
				if c := so + s.change[s.orders[listed[last]].Product][s.orders[listed[next]].Product]; c < least[at] {
					least[at], from[at] = c, int8(last)
				}
			}
		}
	}
	last := 0
	for i := range n {
		if least[(sets-1)*n+i] < least[(sets-1)*n+last] {
			last = i
		}
	}
	total := least[(sets-1)*n+last]
	seq := make([]int, n)
	for set, place := sets-1, n-1; place >= 0; place-- {
		seq[place] = listed[last]
		before := int(from[set*n+last])
		set &^= 1 << last
		last = before
	}
	return seq, total
}
