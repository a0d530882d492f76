package savings

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/sim"
)

// Warning is something that makes the answer look better, or surer, than it is.
type Warning struct {
	Name string // "no_other_stops"
	Text string
}

// warn names what the reader should know.
func (c *Case) warn(study *model.Study, rs *sim.Results, i int) {
	add := func(name, format string, a ...any) {
		c.Warnings = append(c.Warnings, Warning{name, fmt.Sprintf(format, a...)})
	}
	l := &study.Alternatives[i].Line
	if l.WebBreaks == nil && len(l.Stops) == 0 && l.Jobs == nil {
		add("no_other_stops", "the study has no web breaks, stops or jobs: a line that stops for nothing else makes automatic changes look better than they are, so this saving is overstated")
	}
	if !c.in[demand].Given {
		add("demand_missing", "economics.demand is not given: every extra metre of good web counts as sold at the full price, which is the most that it can be worth")
	}
	if !c.in[price].Given {
		add("price_missing", "economics.price is not given: output beyond that of the first alternative counts as worth nothing")
	}
	if !c.in[investment1].Given {
		add("investment_missing", "alternative.investment is not given: it counts as 0, so there is nothing to pay back")
	}
	if h := c.mean[hours]; h > 8784*hour {
		add("hours_above_a_year", "economics.hours_per_year is %s: a year has 8760", hoursText(h))
	}
	if c.Save[CrewHours].Value > 0 {
		what := "fewer hours"
		if c.side[1].Operators < c.side[0].Operators {
			what = "fewer operators"
		}
		add("freed_operators", "%s of crew time a year count as saved because of %s: that is money only if the people can leave or do other paid work in that time",
			hoursText(c.Years[0].OperatorHours-c.Years[1].OperatorHours), what)
	}
	if c.Save[LineHours].Value > 0 {
		add("freed_line_hours", "%s of line time a year count as saved: economics.line_cost should hold only what is not spent while the line stands",
			hoursText(c.Years[0].LineHours-c.Years[1].LineHours))
	}
	if c.Kind == DemandLimited && !c.in[crew].Given && !c.in[line].Given {
		add("hours_without_cost", "neither economics.crew_cost nor economics.line_cost is given: the hours that are not needed count as worth nothing")
	}
	if !c.in[material].Given {
		add("material_cost_missing", "economics.material_cost is not given: waste counts as costing no web")
	}
	if d := rs.Differences[i]["good_rate"]; rs.Run.Replications > 1 && !d.Shown() {
		add("output_not_shown", "no difference in good web is shown: its half width is larger than it is")
	}
	if rs.Run.Replications < 2 {
		add("one_replication", "one replication says nothing of how sure the simulated figures are: the ranges hold the economic inputs only")
	}
	if c.in[depreciation].Given && !c.in[tax].Given {
		add("tax_missing", "economics.depreciation_years is given and economics.tax_rate is not: no tax is reckoned")
	}
	if n := c.mean[life]; n != math.Round(n) && c.in[life].Dist.IsConst() {
		add("life_rounded", "the life of %.4g years counts as %d: flows are at the ends of whole years", n, wholeYears(n))
	}
	if len(c.Worth.Rates) > 1 {
		add("rates_not_unique", "the cash flow has %d internal rates of return: decide by the net present value", len(c.Worth.Rates))
	}
	if differs(&study.Alternatives[0].Line.Economics, &l.Economics) {
		add("economics_differ", "the economics of %q differ from those of %q: both are reckoned with those of %q", c.Against, c.Alternative, c.Alternative)
	}
}

func hoursText(seconds float64) string { return fmt.Sprintf("%.4g h", seconds/hour) }

// differs says whether two sets of prices are not the same.
func differs(a, b *model.Economics) bool {
	return fmt.Sprintf("%v", *a) != fmt.Sprintf("%v", *b)
}
