package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// "Loading supply rolls", example 2 of DHHS (NIOSH) Publication 94-110, pp.
// 37-41: a 35 lb roll of paper from cart to machine. Title read in the
// publication, numbers from memory: printed RWL 28.0 and 18.1 lb, LI 1.3 and
// 1.9, with multipliers rounded to two decimals; not rounded 27.6945 and 18.0617.
func TestLoadingSupplyRolls(t *testing.T) {
	origin := Lift{System: Imperial, H: 15, V: 27, D: 17, FM: 1, CM: 0.90}
	destination := Lift{System: Imperial, H: 20, V: 10, D: 17, FM: 1, CM: 0.90}
	assert.InDelta(t, 27.6945, origin.RWL(), 5e-5)
	assert.InDelta(t, 18.0617, destination.RWL(), 5e-5)
	assert.InDelta(t, 28.0, origin.RWL(), 0.4)
	assert.InDelta(t, 18.1, destination.RWL(), 0.05)
	assert.InDelta(t, 1.3, origin.Index(35), 0.05)
	assert.InDelta(t, 1.9, destination.Index(35), 0.05)
}

// Example 4 of the same publication, p. 46, origin: 51 x 1.0 x .94 x .87 x 1.0
// x .88 x .95 = 34.9 lb.
func TestExampleFour(t *testing.T) {
	l := Lift{System: Imperial, H: 10, V: 22, D: 37, FM: 0.88, CM: 0.95}
	assert.InDelta(t, 34.813562, l.RWL(), 5e-7)
	assert.InDelta(t, 34.9, l.RWL(), 0.1)
}

// The best lift there is weighs the load constant; the two systems are not
// exact conversions of each other.
func TestLoadConstants(t *testing.T) {
	metric := Lift{System: Metric, H: 25, V: 75, D: 25, FM: 1, CM: 1}
	us := Lift{System: Imperial, H: 10, V: 30, D: 10, FM: 1, CM: 1}
	assert.InDelta(t, nioshLoad, metric.RWL(), 1e-12)
	assert.InDelta(t, 51, us.RWL(), 1e-12)
	assert.InDelta(t, 23.133, us.RWL()*0.45359237, 5e-4)
	assert.Greater(t, isoMass, nioshLoad)
	metric.H = 50
	assert.InDelta(t, 11.5, metric.RWL(), 1e-12)
	metric.D = 50
	assert.InDelta(t, 11.5*0.91, metric.RWL(), 1e-12)
}

// Limits printed in the publication: no lift beyond 25 in or 135 degrees.
func TestNoLiftBeyondTheLimits(t *testing.T) {
	l := Lift{System: Imperial, H: 25.1, V: 30, FM: 1, CM: 1}
	assert.Zero(t, l.RWL())
	assert.True(t, math.IsInf(l.Index(10), 1))
	l.H, l.A = 10, 136
	assert.Zero(t, l.RWL())
	l.A = 135
	assert.InDelta(t, 51*(1-0.0032*135), l.RWL(), 1e-12)
}
