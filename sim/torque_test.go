package sim

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

// A ramp is the same whether the limit of the torque was found for this roll, for a larger
// one before it, or not at all: rolls of any size in any order, and a product with other ramps.
func TestTorqueLimitsTheSameRampsInAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	limited, free := 0, 0
	for range 200 {
		spec := &model.Line{Web: model.Web{Width: 0.4, Caliper: 60e-6, Grammage: 0.06}}
		spec.Unwind.Roll.Core, spec.Unwind.SpindleTorque = 0.03+0.12*r.Float64(), 0.5+20*r.Float64()
		st := &station{l: &line{spec: spec}}
		for range 3 {
			st.dec, st.acc = 0.1+2*r.Float64(), 0.1+2*r.Float64()
			st.derives()
			for range 40 {
				left := 6000*r.Float64() - 100
				want := model.RollOf(left, spec.Web, spec.Unwind.Roll.Core).RampLimit(spec.Unwind.SpindleTorque)
				for _, ramp := range []float64{st.dec, st.acc} {
					got := min(ramp, st.torqueLimit(left))
					if left <= 0 {
						assert.Equal(t, ramp, got)
						continue
					}
					assert.Equal(t, min(ramp, want), got, "%g m", left)
					if got < ramp {
						limited++
					} else {
						free++
					}
				}
			}
		}
	}
	assert.Greater(t, limited, 1000)
	assert.Greater(t, free, 1000)
}
