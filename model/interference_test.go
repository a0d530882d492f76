package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Machines that nearly always wait: the one operator is never idle, so calls are answered
// at his rate, and mu/lambda machines run in the mean; the chances of 100 machines are
// beyond any number before they are divided by their sum. Machines that never call run.
func TestInterferenceAtItsEnds(t *testing.T) {
	s := Interference(100, 1, 100, 1)
	assert.InEpsilon(t, 1, s.Calls, 1e-9)
	assert.InEpsilon(t, 0.01/100, s.Running, 1e-9)
	assert.InEpsilon(t, 100-0.01, s.Down, 1e-9)
	assert.InEpsilon(t, s.Down-1, s.Waiting, 1e-9)
	assert.Equal(t, InterferenceOf{Running: 1}, Interference(100, 1, 0, 1))
}
