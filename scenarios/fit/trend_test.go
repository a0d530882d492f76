package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// Mean 2 and the variance of Bartels over all orders of six values.
func TestVarianceOfTheSerialRatio(t *testing.T) {
	var sum, squares, n float64
	var walk func(order []float64, rest []float64)
	walk = func(order, rest []float64) {
		if len(rest) == 0 {
			up := 0.0
			for i := 1; i < len(order); i++ {
				up += (order[i] - order[i-1]) * (order[i] - order[i-1])
			}
			ratio := up / 17.5 // of 1 to 6 about 3.5
			sum, squares, n = sum+ratio, squares+ratio*ratio, n+1
			return
		}
		for i := range rest {
			left := append(append([]float64(nil), rest[:i]...), rest[i+1:]...)
			walk(append(append([]float64(nil), order...), rest[i]), left)
		}
	}
	walk(nil, []float64{1, 2, 3, 4, 5, 6})
	assert.Equal(t, 720.0, n)
	assert.InDelta(t, 2, sum/n, 1e-12)
	assert.InEpsilon(t, squares/n-sum*sum/n/n, serialVariance(6), 1e-12)
}

func TestSerialOfKnownOrders(t *testing.T) {
	rising := make([]Value, 20)
	for i := range rising {
		rising[i].X = float64(i + 1)
	}
	s := serialOf(rising)
	assert.InDelta(t, 1-19/(2*(20*399./12)), s.R, 1e-12, "neighbours differ by 1")
	assert.Less(t, s.P, 1e-4)
	for i := range rising {
		rising[i].X = float64(i % 2)
	}
	s = serialOf(rising)
	assert.InDelta(t, 1-19*100./(2*20*25), s.R, 1e-12, "ranks 5.5 and 15.5 in turn")
	assert.Less(t, s.P, 1e-4)
	assert.True(t, math.IsNaN(serialOf(rising[:9]).R), "too few")
	assert.True(t, math.IsNaN(serialOf(rounded(60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60)).P), "all alike")
}

// Steady events and values in any order are called changing or dependent as often as
// was said; those that are not nearly always.
func TestTrendAndOrderAreRefusedAsOftenAsSaid(t *testing.T) {
	tries := effort.Of(250, 1000, 15000)
	r := rand.New(rand.NewPCG(5, 5))
	var laplace, handbook, serial, grows, clusters float64
	for range tries {
		var times, more []float64
		for at := 10 * r.ExpFloat64(); at < 300; at += 10 * r.ExpFloat64() {
			times = append(times, at)
			more = append(more, 300*math.Sqrt(at/300)) // twice as often at the end as in the mean
		}
		values := make([]Value, 30)
		before := 0.0
		bound := make([]Value, 60)
		for i := range bound {
			if i < 30 {
				values[i].X = r.ExpFloat64()
			}
			before = 0.7*before + r.NormFloat64()
			bound[i].X = math.Exp(before)
		}
		count := func(n *float64, p float64) {
			if p < 0.05 {
				*n++
			}
		}
		steady := Trend(times, 300)
		count(&laplace, steady.LaplaceP)
		count(&handbook, steady.ChanceP)
		count(&serial, serialOf(values).P)
		count(&grows, Trend(more, 300).LaplaceP)
		count(&clusters, serialOf(bound).P)
	}
	n := float64(tries)
	off := 4.5*math.Sqrt(0.05*0.95/n) + 0.005 // false alarm 7e-6, and what a normal law is off by
	assert.InDelta(t, 0.05, laplace/n, off)
	assert.InDelta(t, 0.05, handbook/n, off)
	assert.InDelta(t, 0.05, serial/n, off)
	assert.Greater(t, grows/n, 0.75)
	assert.Greater(t, clusters/n, 0.98)
}
