package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// SolveText says at which value of an input a saving is just worth it.
func SolveText(s savings.Solution, c *savings.Case, sys model.System) string {
	name := KeyWords(s.Key)
	if s.Unit == "m" && s.Key == "economics.demand" {
		u := LongUnit(sys)
		s.Unit, s.Value, s.Base, s.Low, s.High = u.Name, u.From(s.Value), u.From(s.Base), u.From(s.Low), u.From(s.High)
	}
	unit := strings.TrimRight(" "+UnitText(s.Unit), " ")
	if s.Value != s.Value {
		side := "not above"
		if s.Always {
			side = "above"
		}
		moves := ""
		if s.Flat {
			moves = ", and the same for each"
		}
		return fmt.Sprintf("The mean net present value of %s is %s 0 for every %s tried, %s to %s%s%s: there is no break-even in that range.", AlternativeName(c.Alternative), side, name, Plain(s.Low), Plain(s.High), unit, moves)
	}
	side := "below"
	if s.GainsAbove {
		side = "above"
	}
	base := ""
	if s.Base == s.Base {
		base = fmt.Sprintf("; the scenario has %s%s", Plain(s.Base), unit)
		if s.Varies {
			base += " (mean)"
		}
	}
	if s.Whole {
		if side = "not above"; s.GainsAbove {
			side = "above"
		}
		return fmt.Sprintf("Break-even: %s of %s%s; with it the mean net present value of %s is %s 0 for the first time%s.", name, Plain(s.Value), unit, AlternativeName(c.Alternative), side, base)
	}
	near, within := "", ""
	if s.Crossings > 1 {
		near = "just "
	}
	if s.Asked {
		within = fmt.Sprintf(", within the range tried, %s to %s%s", Plain(s.Low), Plain(s.High), unit)
	}
	return fmt.Sprintf("Break-even: %s of %s%s. There the mean net present value of %s is 0; it is positive %s%s that%s%s.", name, Plain(s.Value), unit, AlternativeName(c.Alternative), near, side, within, base)
}
