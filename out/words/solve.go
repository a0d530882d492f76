package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// SolveText says at which value of an input a saving is just worth it, or reaches what
// was asked for.
func SolveText(s savings.Solution, c *savings.Case, sys model.System) string {
	name := KeyOf(s.Key, s.Of)
	u := PriceUnit(s.Unit, sys)
	if s.Unit == "m" && s.Key == "economics.demand" {
		u = LongUnit(sys)
	}
	if u.Name != s.Unit {
		s.Unit, s.Value, s.Base, s.Low, s.High, s.Best = u.Name, u.From(s.Value), u.From(s.Base), u.From(s.Low), u.From(s.High), u.From(s.Best)
	}
	unit := strings.TrimRight(" "+UnitText(s.Unit), " ")
	if s.Value != s.Value {
		return notReached(s, c, name, unit)
	}
	base := ""
	if s.Base == s.Base {
		base = fmt.Sprintf("; the scenario has %s%s", Plain(s.Base), unit)
		if s.Varies {
			base += " (mean)"
		}
	}
	side := map[bool]string{true: "above", false: "below"}[s.GainsAbove]
	near, within := "", ""
	if s.Crossings > 1 {
		near = "just "
	}
	if s.Asked {
		within = fmt.Sprintf(", within the range tried, %s to %s%s", Plain(s.Low), Plain(s.High), unit)
	}
	alternative, even := AlternativeName(c.Alternative), s.Target == savings.Target{}
	switch {
	case s.Whole && even:
		if side = "not above"; s.GainsAbove {
			side = "above"
		}
		return fmt.Sprintf("Break-even: %s of %s%s; with it the mean net present value %s of %s is %s 0 for the first time%s.", name, Plain(s.Value), unit, TaxWords(c), alternative, side, base)
	case s.Whole && s.GainsAbove:
		return fmt.Sprintf("%s of %s is reached with %s of %s%s for the first time%s.", targetText(s.Target, c), alternative, name, Plain(s.Value), unit, base)
	case s.Whole:
		return fmt.Sprintf("%s of %s is no longer reached with %s of %s%s%s.", targetText(s.Target, c), alternative, name, Plain(s.Value), unit, base)
	case even:
		return fmt.Sprintf("Break-even: %s of %s%s. There the mean net present value %s of %s is 0; it is positive %s%s that%s%s.", name, Plain(s.Value), unit, TaxWords(c), alternative, near, side, within, base)
	}
	better := "higher"
	if s.Target.Measure == savings.OfPayback || s.Target.Measure == savings.OfDiscounted {
		better = "shorter"
	}
	return fmt.Sprintf("%s of %s is reached with %s of %s%s; it is %s %s%s that%s%s.", targetText(s.Target, c), alternative, name, Plain(s.Value), unit, better, near, side, within, base)
}

// notReached says that no value tried lies at the target.
func notReached(s savings.Solution, c *savings.Case, name, unit string) string {
	moves, alternative := "", AlternativeName(c.Alternative)
	if s.Flat {
		moves = ", and the same for each"
	}
	tried := fmt.Sprintf("%s tried, %s to %s%s%s", name, Plain(s.Low), Plain(s.High), unit, moves)
	best := ""
	if !s.Always && !s.Flat && s.AtBest == s.AtBest {
		if s.Whole && s.Best == 1 {
			unit = " year"
		}
		best = fmt.Sprintf("; the best is %s, with %s%s", measureText(s.Target, s.AtBest, c), Plain(s.Best), unit)
	}
	even := s.Target == savings.Target{}
	switch {
	case even && s.Always:
		return fmt.Sprintf("The mean net present value %s of %s is above 0 for every %s: there is no break-even in that range.", TaxWords(c), alternative, tried)
	case even:
		return fmt.Sprintf("The mean net present value %s of %s is not above 0 for any %s: there is no break-even in that range%s.", TaxWords(c), alternative, tried, best)
	case s.Always:
		return fmt.Sprintf("%s of %s is reached with every %s: there is no limit in that range.", targetText(s.Target, c), alternative, tried)
	}
	return fmt.Sprintf("%s of %s is not reached with any %s%s.", targetText(s.Target, c), alternative, tried, best)
}

// targetText is what is to be reached: "A payback of 2 years after tax (median of the
// draws)".
func targetText(t savings.Target, c *savings.Case) string {
	return map[savings.Measure]string{savings.OfNPV: "A net present value of ", savings.OfPayback: "A payback of ", savings.OfDiscounted: "A payback at present value of ", savings.OfIRR: "An internal rate of return of "}[t.Measure] +
		measureText(t, t.Value, c)
}

// measureText is a value of what a target is of, with how it is taken over the draws.
func measureText(t savings.Target, x float64, c *savings.Case) string {
	of := " " + TaxWords(c) + " (median of the draws)"
	switch {
	case t.Measure == savings.OfNPV:
		return Money(x, 0) + " " + Currency(c) + " " + TaxWords(c) + " (mean of the draws)"
	case t.Measure == savings.OfIRR:
		return Plain(100*x) + " %" + of
	case math.IsInf(x, 1):
		return "never" + of
	}
	return Plain(x) + " years" + of
}
