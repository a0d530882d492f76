package model

// Loads that one person should lift at most, under the best conditions.
const (
	// NIOSHLoad is the load constant of the revised NIOSH lifting equation, kg
	// (Waters, Putz-Anderson and Garg, DHHS (NIOSH) Publication 94-110).
	NIOSHLoad = 23.0
	// ISOMass is the reference mass of ISO 11228-1 for the adult working
	// population, kg (from memory of the standard).
	ISOMass = 25.0
)

// Lift is one lift by the revised NIOSH equation, in US units, in which the
// manual's worked examples are: RWL = LC HM VM DM AM FM CM, lb. The metric and
// the US constants of the manual are not exact conversions of each other, so
// one calculation keeps to one system.
type Lift struct {
	H, V, D   float64 // in: horizontal and vertical place of the hands, travel
	A         float64 // degrees of twist
	FM, CM    float64 // frequency and coupling multipliers, from the manual's tables
	Frequency string  // what FM stands for, for the reader
}

// RWL is the recommended weight limit in lb; 0 where the manual gives none
// (H above 25 in, A above 135 degrees).
func (l Lift) RWL() float64 {
	if l.H > 25 || l.A > 135 {
		return 0
	}
	hm := min(1, 10/l.H)
	vm := 1 - 0.0075*abs(l.V-30)
	dm := 1.0
	if l.D > 10 {
		dm = 0.82 + 1.8/l.D
	}
	am := 1 - 0.0032*l.A
	return 51 * hm * vm * dm * am * l.FM * l.CM
}

// Index is the lifting index of a load in lb: load / RWL. Up to 1 is the goal;
// above 3 most workers are at risk.
func (l Lift) Index(load float64) float64 { return load / l.RWL() }

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
