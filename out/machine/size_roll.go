package machine

import "rollchange/sim/whatif"

// jsonRidge is the ridge of a seam on a roll.
type jsonRidge struct {
	Roll        float64 `json:"roll_m"`
	Oscillation float64 `json:"oscillation_m"`
	Ridge       float64 `json:"ridge_m"`
	Allowed     float64 `json:"allowed_m"`
}

// jsonRoll is the longest roll.
type jsonRoll struct {
	Diameter float64 `json:"diameter_m"`
	Wraps    float64 `json:"wraps"`
	Mass     float64 `json:"web_kg,omitempty"`
}

// rollJSON is what an answer says of a finished roll and of the ridge of its seam; nil
// where it says nothing.
func rollJSON(a *whatif.Answer) (roll *jsonRoll, ridge *jsonRidge) {
	for _, n := range a.Notes {
		switch n := n.(type) {
		case whatif.RollIs:
			roll = &jsonRoll{n.Diameter, n.Wraps, n.Mass}
		case whatif.SeamRidgeOf:
			ridge = &jsonRidge{n.Length, n.Oscillation, n.Ridge, n.Allowed}
		}
	}
	return roll, ridge
}

// roll are the same figures as rows.
func (r *answerRows) roll() {
	roll, ridge := rollJSON(r.a)
	if roll != nil {
		r.alone("roll", "diameter", "m", roll.Diameter)
		r.alone("roll", "wraps", "1", roll.Wraps)
		if roll.Mass > 0 {
			r.alone("roll", "web", "kg", roll.Mass)
		}
	}
	if ridge != nil {
		r.alone("ridge", "roll", "m", ridge.Roll)
		r.alone("ridge", "oscillation", "m", ridge.Oscillation)
		r.alone("ridge", "ridge", "m", ridge.Ridge)
		r.alone("ridge", "allowed", "m", ridge.Allowed)
	}
}
