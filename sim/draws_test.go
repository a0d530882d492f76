package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

func TestDrawsHangOnTheNameAlone(t *testing.T) {
	d := model.Dist{Law: model.Uniform, A: 2, B: 3}
	a := Draws(d, 7, "economics.price", 1000)
	assert.Equal(t, a[:10], Draws(d, 7, "economics.price", 10))
	assert.NotEqual(t, a[:10], Draws(d, 7, "economics.demand", 10))
	mean := 0.0
	for _, x := range a {
		mean += x / 1000
	}
	assert.InDelta(t, 2.5, mean, 5/math.Sqrt(12*1000), "5 sigma: false alarm 6e-7")
	assert.Equal(t, []float64{4, 4}, Draws(model.Const(4), 1, "x", 2))
}
