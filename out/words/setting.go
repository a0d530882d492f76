package words

import (
	"strings"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// SettingText is what an input is, or is moved to: "135 m/min", "mean 7.2 s", "x 1.1".
func SettingText(s whatif.Setting, sys model.System) string {
	factor := Short(s.Amount, 3)
	switch s.How {
	case whatif.Times:
		return "x " + factor
	case whatif.Shortfall:
		return "shortfall x " + factor
	case whatif.Step:
		return map[bool]string{true: "+1", false: "−1"}[s.Amount > 0]
	}
	of := map[whatif.How]string{whatif.Mean: "mean ", whatif.SD: "sd "}[s.How]
	if s.Text != "" || s.Amount == 0 {
		return of + Written(s.Text)
	}
	return of + amountText(s.Amount, s.Unit, sys)
}

// amountText is an economic input as it would be written.
func amountText(x float64, unit string, sys model.System) string {
	u := InputUnit(unit, x, sys)
	return strings.TrimSpace(Short(u.From(x), 4) + " " + u.Name)
}

// UnmovedTexts are the inputs that cannot be moved, and why.
func UnmovedTexts(s *whatif.Sensitivities) []string {
	var list []string
	for _, x := range s.Skipped {
		list = append(list, x.Key+": "+map[whatif.Obstacle]string{whatif.AtMinimum: "it is already at its minimum", whatif.FromFile: "its values come from a file",
			whatif.AtWhole: "it is 100 %", whatif.AtZero: "it is 0", whatif.NeitherEnd: "neither end of its range is possible"}[x.Why])
	}
	return list
}

// LackTexts are the metrics that there are none of, and why.
func LackTexts(s *whatif.Sensitivities) []string {
	var list []string
	for _, x := range s.Lacking {
		if x.Why == whatif.NothingToCount {
			list = append(list, "how "+x.Metric+" varies: in some period there was nothing to count")
			continue
		}
		list = append(list, x.Metric+": nothing more is invested")
	}
	return list
}
