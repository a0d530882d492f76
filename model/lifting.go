package model

import "math"

// Loads that one person should lift at most, under the best conditions.
const (
	// nioshLoad is the load constant of the revised NIOSH lifting equation, kg
	// (Waters, Putz-Anderson and Garg, DHHS (NIOSH) Publication 94-110).
	nioshLoad = 23.0
	// isoMass is the reference mass of ISO 11228-1 for adult working men, kg;
	// 15 to 20 kg for others (from memory of the standard).
	isoMass = 25.0
)

// Lift is one lift with two hands as the revised NIOSH equation sees it. System
// says in which units the lengths, and then the limit, are.
type Lift struct {
	System  System  // Metric: cm and kg; Imperial: in and lb
	H, V, D float64 // distance of the hands from the ankles, their height, the vertical travel
	A       float64 // degrees of twist
	FM, CM  float64 // frequency and coupling multipliers, from the tables of the publication
}

// RWL is the recommended weight limit in kg or lb,
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
func (l Lift) RWL() float64 {
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

// Index is the lifting index of a load in kg or lb, load / RWL. Up to 1 is the
// goal; above 3 most workers are at risk.
func (l Lift) Index(load float64) float64 { return load / l.RWL() }
