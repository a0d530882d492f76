package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// InstallationSentence says what is not made while an alternative is installed; empty
// where the line does not stand for it.
func InstallationSentence(c *savings.Case, sys model.System) string {
	if c.Standing() == 0 {
		return ""
	}
	r, u := c.Random, LongUnit(sys)
	s := fmt.Sprintf("While %s is installed the line stands for %s of year 0", AlternativeName(c.Alternative), hoursText(c.Standing()))
	lost := fmt.Sprintf("%s %s of good web is not made, which costs %s %s before tax", Whole(u.From(r.Stands.Good)), u.Name, Money(r.Lost.Mean, HalfOf(r.Lost)), Currency(c))
	const how = ": its contribution, less the web, disposal, tape and line hours that it would have taken; the operators are still paid."
	switch {
	case r.Stands.Share == 0:
		return s + ". Nothing is lost by that: the year has time enough for the demand " + InDraws(1, r.Draws) + "."
	case r.Stands.Share == 1 && certain(r.Lost):
		return s + ": " + lost + how
	case r.Stands.Share == 1:
		return s + ": " + lost + " (means)" + how
	}
	return fmt.Sprintf("%s. %s the year has no time to spare for that; on average over all draws %s%s", s, Capital(InDraws(r.Stands.Share, r.Draws)), lost, how)
}

// learningText says how the saving grows to all of it; empty where it does at once.
func learningText(c *savings.Case) string {
	list := c.Learning()
	if len(list) == 0 {
		return ""
	}
	var parts []string
	for i, x := range list {
		part := fmt.Sprintf("%s %% of the saving in year %d", perCent(x), i+1)
		if i > 0 {
			part = fmt.Sprintf("%s %% in year %d", perCent(x), i+1)
		}
		parts = append(parts, part)
	}
	return Shorten(strings.Join(parts, ", "), 200) + ", then all, maintenance in full"
}

// priceChangesText says by what prices change a year; empty where they do not.
func priceChangesText(c *savings.Case) string {
	var parts []string
	for _, in := range c.Changes() {
		name := map[string]string{"economics.price_change": "all prices", "economics.output_price_change": "contribution", "economics.material_price_change": "web, tape and income from waste", "economics.wage_change": "wages"}[in.Key]
		sign := "+"
		if in.Value < 0 {
			sign = "−"
		}
		parts = append(parts, fmt.Sprintf("%s %s%s %%%s", name, sign, perCent(math.Abs(in.Value)/100), meanIn(&in)))
	}
	return strings.Join(parts, ", ")
}

func perCent(x float64) string { return Short(100*x, 4) }
