package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// lift is one lift with two hands as the revised NIOSH equation sees it. System
// says in which units the lengths, and then the limit, are.
type lift struct {
	System  System  // Metric: cm and kg; Imperial: in and lb
	H, V, D float64 // distance of the hands from the ankles, their height, the vertical travel
	A       float64 // degrees of twist
	FM, CM  float64 // frequency and coupling multipliers, from the tables of the publication
}

// rwl is the recommended weight limit in kg or lb,
//
//	RWL = LC HM VM DM AM FM CM
//
//	      metric (cm, kg)         US (in, lb)
//	LC    23                      51
//	HM    25/H, at most 1         10/H, at most 1
//	VM    1 - 0.003 |V - 75|      1 - 0.0075 |V - 30|
//	DM    0.82 + 4.5/D, at most 1 0.82 + 1.8/D, at most 1
//	AM    1 - 0.0032 A            the same
//
// of DHHS (NIOSH) Publication 94-110 (AM from memory), not rounded in between as the
// manual does. It is 0 where the manual allows no lift: H above 63 cm or 25 in,
// V outside 0..175 cm or 70 in, A outside 0..135 degrees. The two sets of constants are not exact
// conversions of each other (51 lb is 23.133 kg): one calculation keeps to one.
func (l lift) rwl() float64 {
	lc, near, knuckle, slope, short := 23.0, 25.0, 75.0, 0.003, 4.5
	far, high := 63.0, 175.0
	if l.System == Imperial {
		lc, near, knuckle, slope, short = 51, 10, 30, 0.0075, 1.8
		far, high = 25, 70
	}
	if l.H > far || l.V < 0 || l.V > high || l.A < 0 || l.A > 135 {
		return 0
	}
	hm := near / max(l.H, near)
	vm := 1 - slope*math.Abs(l.V-knuckle)
	dm := 1.0
	if l.D > 0 {
		dm = min(1, 0.82+short/l.D)
	}
	am := 1 - 0.0032*l.A
	return lc * hm * vm * dm * am * l.FM * l.CM
}

// index is the lifting index of a load in kg or lb, load / RWL. Up to 1 is the
// goal; above 3 most workers are at risk.
func (l lift) index(load float64) float64 { return load / l.rwl() }

// "Loading supply rolls", example 2 of DHHS (NIOSH) Publication 94-110, pp.
// 37-41: a 35 lb roll of paper from cart to machine. Title read in the
// publication, numbers from memory: printed RWL 28.0 and 18.1 lb, LI 1.3 and
// 1.9, with multipliers rounded to two decimals; not rounded 27.6945 and 18.0617.
func TestLoadingSupplyRolls(t *testing.T) {
	origin := lift{System: Imperial, H: 15, V: 27, D: 17, FM: 1, CM: 0.90}
	destination := lift{System: Imperial, H: 20, V: 10, D: 17, FM: 1, CM: 0.90}
	assert.InDelta(t, 27.6945, origin.rwl(), 5e-5)
	assert.InDelta(t, 18.0617, destination.rwl(), 5e-5)
	assert.InDelta(t, 28.0, origin.rwl(), 0.4)
	assert.InDelta(t, 18.1, destination.rwl(), 0.05)
	assert.InDelta(t, 1.3, origin.index(35), 0.05)
	assert.InDelta(t, 1.9, destination.index(35), 0.05)
}

// Example 4 of the same publication, p. 46, origin: 51 x 1.0 x .94 x .87 x 1.0
// x .88 x .95 = 34.9 lb.
func TestExampleFour(t *testing.T) {
	l := lift{System: Imperial, H: 10, V: 22, D: 37, FM: 0.88, CM: 0.95}
	assert.InDelta(t, 34.813562, l.rwl(), 5e-7)
	assert.InDelta(t, 34.9, l.rwl(), 0.1)
}

// The best lift there is weighs the load constant; the two systems are not
// exact conversions of each other.
func TestLoadConstants(t *testing.T) {
	metric := lift{System: Metric, H: 25, V: 75, D: 25, FM: 1, CM: 1}
	us := lift{System: Imperial, H: 10, V: 30, D: 10, FM: 1, CM: 1}
	assert.InDelta(t, nioshLoad, metric.rwl(), 1e-12)
	assert.InDelta(t, 51, us.rwl(), 1e-12)
	assert.InDelta(t, 23.133, us.rwl()*0.45359237, 5e-4)
	assert.Greater(t, isoMass, nioshLoad)
	metric.H = 50
	assert.InDelta(t, 11.5, metric.rwl(), 1e-12)
	metric.D = 50
	assert.InDelta(t, 11.5*0.91, metric.rwl(), 1e-12)
}

// Limits printed in the publication: no lift beyond 25 in or 135 degrees.
func TestNoLiftBeyondTheLimits(t *testing.T) {
	l := lift{System: Imperial, H: 25.1, V: 30, FM: 1, CM: 1}
	assert.Zero(t, l.rwl())
	assert.True(t, math.IsInf(l.index(10), 1))
	l.H, l.A = 10, 136
	assert.Zero(t, l.rwl())
	l.A = 135
	assert.InDelta(t, 51*(1-0.0032*135), l.rwl(), 1e-12)
}
