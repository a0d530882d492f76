package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// OverDraws is a figure in the mean of the draws to the digits that it deserves, and the
// range that the confidence of the run holds; no range where it is the same in every draw.
func OverDraws(s savings.Spread, u model.Unit) (mean, span string) {
	if certain(s) {
		return Whole(u.From(s.Mean)), ""
	}
	return between(u.From(s.Mean), u.From(s.Low), u.From(s.High), " – ")
}

// UnitOverDraws is the unit of lengths of web of a year that stand in one row: that of the
// largest of them and of the narrowest range.
func UnitOverDraws(list []savings.Spread, sys model.System) model.Unit {
	largest, half := 0.0, 0.0
	for _, s := range list {
		largest = max(largest, math.Abs(s.Mean))
		if h := HalfOf(s); h > 1e-9*math.Abs(s.Mean) && (half == 0 || h < half) {
			half = h
		}
	}
	return LongUnitOf(largest, half, sys)
}

// CountedSentence names what the money of a case counts beside a year that is like another:
// what is spent or lost once, what differs by year, hours and operators of each side,
// income from waste, tax. Empty where none of it is set.
func CountedSentence(c *savings.Case, sys model.System) string {
	var list []string
	add := func(text string) { list = append(list, text) }
	given := map[string]*savings.Input{}
	for i := range c.Inputs {
		given[c.Inputs[i].Key] = &c.Inputs[i]
	}
	r := c.Random
	if given["alternative.start_up_cost"] != nil || given["first.start_up_cost"] != nil {
		add(fmt.Sprintf("%s %s for start-up before tax%s", Money(r.StartUp.Mean, HalfOf(r.StartUp)), Currency(c), meanOf(r.StartUp)))
	}
	if c.Standing() > 0 {
		costs := fmt.Sprintf("which costs %s %s before tax%s", Money(r.Lost.Mean, HalfOf(r.Lost)), Currency(c), meanOf(r.Lost))
		if r.Stands.Share == 0 {
			costs = "which costs nothing, since the year has time to spare"
		}
		add(fmt.Sprintf("%s of standstill for the installation, %s", hoursText(c.Standing()), costs))
	}
	if x := spentByYear(c); x != "" {
		add(x)
	}
	if x := learningText(c); x != "" {
		add(x)
	}
	if x := priceChangesText(c); x != "" {
		add("prices that change each year: " + x)
	}
	if c.HoursDiffer {
		add(fmt.Sprintf("planned hours of each: %s h with %s, %s h with %s", Whole(c.Hours[0]/3600), AlternativeName(c.Against), Whole(c.Hours[1]/3600), AlternativeName(c.Alternative)))
	}
	if share, is := c.Leaves(); is {
		add(fmt.Sprintf("%s %% of the freed operator hours as no longer paid", perCent(share)))
	}
	if in := given["economics.waste_income"]; in != nil {
		u := PriceUnit(in.Unit, sys)
		add(fmt.Sprintf("income from waste at %s %s%s", Plain(u.From(in.Value)), UnitText(u.Name), meanIn(in)))
	}
	if in := given["economics.tax_rate"]; in != nil {
		tax := fmt.Sprintf("tax of %s %%%s on profit", Plain(in.Value), meanIn(in))
		if n := c.DepreciationYears(); n > 0 {
			tax += fmt.Sprintf(", the investment written off over %s", counted(n, "year"))
		}
		add(tax)
	}
	if len(list) == 0 {
		return ""
	}
	return "The money counts " + strings.Join(list, "; ") + "."
}

// spentByYear says in which years the investment is spent; empty where it is in year 0.
func spentByYear(c *savings.Case) string {
	var parts []string
	for t := range c.Worth.Flow {
		if share, _ := c.Spending(1, t); share > 0 {
			parts = append(parts, perCent(share)+" % in year "+strconv.Itoa(t))
		}
	}
	if x, _ := c.Spending(1, 0); x == 1 || len(parts) == 0 {
		return ""
	}
	return "an investment spent by year: " + Shorten(strings.Join(parts, ", "), 200)
}

// meanOf says that an amount is a mean, where it is one.
func meanOf(s savings.Spread) string {
	if certain(s) {
		return ""
	}
	return " (mean)"
}

func meanIn(in *savings.Input) string {
	if in.Varies() {
		return " (mean)"
	}
	return ""
}
