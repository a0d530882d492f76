package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestQuantile(t *testing.T) {
	x := []float64{1, 2, 4, math.Inf(1)}
	assert.Equal(t, 3., Quantile(x, 0.5))
	assert.True(t, math.IsInf(Quantile(x, 0.9), 1), "never")
	assert.Equal(t, 1., Quantile(x, 0))
	assert.Equal(t, 7., Quantile([]float64{7}, 0.3))
}
