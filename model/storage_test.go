package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestStrands(t *testing.T) {
	assert.Equal(t, 40.0, StrandStorage(16, 2.5))
	assert.Equal(t, 2.5, CarriageTravel(40, 16))
	assert.Equal(t, -2.5/16, CarriageSpeed(0, 2.5, 16))
	assert.InDelta(t, 0.375/16, CarriageSpeed(2.875, 2.5, 16), 1e-15)
	assert.Equal(t, 32.0, DragTension(16, 2))
	// The content changes by the web in less the web out, however many strands.
	for _, n := range []int{1, 4, 16} {
		assert.InDelta(t, 3*(2.9-2.5), StrandStorage(n, 3*CarriageSpeed(2.9, 2.5, n)), 1e-12)
	}
}
