package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// listOf is a list of n orders, each of a product of its own, with changeovers between
// all pairs by chance.
func listOf(n int, c *rand.Rand) (*search, []int) {
	s := &search{target: Changeover, orders: make([]model.Order, n), takes: make([]float64, n), lines: 1, kept: make([]bool, n),
		free: make([]bool, n), until: make([]float64, 1), before: make([]int, 1)}
	listed := make([]int, n)
	for i := range listed {
		listed[i] = i
		s.orders[i] = model.Order{Product: i, Due: model.NotDue}
		s.takes[i] = 100 + 1000*c.Float64()
		row := make([]float64, n)
		for k := range row {
			row[k] = 10 + 90*c.Float64()
		}
		s.change = append(s.change, row)
	}
	return s, listed
}

// every hands over every permutation of a sequence (Heap's algorithm).
func every(seq []int, f func([]int)) {
	var walk func(k int)
	walk = func(k int) {
		if k == 1 {
			f(seq)
			return
		}
		for i := range k {
			walk(k - 1)
			if k%2 == 0 {
				seq[i], seq[k-1] = seq[k-1], seq[i]
			} else {
				seq[0], seq[k-1] = seq[k-1], seq[0]
			}
		}
	}
	walk(len(seq))
}

// The shortest path through all orders, against every permutation of 8: dynamic
// programming (Held and Karp 1962) always finds it, the local search in 19 of 20.
func TestLeastChangeoverAgainstEveryPermutation(t *testing.T) {
	lists := effort.Of(3, 20, 200)
	found := 0
	for seed := range lists {
		s, listed := listOf(8, rand.New(rand.NewPCG(uint64(seed), 1)))
		least := math.Inf(1)
		every(append([]int(nil), listed...), func(seq []int) { least = math.Min(least, s.value(seq).first) })
		seq, total := s.leastChangeover(listed)
		require.InDelta(t, least, total, 1e-9)
		require.InDelta(t, least, s.value(seq).first, 1e-9, "the sequence is the one of the total")
		s.tried = 0
		if _, v := s.best(listed, uint64(seed), 1_000_000); v.first <= least+1e-9 {
			found++
		}
	}
	assert.GreaterOrEqual(t, found, (95*lists+99)/100)
}

// Orders that are kept stay, in both searches.
func TestKeptOrdersStay(t *testing.T) {
	for seed := range 5 {
		s, listed := listOf(7, rand.New(rand.NewPCG(uint64(seed), 2)))
		s.kept[0], s.kept[4] = true, true
		least := math.Inf(1)
		every(append([]int(nil), listed...), func(seq []int) {
			if seq[0] == 0 && seq[4] == 4 {
				least = math.Min(least, s.value(seq).first)
			}
		})
		seq, total := s.leastChangeover(listed)
		assert.InDelta(t, least, total, 1e-9)
		assert.Equal(t, []int{0, 4}, []int{seq[0], seq[4]})
		seq, v := s.best(listed, 1, 1_000_000)
		assert.InDelta(t, least, v.first, 1e-9)
		assert.Equal(t, []int{0, 4}, []int{seq[0], seq[4]})
	}
}

// The local search is within 1 % of dynamic programming at 14 orders.
func TestSearchNearTheLeastAtFourteen(t *testing.T) {
	for seed := range effort.Of(1, 3, 10) {
		s, listed := listOf(14, rand.New(rand.NewPCG(uint64(seed), 3)))
		_, least := s.leastChangeover(listed)
		_, v := s.best(listed, uint64(seed), 1_000_000)
		assert.LessOrEqual(t, v.first, least*1.01)
	}
}

// Without changeovers the sequence by due time has the least largest lateness (Jackson,
// 1955), and that by time taken the least mean end (Smith, Naval Research Logistics
// Quarterly 3 (1956) 59): both are among the starts, and no permutation of 7 beats them.
func TestJacksonAndSmith(t *testing.T) {
	for seed := range 5 {
		c := rand.New(rand.NewPCG(uint64(seed), 4))
		s, listed := listOf(7, c)
		for i := range s.change {
			clear(s.change[i])
			s.orders[i].Due = 3000 * c.Float64()
		}
		figures := func(seq []int) (latest, ends float64) {
			now := 0.0
			latest = math.Inf(-1)
			for _, k := range seq {
				now += s.takes[k]
				latest, ends = math.Max(latest, now-s.orders[k].Due), ends+now
			}
			return latest, ends
		}
		leastLatest, leastEnds := math.Inf(1), math.Inf(1)
		every(append([]int(nil), listed...), func(seq []int) {
			a, b := figures(seq)
			leastLatest, leastEnds = math.Min(leastLatest, a), math.Min(leastEnds, b)
		})
		starts := s.starts(listed)
		latest, _ := figures(starts[1])
		_, ends := figures(starts[2])
		assert.InDelta(t, leastLatest, latest, 1e-9)
		assert.InDelta(t, leastEnds, ends, 1e-9)
	}
}
