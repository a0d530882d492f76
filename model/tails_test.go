package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A law like another has its mean and sd, over all that task times vary.
func TestLawsOfTheSameMeanAndSD(t *testing.T) {
	for _, law := range TailLaws {
		for _, cv := range []float64{0.02, 0.1, 0.3, 0.7, 1, 1.5} {
			d := Dist{Law: Lognormal, A: 20, B: 20 * cv}.Like(law)
			assert.InEpsilon(t, 20, d.Mean(), 1e-9, "%s %g", law, cv)
			assert.InEpsilon(t, 20*cv, d.SD(), 1e-6, "%s %g", law, cv)
			assert.NoError(t, d.Validate())
		}
	}
	for _, law := range TailLaws { // what begins at a least value still does
		d := Dist{Law: Lognormal, A: 20, B: 4, Least: 12}.Like(law)
		assert.InEpsilon(t, 20, d.Mean(), 1e-9, law)
		assert.InEpsilon(t, 4, d.SD(), 1e-6, law)
		assert.Equal(t, 12.0, d.Min(), law)
	}
	assert.Equal(t, Const(3), Const(3).Like(Gamma), "what does not vary stays")
	// With cv 1 gamma and Weibull are both the exponential law.
	for _, law := range []Law{Gamma, Weibull} {
		assert.InEpsilon(t, math.Exp(-3), Dist{Law: Exponential, A: 2}.Like(law).survival(6), 1e-6, law)
	}
}

func TestBeyondTheDataIsSaid(t *testing.T) {
	c := Cycle{V: 2, Decel: 1, Accel: 1, Max: 3, LineDecel: 1, Room: 40, Dwell: Dist{Law: Lognormal, A: 8, B: 2}}
	says := func() string {
		said, is := beyondData(c, "splice")
		assert.Equal(t, is, said.text != "")
		return said.text
	}
	assert.Contains(t, says(), "in the distribution given one dwell in 1,400 is longer: beyond any data.")
	assert.Contains(t, says(), "lognormal 730, gamma 210, Weibull 0.0015")
	assert.Equal(t, []string{"580,000", "below 0.001", "0.0045", "12"}, []string{twoDigits(583000), twoDigits(7e-46), twoDigits(0.00451), twoDigits(12.3)})
	assert.Contains(t, says(), "gamma")
	c.Dwell = Dist{Law: Uniform, A: 5, B: 9}
	assert.Contains(t, says(), "ends at 9 s")
	c.Dwell = Dist{Law: Lognormal, A: 8, B: 6}
	assert.Empty(t, says(), "one in a hundred is no far tail")
	c.Dwell = Const(8)
	assert.Empty(t, says())
}
