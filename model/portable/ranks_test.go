package portable

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRanks(t *testing.T) {
	nan := math.NaN()
	assert.Equal(t, []float64{0.5, 2, 0.5}, Ranks([]float64{1, 4, 1}))
	assert.Equal(t, []float64{2, 0.5, 3, 0.5}, Ranks([]float64{-1, nan, math.Inf(1), nan}), "NaN end no loop")
	assert.Empty(t, Ranks(nil))
}
