package model

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// Derived: phi(z)/Phi(z) = c s/K for web really left, z = sqrt(-2 ln(c s
// sqrt(2 pi)/K)) by the set point, Phi(z) = p/(p+c) with a cost by the metre
// short (the newsvendor quantile); confirmed by grid search and 4e6 draws.
func TestBestResidual(t *testing.T) {
	for _, c := range []struct {
		web, runOut, short, sigma float64
		setPoint                  bool
		x, cost, chance           float64
	}{
		{0.5, 100, 0, 3, false, 7.690727, 4.365829, 5.180006e-3},
		{0.8, 250, 0, 5, false, 12.692146, 11.552721, 5.567568e-3},
		{1.2, 40, 0, 8, false, 9.087249, 16.637930, 0.1279979},
		{0.05, 500, 0, 1, false, 4.072205, 0.215253, 2.328512e-5},
		{0.5, 100, 0, 3, true, 7.684647, 4.363356, 5.210328e-3},
		{0.8, 250, 0, 5, true, 12.681144, 11.545584, 5.602676e-3},
		{1.2, 40, 0, 8, true, 8.065157, 15.945889, 0.1566925},
		{0.05, 500, 0, 1, true, 4.072199, 0.215253, 2.328569e-5},
		{0.5, 0, 9.5, 3, false, 4.934561, 3.094069, 0.05},
		{0.8, 0, 7.2, 5, false, 6.407758, 7.019933, 0.1},
		{1, 0, 99, 8, false, 18.610783, 21.321714, 0.01},
	} {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			r := ResidualCost{Web: c.web, SetPoint: c.setPoint, RunOut: c.runOut, Short: c.short, Error: Dist{Law: Normal, B: c.sigma, Signed: true}}
			x := r.Best()
			assert.InDelta(t, c.x, x, 2e-5*c.sigma)
			assert.InDelta(t, c.cost, r.At(x), 1e-6)
			assert.InEpsilon(t, c.chance, r.RunOuts(x), 1e-4)
			if !c.setPoint && c.runOut > 0 {
				z := x / c.sigma
				assert.InEpsilon(t, c.web*c.sigma/c.runOut, math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)/(1-math.Erfc(z/math.Sqrt2)/2), 1e-4)
			}
		})
	}
}

func TestBestResidualOfOtherErrors(t *testing.T) {
	effort.NotInRace(t)
	assert.Equal(t, 2.0, ResidualCost{Web: 1, RunOut: 50, Error: Dist{Law: Fixed, A: -2, Signed: true}}.Best(), "a known error is made up for")
	// Uniform error from -a to a: C'(x) = c (x+a)/(2a) - K/(2a) below a, so the
	// least is at the far end a whenever K > 2 a c.
	u := ResidualCost{Web: 0.5, RunOut: 100, Error: Dist{Law: Uniform, A: -4, B: 4, Signed: true}}
	assert.InDelta(t, 4, u.Best(), 0.01)
	assert.Equal(t, 0.0, ResidualCost{Web: 10, RunOut: 0.01, Error: Dist{Law: Normal, B: 3, Signed: true}}.Best(), "dear web, cheap run-outs")
	n := ResidualCost{Web: 0.5, RunOut: 100, Error: Dist{Law: Normal, B: 3, Signed: true}}
	var values []float64
	for i := range 2000 {
		values = append(values, Dist{Law: Normal, B: 3, Signed: true}.Quantile((float64(i)+0.5)/2000))
	}
	e := ResidualCost{Web: 0.5, RunOut: 100, Error: Dist{Law: Empirical, Values: values, Signed: true}}
	assert.InEpsilon(t, n.At(6), e.At(6), 0.01, "the sum over quantiles is the mean")
}

// An error that hardly varies far from 0: the search ends where no number lies between two.
func TestBestResidualOfAnErrorThatHardlyVaries(t *testing.T) {
	r := ResidualCost{Web: 1, RunOut: 100, Error: Dist{Law: Normal, Signed: true, A: -100, B: 1e-5}}
	x := r.Best()
	assert.InDelta(t, 100, x, 1e-4)
	assert.Less(t, r.RunOuts(x), 1e-3)
}

func TestFastestIsTheSpeedOfTheStorage(t *testing.T) {
	c := Cycle{V: 2.5, Decel: 0.5, Accel: 0.25, LineDecel: 0.5, Max: 4, Reserve: 2}
	for _, dwell := range []float64{0, 3, 20} {
		c.Room = c.LeastRoom(dwell)
		assert.InEpsilon(t, 2.5, c.Fastest(dwell), 1e-12)
	}
	c.Room = 1
	assert.Zero(t, c.Fastest(3))
}
