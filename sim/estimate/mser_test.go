package estimate

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// mserByHand is the rule as K. P. White Jr. states it (Simulation 69 (1997) 323,
// eq. 2): the d that makes 1/(n-d)² times the sum of squares of what is left
// about its mean least; on means of batches of five, not beyond half of them.
func mserByHand(x []float64) int {
	var y []float64
	for i := 0; i+5 <= len(x); i += 5 {
		sum := 0.0
		for _, v := range x[i : i+5] {
			sum += v / 5
		}
		y = append(y, sum)
	}
	best, cut := math.Inf(1), 0
	for d := 0; d <= len(y)/2; d++ {
		left := y[d:]
		mean, s := 0.0, 0.0
		for _, v := range left {
			mean += v / float64(len(left))
		}
		for _, v := range left {
			s += (v - mean) * (v - mean)
		}
		if s /= float64(len(left) * len(left)); s < best {
			best, cut = s, d
		}
	}
	return 5 * cut
}

func TestMSER5IsTheRule(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		x := make([]float64, 100+r.IntN(400))
		lag := r.Float64() * 40
		size := r.Float64() * 20
		for i := range x {
			x[i] = r.NormFloat64() + size*math.Exp(-float64(i)/(1+lag))
		}
		assert.Equal(t, mserByHand(x), MSER5(x))
	}
}

// A step is cut where it ends; a series without a beginning of its own is not cut.
func TestMSER5CutsAStep(t *testing.T) {
	x := make([]float64, 500)
	for i := range x {
		x[i] = math.Sin(float64(i))
		if i < 60 {
			x[i] += 30
		}
	}
	assert.Equal(t, 60, MSER5(x))
	for i := range x {
		x[i] = math.Sin(float64(i))
	}
	assert.LessOrEqual(t, MSER5(x), 100)
}
