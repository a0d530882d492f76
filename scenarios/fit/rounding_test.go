package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// Repairs of a mean of 8 min, written down to five minutes, give the mean of the same
// repairs unrounded: over all repeats the mean difference is below a tenth of the standard error
// of one fit. A fit to the bare numbers would take the zeros for repairs of no time. The
// sum of two times rounded apart has an error in a triangle of twice the width; taken as one interval it
// leaves out the variance of one rounding, 300 s² of 129,600 s² here.
func TestRoundingHardlyMovesTheMean(t *testing.T) {
	effort.NotInRace(t)
	repeats := effort.Of(100, 400, 1000)
	const n, mean, sd, five = 60, 480.0, 360.0, 300.0
	mu, sigma := model.Dist{Law: model.Lognormal, A: mean, B: sd}.LognormalParams()
	c := curveAt(model.Lognormal, point{mu, math.Log(sigma)})
	r := rand.New(rand.NewPCG(8, 5))
	fitMean := func(values []Value) float64 {
		list, _ := spans(values, 0)
		s := newSample(list, 0, 0)
		f, ok := s.fitted(model.Lognormal)
		require.True(t, ok)
		return f.Dist.Mean()
	}
	sum, squares, exact2, sumExact, clocks := 0.0, 0.0, 0.0, 0.0, 0.0
	for range repeats {
		var exact, rounded, two []Value
		for range n {
			x := c.draw(r)
			exact = append(exact, Value{X: x})
			rounded = append(rounded, Value{X: math.Round(x/five) * five, Step: five})
			begin := 86400 * r.Float64() // start and end each to the minute
			d := math.Round((begin+x)/60)*60 - math.Round(begin/60)*60
			step := 60.0
			if d == 0 {
				step = 120
			}
			two = append(two, Value{X: d, Step: step})
		}
		m, k, w := fitMean(exact), fitMean(rounded), fitMean(two)
		sum, squares = sum+k-m, squares+(k-m)*(k-m)
		sumExact, exact2 = sumExact+m, exact2+m*m
		clocks += w - m
	}
	q := float64(repeats)
	se := math.Sqrt((exact2 - sumExact*sumExact/q) / (q - 1))
	noise := math.Sqrt((squares-sum*sum/q)/(q-1)) / math.Sqrt(q)
	t.Logf("standard error of a fit %.1f s; five minutes moves the mean by %.2f ± %.2f s, two clocks by %.2f s", se, sum/q, noise, clocks/q)
	assert.LessOrEqual(t, math.Abs(sum/q), 0.1*se+3*noise, "false alarm 3 in 1,000 at a true difference of a tenth")
	assert.LessOrEqual(t, math.Abs(clocks/q), 0.1*se)
}
