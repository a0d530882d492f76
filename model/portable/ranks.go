package portable

import (
	"cmp"
	"slices"
)

// Ranks are the places of values in their order, from 0; those alike have the middle of
// theirs, as the ranks of Spearman's correlation do. NaN are alike, and below all numbers.
func Ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	ranks := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && cmp.Compare(x[order[j]], x[order[i]]) == 0 {
			j++
		}
		for _, o := range order[i:j] {
			ranks[o] = float64(i+j-1) / 2
		}
		i = j
	}
	return ranks
}
