package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// residualNote is a note on a residual, its costs in a currency that may have no name.
func residualNote(n whatif.Note, currency string, in func(float64) string, sys model.System) string {
	money := func(x float64) string {
		return strings.TrimSpace(digits(x, 4) + " " + currency)
	}
	switch n := n.(type) {
	case whatif.FreeBest:
		return fmt.Sprintf("without that limit the best is %s, at %s a roll", in(n.X), money(n.Cost))
	case whatif.ResidualCosts:
		return costsText(n, money, sys)
	case whatif.RollCosts:
		return fmt.Sprintf("a roll costs %s at a set point of %s and %s at the present %s; %s runs out, at present %s",
			money(n.Best.Cost), in(n.Best.X), money(n.Now.Cost), in(n.Now.X), oneInText(n.Best.RunOut), oneInText(n.Now.RunOut))
	case whatif.NothingLeft:
		return "at that set point no web is left to run on if the next roll is late: the unwind then stops at once"
	}
	return ""
}

// costsText says what web and run-outs cost, and how that was found.
func costsText(n whatif.ResidualCosts, money func(float64) string, sys model.System) string {
	how := fmt.Sprintf("a metre of web left costs %s: width x (material + disposal x grammage)", money(n.Web))
	if n.WebGiven {
		how = fmt.Sprintf("a metre of web left costs %s, as given", money(n.Web))
	}
	switch {
	case n.Short > 0:
		return how + fmt.Sprintf("; a metre short costs %s, as given", money(n.Short))
	case n.RunOutGiven:
		return how + fmt.Sprintf("; a run-out costs %s, as given", money(n.RunOut))
	}
	return how + fmt.Sprintf("; a run-out costs %s: %s min of an operator and the line, %s of scrap, output lost %s",
		money(n.RunOut), Short(60*(n.Work/3600), 3), inUnits(n.Scrap, model.Length, sys), money(n.Lost))
}
