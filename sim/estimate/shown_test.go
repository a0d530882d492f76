package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What few events carry is shown only where a single one seen cannot turn it: with m to
// be expected, one or none is seen with a chance of (1 + m) exp(-m).
func TestFewEventsDoNotHideWhatIsFarOff(t *testing.T) {
	m := 1 + float64(FarOff)
	assert.Less(t, (1+m)*math.Exp(-m), 0.0005, "one event in all its standard errors")
	for n := 4; n < 200; n *= 2 {
		var rare, far Moments
		for i := range n {
			event := 0.0
			if i == n/2 {
				event = 1
			}
			rare.Add(event)
			far.Add(event - 2*(1+FarOff)/float64(n))
		}
		e := Difference(&rare, 0.95)
		assert.Equal(t, TooFew, e.Why, n)
		assert.False(t, e.Shown(), "one event in %d replications may as well not have come", n)
		e = Difference(&far, 0.95)
		assert.Equal(t, TooFew, e.Why, n)
		assert.True(t, e.Shown(), "%d replications, all but one alike", n)
		assert.True(t, e.Opposite().Shown())
	}
}
