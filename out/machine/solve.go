package machine

import "rollchange/sim/savings"

// solutionJSON is the value at which a target is just reached; null where there is none,
// with the best of what was tried.
func solutionJSON(s savings.Solution, c *savings.Case) map[string]any {
	unit := map[savings.Measure]string{savings.OfNPV: c.Currency, savings.OfIRR: "1/year"}[s.Target.Measure]
	if unit == "" {
		unit = "years"
	}
	j := map[string]any{"key": s.Key, "unit": s.Unit, "value": orNull(s.Value), "scenario": orNull(s.Base), "gain_above": s.GainsAbove,
		"tried": []*float64{orNull(s.Low), orNull(s.High)}, "target": map[string]any{"of": s.Target.Measure.Key(), "value": s.Target.Value, "unit": unit}}
	if s.Value != s.Value {
		j["always"], j["best"] = s.Always, map[string]any{"value": orNull(s.Best), "reaches": orNull(s.AtBest)}
	}
	return j
}
