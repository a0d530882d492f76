package main

import (
	"errors"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

var errNothing = errors.New("nothing was simulated yet")

// moneyCases are the savings cases of the alternatives that are on.
type moneyCases struct {
	cases   []*savings.Case // by alternative; nil where there is none
	reasons []error         // why not
	steps   savings.Steps
}

func moneyOf(study *model.Study, rs *replicate.Results, opt savings.Options) *moneyCases {
	m := &moneyCases{}
	m.cases, m.reasons = savings.Cases(study, rs, opt)
	m.steps = savings.StepsOf(study, rs, m.cases, opt)
	return m
}

// json is the money of each alternative against the first, by cause; of one without a
// case why there is none.
func (m *moneyCases) json(rs *replicate.Results, sys model.System) []object {
	var list []object
	for i := 1; i < len(m.cases); i++ {
		c := m.cases[i]
		name := rs.Alternatives[i].Alternative
		if c == nil {
			list = append(list, object{{"alternative", name}, {"missing", whyNone(m.reasons[i])}})
			continue
		}
		var causes []object
		x, cur := c.Random, words.Currency(c)
		a := cur + "/year"
		for _, s := range c.Save {
			if r := c.Random.Save[s.Cause]; s.Given && !words.Idle(s, r) {
				causes = append(causes, append(object{{"key", s.Cause.Key()}, {"label", words.CauseLabel(s.Cause)}}, amount(r, a)...))
			}
		}
		list = append(list, object{{"alternative", name}, {"currency", cur}, {"best", i == m.steps.Shown()},
			{"total", amount(x.Total, a)}, {"causes", causes},
			{"investment", amount(x.Investment, cur)}, {"npv", amount(x.NPV, cur)}, {"chance", x.Gains},
			{"cash", cash(c)},
			{"payback", object{{"unit", "years"}, {"value", x.Simple.Median}, {"low", x.Simple.Low}, {"high", x.Simple.High}, {"text", words.Payback(x.Simple.Median)}, {"span", words.PaybackSpan(x.Simple)}}},
			{"tax", words.TaxWords(c)}, {"doubts", doubts(c)}})
	}
	return list
}

// amount is an amount of money with its limits; both are told where all but the rarest
// draws agree and the mean differs.
func amount(s savings.Spread, unit string) object {
	half, span := words.HalfOf(s), words.MoneySpan(s)
	if half != 0 && s.Low == s.High {
		span += " – " + span
	}
	return object{{"unit", unit}, {"value", s.Mean}, {"low", s.Low}, {"high", s.High}, {"text", words.Money(s.Mean, half)}, {"span", span}}
}

// whyNone says why an alternative has no savings case.
func whyNone(err error) string {
	if needs := (*savings.NeedsError)(nil); errors.As(err, &needs) {
		return strings.Join(words.NeedsText(needs), "; ")
	}
	return legible.Visible(err.Error())
}

// cash is the cash flow by year: the net of a year in the mean of the draws, the sum up
// to it and the limits of that.
func cash(c *savings.Case) []object {
	var list []object
	sum := 0.0
	for i, y := range words.MeanFlows(c) {
		sum += y.Net
		s := c.Random.Cumulative[i]
		list = append(list, object{{"year", y.Year}, {"net", y.Net}, {"sum", sum}, {"low", s.Low}, {"high", s.High}})
	}
	return list
}

// short is what is recommended of several alternatives, and what it saves.
func (m *moneyCases) short() []string {
	var list []string
	if s := words.StepsShown(&m.steps); s != "" && m.steps.Several() {
		list = append(list, s+".")
	}
	if c := m.cases[m.steps.Shown()]; c != nil {
		list = append(list, words.SavedSentence(c))
	}
	return list
}

// doubts are what makes a savings case doubtful, each once.
func doubts(c *savings.Case) []string {
	var list []string
	for _, w := range c.Warnings {
		if text := words.Capital(words.WarningText(c, w)); !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}
