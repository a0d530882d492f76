package words

import (
	"fmt"
	"math"

	"rollchange/sim/savings"
)

// InDraws says in what share of the draws something holds: "in all 10,000
// draws" only when it does in each.
func InDraws(share float64, draws int) string {
	switch {
	case share == 0:
		return fmt.Sprintf("in none of %s draws", Grouped(float64(draws)))
	case share == 1:
		return fmt.Sprintf("in all %s draws", Grouped(float64(draws)))
	case share > 0.999:
		return "in more than 99.9 % of the draws"
	case share < 0.001:
		return "in fewer than 0.1 % of the draws"
	}
	return "in " + number(100*share, 1) + " % of the draws"
}

// WarningText says what makes a savings case look better than it is, and in
// which draws where it is not in all of them.
func WarningText(c *savings.Case, w savings.Warning) string {
	text := doubtText(c, w)
	if w.Share < 1 { // false for NaN: it does not hang on the draws
		text = InDraws(w.Share, c.Random.Draws) + " " + text
	}
	return text
}

func doubtText(c *savings.Case, w savings.Warning) string {
	names := [2]string{c.Against, c.Alternative}
	switch w.Doubt {
	case savings.StopsDiffer:
		counts := [2]string{"saved", "lost"}[w.Side]
		return fmt.Sprintf("%q has web breaks, stops or jobs and %q has none: what they take counts as %s", names[w.Side], names[1-w.Side], counts)
	case savings.NoStopsOfMore:
		return "sales are limited by what the lines can make, and the study has no web breaks, stops or jobs: real lines stop for more than roll changes, so both make less and their difference in good web is overstated"
	case savings.NoStops:
		return "the study has no web breaks, stops or jobs: real lines stop for more than roll changes, so both can make less in their hours than shown here"
	case savings.NoDemandMore:
		return "every extra metre of good web counts as sold, because no demand is given: this is the most it can be worth"
	case savings.NoDemandLess:
		return "every metre less of good web counts as lost, because no demand is given: this is the most it can cost"
	case savings.NoPriceMore:
		return "more good web is sold than with the first alternative, but it counts as worth nothing, because no price is given"
	case savings.NoPriceLess:
		return "less good web is sold than with the first alternative, but it counts as no loss, because no price is given"
	case savings.NoInvestment:
		return "no investment is given: it counts as 0"
	case savings.HoursAboveAYear:
		return fmt.Sprintf("the planned hours a year of %q (%s on average) exceed the 8784 h of a leap year", names[w.Side], hoursText(c.Hours[w.Side]))
	case savings.HoursDiffer:
		return fmt.Sprintf("%q has %s planned hours a year and %q %s: part of the difference comes from the hours, not from roll changes", names[0], hoursText(c.Hours[0]), names[1], hoursText(c.Hours[1]))
	case savings.FreedOperators:
		if share, given := c.Leaves(); given {
			return fmt.Sprintf("%s of crew time a year are freed because of %s, and %s %% of it counts as saved: that is money only if so much of it is really no longer paid", hoursText(c.Random.FreedCrew.Mean), fewer(c), Percent(share))
		}
		return fmt.Sprintf("%s of crew time a year count as saved because of %s: that is money only if the people can leave or do other paid work in that time", hoursText(c.Random.FreedCrew.Mean), fewer(c))
	case savings.FreedLineHours:
		return fmt.Sprintf("%s of line time a year count as saved: the cost of a line hour should hold only what is not spent while the line stands", hoursText(c.Random.FreedLine.Mean))
	case savings.HoursForNothing:
		return "fewer hours are needed, but they count as worth nothing, because no cost of a crew or line hour is given"
	case savings.NoMaterialCost:
		return "no cost of web is given: waste counts as costing no web"
	case savings.FewEvents:
		enough := ""
		if c.Needed > 0 {
			enough = fmt.Sprintf("; %s replications would do", Grouped(float64(c.Needed)))
		}
		return fmt.Sprintf("too few events separate the two for an interval from %s replications, so the range of what is saved is too narrow%s", Grouped(float64(c.Run.Replications)), enough)
	case savings.OutputNotShown:
		return "the two do not differ significantly in good web"
	case savings.OneReplication:
		return "one replication gives no limits for the simulated figures: no range covers their noise"
	case savings.NoTaxRate:
		return "years of depreciation are given but no tax rate, so all figures are before tax"
	case savings.LifeRounded:
		return fmt.Sprintf("the life of %s years counts as %d: cash flows are at the ends of whole years", Short(givenLife(c), 4), c.Worth.Life)
	case savings.SpentTooLate:
		return "the life ends before all is spent that the scenario invests or spends by year: what comes after it counts as not spent"
	case savings.LostForNothing:
		return "less good web is made while the line stands to be changed, but it counts as no loss, because no price is given"
	case savings.ManyRates:
		return "the cash flow has more than one internal rate of return: decide by the net present value"
	}
	return ""
}

// fewer says what crew time is saved by.
func fewer(c *savings.Case) string {
	people, hours := c.Line(1).Operators < c.Line(0).Operators, c.Random.Year[1].Hours < c.Random.Year[0].Hours
	switch {
	case people && hours:
		return "fewer operators and fewer hours"
	case people:
		return "fewer operators"
	}
	return "fewer hours"
}

// givenLife is the life before it is rounded to whole years.
func givenLife(c *savings.Case) float64 {
	for i := range c.Inputs {
		if c.Inputs[i].Key == "economics.life" {
			return c.Inputs[i].Value
		}
	}
	return math.NaN()
}

// hoursText is a time in hours, of four digits or all of the whole ones.
func hoursText(seconds float64) string {
	return Short(seconds/3600, 4) + " h"
}

// NeedText says why a key is needed for a savings case.
func NeedText(n savings.Need) string {
	if n.Why == savings.HoursOfOne {
		return fmt.Sprintf("how long %q may run in a year; only the other alternative has it", n.Lacks)
	}
	return whyNeeded[n.Why]
}

var whyNeeded = map[savings.Reason]string{
	savings.HoursOfAYear:   "how long the line may run in a year",
	savings.WorthOfLater:   "what later money is worth today",
	savings.YearsOfUse:     "how many years the equipment is used",
	savings.PricedByArea:   "prices are by the square metre",
	savings.PricedByMass:   "disposal_cost is by the kilogram",
	savings.WorthOfGoodWeb: "what a square metre of the extra good web earns; or economics.demand, if no more is sold than both can make",
}

// NeedsText is a sentence for each key that the scenario would have to give.
func NeedsText(e *savings.NeedsError) []string {
	var s []string
	for _, n := range e.Needs {
		s = append(s, fmt.Sprintf("%s is needed for the savings of %q: %s", n.Key, e.Alternative, NeedText(n)))
	}
	return s
}
