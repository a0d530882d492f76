package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The demand lies evenly between 5,400 and 12,600 km. The first sells it up to 7,200 km, the
// alternative up to 10,800 km: the means are the integrals, the limits those of the demand
// below, of what can be made above. 2,000 draws; 5 sigma of the mean and of the 2.5 % point.
func TestYearlyByHand(t *testing.T) {
	c := caseOf(t, around)
	years := c.Yearly()
	sigma := 7200e3 / math.Sqrt(12*2000)
	for side, x := range []struct{ mean, most, speed, waste float64 }{{6975e3, 7200e3, 2, 0.1}, {8775e3, 10800e3, 3, 0.04}} {
		y := years[side]
		assert.InDelta(t, x.mean, y.Good.Mean, 5*sigma)
		assert.InDelta(t, c.Random.Year[side].Good, y.Good.Mean, 1e-3)
		assert.InDelta(t, 5580e3, y.Good.Low, 5*7200e3*math.Sqrt(0.025*0.975/2000))
		assert.InDelta(t, x.most, y.Good.High, 1e-3)
		for _, k := range []struct {
			of  Spread
			per float64
		}{{y.Hours, 1 / x.speed}, {y.Waste, x.waste / (1 - x.waste)}} {
			assert.InEpsilon(t, y.Good.Mean*k.per, k.of.Mean, 1e-9)
			assert.InEpsilon(t, y.Good.Low*k.per, k.of.Low, 1e-9)
			assert.InEpsilon(t, y.Good.High*k.per, k.of.High, 1e-9)
		}
	}
}
