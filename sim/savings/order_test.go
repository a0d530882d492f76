package savings

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/sim/estimate"
)

// A placed value is that of a sort, whatever the order and the ties, and the others
// are where it says: before it none larger, after it none smaller.
func TestPlacedAsASortPlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	rows := map[string]func(i, n int) float64{
		"random":     func(int, int) float64 { return r.NormFloat64() },
		"few values": func(int, int) float64 { return float64(r.IntN(4)) },
		"one value":  func(int, int) float64 { return 3 },
		"rising":     func(i, _ int) float64 { return float64(i) },
		"falling":    func(i, _ int) float64 { return -float64(i) },
		"a roof":     func(i, n int) float64 { return -math.Abs(float64(2*i - n)) },
		"never": func(i, n int) float64 {
			return []float64{float64(i), math.Inf(1), math.Inf(-1), r.Float64()}[r.IntN(4)]
		},
	}
	for name, row := range rows {
		for _, n := range []int{1, 2, 3, few, few + 1, 100, 1000, 10000} {
			x := make([]float64, n)
			for i := range x {
				x[i] = row(i, n)
			}
			sorted := slices.Sorted(slices.Values(x))
			var at []int
			for range 6 {
				at = append(at, r.IntN(n))
			}
			slices.Sort(at)
			place(x, at)
			for _, k := range at {
				require.Equal(t, sorted[k], x[k], "%s, %d values, place %d", name, n, k)
				require.Equal(t, sorted[k], slices.Max(x[:k+1]), "%s, %d values, before place %d", name, n, k)
				require.Equal(t, sorted[k], slices.Min(x[k:]), "%s, %d values, after place %d", name, n, k)
			}
			slices.Sort(x)
			require.Equal(t, sorted, x, "%s: no value is lost", name)
		}
	}
}

// The spread of draws is that of their sorted row, to the last bit.
func TestSpreadIsThatOfTheSortedRow(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{1, 2, 7, 40, 100, 9999, 10000} {
		for _, confidence := range []float64{0.01, 0.5, 0.9, 0.95, 0.999} {
			x := make([]float64, n)
			for i := range x {
				x[i] = r.ExpFloat64()
			}
			sorted := slices.Sorted(slices.Values(x))
			c := &Case{}
			c.Run.Confidence = confidence
			s := c.spread(x)
			tail := (1 - confidence) / 2
			require.Equal(t, [3]float64{estimate.Quantile(sorted, tail), estimate.Quantile(sorted, 0.5), estimate.Quantile(sorted, 1-tail)}, [3]float64{s.Low, s.Median, s.High})
		}
	}
}
