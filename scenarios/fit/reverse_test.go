package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// NIST/SEMATECH e-Handbook 8.2.2.3: 33 of 45 pairs of intervals (recomputed from the data
// there). A sum of Kendall's S = 2 x 33 - 45 = 21 of ten has a one-sided chance of 0.036
// (Kendall, Rank Correlation Methods, table 1, from memory).
func TestReverseArrangements(t *testing.T) {
	x := Trend([]float64{5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478}, 1500)
	assert.Equal(t, [2]int{33, 45}, [2]int{x.Reversals, x.Pairs})
	assert.InDelta(t, 2*0.036, x.ReversalsP, 0.001)
	// By hand, of three intervals: the six orders have 0, 1, 1, 2, 2 and 3 reversals.
	assert.InDelta(t, 2./6, reversedAsFar(3, 3), 1e-15)
	assert.InDelta(t, 1, reversedAsFar(3, 1), 1e-15)
	// The normal law takes over where it is as good; rising and falling are alike.
	n := float64(exactReversed)
	off := 2 * math.Sqrt(n*(n-1)*(2*n+5)/72)
	half := n * (n - 1) / 4
	assert.InEpsilon(t, math.Erfc((math.Round(half+off)-half-0.5)/math.Sqrt(n*(n-1)*(2*n+5)/36)), reversedAsFar(exactReversed, int(math.Round(half+off))), 0.1)
	assert.InDelta(t, reversedAsFar(12, 10), reversedAsFar(12, 66-10), 1e-15)
	many := make([]float64, mostReversed+500)
	for i := range many {
		many[i] = float64(i+1) * float64(i+1)
	}
	x = Trend(many, many[len(many)-1])
	assert.Equal(t, x.Pairs, x.Reversals, "each interval is longer")
	assert.Equal(t, mostReversed*(mostReversed-1)/2, x.Pairs)
	assert.Less(t, x.ReversalsP, 1e-9)
	assert.True(t, math.IsNaN(Trend([]float64{1, 2, 3}, 4).ReversalsP))
}

// Of a log that its law made, the chance is uniform: Kolmogorov's distance of 200 sets (usual form: 100) is
// beyond 1.95 of its scale once in 1,000. The chance is told by up to 199 draws and fewer
// where it is large, so it is compared where it can be (Besag and Clifford). The law is
// lognormal and wide enough for no other to be taken for it.
func TestChanceIsUniformUnderItsLaw(t *testing.T) {
	if testing.Short() {
		t.Skip("200 sets of 250 values")
	}
	sets := effort.Of(0, 100, 200)
	r := rand.New(rand.NewPCG(20, 5))
	c := curveAt("lognormal", point{6, 0})
	var chances []float64
	for k := range sets {
		var values []Value
		for range 250 {
			values = append(values, Value{X: c.draw(r)})
		}
		got, err := Of(values, Options{Seed: uint64(k)})
		if assert.NoError(t, err) && assert.Equal(t, "lognormal", string(got.Laws[got.Taken].Dist.Law)) {
			chances = append(chances, got.Judged.P)
		}
	}
	worst := 0.0
	for _, u := range chances {
		below := 0.0
		for _, p := range chances {
			if p <= u {
				below++
			}
		}
		worst = max(worst, math.Abs(below/float64(sets)-u))
	}
	t.Logf("distance %.3f", worst)
	assert.Less(t, worst, 1.95/math.Sqrt(float64(sets)))
}
