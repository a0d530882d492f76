package fit

import (
	"math"
	"slices"

	"rollchange/model/portable"
)

// mostReversed is how many intervals are compared with one another; the last of more.
const mostReversed = 2000

// reverse counts the pairs of intervals of which the later is longer. In any order of n
// intervals each order is as likely (Mann, Econometrica 13 (1945) 245): the count has the
// law of the inversions of a permutation, and from exactReversed on nearly a normal one with
//
//	mean n (n-1)/4        variance n (n-1) (2n+5)/72
func (t *Trends) reverse(times []float64) {
	sorted := slices.Sorted(slices.Values(times))
	sorted = sorted[max(0, len(sorted)-mostReversed-1):]
	var gaps []float64
	if len(sorted) == len(times) {
		gaps = append(gaps, sorted[0])
	}
	for i := 1; i < len(sorted); i++ {
		gaps = append(gaps, sorted[i]-sorted[i-1])
	}
	for i, x := range gaps {
		for _, later := range gaps[i+1:] {
			if later > x {
				t.Reversals++
			}
		}
	}
	n := len(gaps)
	t.Pairs = n * (n - 1) / 2
	if n <= exactReversed {
		t.ReversalsP = reversedAsFar(n, t.Reversals)
		return
	}
	k := float64(n)
	off := math.Abs(float64(t.Reversals)-k*(k-1)/4) - 0.5
	t.ReversalsP = portable.Erfc(max(0, off) / math.Sqrt(k*(k-1)*(2*k+5)/36))
}

// exactReversed is of how many intervals the law of the count is summed up at most.
const exactReversed = 40

// reversedAsFar is the chance of a count as far from half of the pairs in any order of n:
// the next interval is longer than 0 to all of those before it, each as likely.
func reversedAsFar(n, count int) float64 {
	chance := []float64{1}
	for k := 2; k <= n; k++ {
		next := make([]float64, len(chance)+k-1)
		for i, p := range chance {
			for j := range k {
				next[i+j] += p / float64(k)
			}
		}
		chance = next
	}
	far, sum := min(count, len(chance)-1-count), 0.0
	for i, p := range chance {
		if i <= far || i >= len(chance)-1-far {
			sum += p
		}
	}
	return min(1, sum)
}
