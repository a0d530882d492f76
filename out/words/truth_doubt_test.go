package words

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// stopsOf leaves stops to the sides that are named.
func stopsOf(sides ...int) changed {
	return func(s *model.Study, _ *replicate.Results) {
		kept := [2][]model.Stop{}
		for _, i := range sides {
			kept[i] = s.Alternatives[i].Line.Stops
		}
		for i := range s.Alternatives {
			s.Alternatives[i].Line.Stops = kept[i]
		}
	}
}

func operators(n int) changed {
	return func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Line.Crew.Operators = n }
}

func prices(change func(*model.Economics)) changed { return invented.Prices(change) }

func hoursOf(hours float64) changed {
	return func(s *model.Study, _ *replicate.Results) {
		s.Alternatives[1].Line.Economics.HoursPerYear = model.Const(hours * 3600)
	}
}

// Each doubt is told where it is true, with its figures, and not where it is
// false; and there is no doubt without a case here.
func TestWarningsAreTrue(t *testing.T) {
	below, above, free := demandIs(model.Const(15e6)), demandIs(model.Const(50e6)), demandIs(model.Dist{})
	noPrice := prices(func(e *model.Economics) {
		e.Price, e.Demand = model.Dist{}, model.Dist{Law: model.Uniform, A: 15e6, B: 24e6}
	})
	few := func(needed int) changed {
		return func(_ *model.Study, rs *replicate.Results) {
			d := rs.Differences[1]["good_rate"]
			d.Why, d.Low, d.High, d.HalfWidth, d.Needed = estimate.TooFew, math.NaN(), math.NaN(), math.NaN(), needed
			rs.Differences[1]["good_rate"] = d
		}
	}
	told := map[savings.Doubt]bool{}
	for _, x := range []struct {
		change      changed
		says, never string
	}{
		{stopsOf(0), `"by hand" has web breaks, stops or jobs and "zero-speed, 60 m" has none: what they take counts as saved`, "what they take counts as lost"},
		{stopsOf(1), `"zero-speed, 60 m" has web breaks, stops or jobs and "by hand" has none: what they take counts as lost`, "what they take counts as saved"},
		{together(stopsOf(), above), "difference in good web is overstated", "than shown here"},
		{together(stopsOf(), below), "can make less in their hours than shown here", "overstated"},
		{stopsOf(0, 1), "", "web breaks, stops or jobs"},
		{free, "every extra metre of good web counts as sold, because no demand is given", "every metre less"},
		{together(free, good(100, 90, 0.1)), "every metre less of good web counts as lost, because no demand is given", "every extra metre"},
		{above, "", "no demand is given"},
		{noPrice, " % of the draws more good web is sold than with the first alternative, but it counts as worth nothing", "less good web"},
		{together(noPrice, good(90, 89, 0.1)), " % of the draws less good web is sold than with the first alternative, but it counts as no loss", "more good web"},
		{invest(model.Dist{}), "no investment is given: it counts as 0", ""},
		{nil, "", "no investment"},
		{together(hoursOf(9000), below), `the planned hours a year of "zero-speed, 60 m" (9000 h on average) exceed the 8784 h of a leap year`, `year of "by hand"`},
		{together(hoursOf(5000), below), `"by hand" has 4000 h planned hours a year and "zero-speed, 60 m" 5000 h: part of the difference`, "leap year"},
		{below, "because of fewer hours: ", "part of the difference"},
		{together(below, operators(1)), "because of fewer operators and fewer hours: ", ""},
		{together(above, operators(1)), "4000 h of crew time a year count as saved because of fewer operators: ", "line time"},
		{together(below, noiseless), "h of line time a year count as saved", "draws"},
		{together(below, prices(func(e *model.Economics) { e.CrewCost, e.LineCost = model.Dist{}, model.Dist{} })), "fewer hours are needed, but they count as worth nothing", "count as saved"},
		{prices(func(e *model.Economics) { e.MaterialCost = model.Dist{} }), "no cost of web is given", ""},
		{few(300), "too few events separate the two for an interval from 10 replications, so the range of what is saved is too narrow; 300 replications would do", ""},
		{few(0), "so the range of what is saved is too narrow", "would do"},
		{good(100, 100.5, 3), "the two do not differ significantly in good web", "too few"},
		{nil, "", "significantly"},
		{onlyOnce, "one replication gives no limits", "significantly"},
		{prices(func(e *model.Economics) { e.TaxRate = model.Dist{} }), "years of depreciation are given but no tax rate", ""},
		{prices(func(e *model.Economics) { e.Life = model.Const(7.4) }), "the life of 7.4 years counts as 7: ", ""},
		{nil, "", "the life of"},
		{func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Salvage = model.Const(-5e6) }, "the cash flow has more than one internal rate of return", ""},
		{nil, "", "more than one"},
		{together(below, leaving(0.6)), "h of crew time a year are freed because of fewer hours, and 60.0 % of it counts as saved: that is money only if so much of it is really no longer paid", "people can leave"},
		{together(below, leaving(0)), "", "of crew time a year"},
		{byYear(func(a *model.Alternative) { a.InvestmentByYear = append(make([]float64, 12), 1) }), "the life ends before all is spent that the scenario invests or spends by year", ""},
		{byYear(func(a *model.Alternative) { a.InvestmentByYear = []float64{0.5, 0.5} }), "", "the life ends before"},
		{together(noPrice, noiseless, installed(400)), " % of the draws less good web is made while the line stands to be changed, but it counts as no loss, because no price is given", ""},
		{together(above, installed(400)), "", "while the line stands to be changed"},
	} {
		c, _ := invented.Valued(t, x.change)
		var said []string
		for _, w := range c.Warnings {
			told[w.Doubt] = true
			text := WarningText(c, w)
			require.NotEmpty(t, text, w.Doubt.Key())
			said = append(said, text)
		}
		assert.Contains(t, strings.Join(said, "\n"), x.says)
		if x.never != "" {
			assert.NotContains(t, strings.Join(said, "\n"), x.never)
		}
	}
	assert.Len(t, told, int(savings.Doubts))
}

// What a case of another kind would come to is told of the one that does not hold.
func TestOtherCasesAreTrue(t *testing.T) {
	for _, x := range []struct {
		change changed
		says   []string
	}{
		{demandIs(model.Const(50e6)), []string{`demand-limited, if no more were sold than "by hand" can make: `}},
		{together(demandIs(model.Const(50e6)), good(100, 90, 0.1)), []string{`demand-limited, if no more were sold than "zero-speed, 60 m" can make: `}},
		{demandIs(model.Const(15e6)), []string{"capacity-limited, if all good web were sold: "}},
		{together(demandIs(model.Const(15e6)), prices(func(e *model.Economics) { e.Price = model.Dist{} })), []string{"capacity-limited, if all good web were sold: not known, no price is given."}},
	} {
		c, _ := invented.Case(t, x.change)
		require.Len(t, c.Others, len(x.says))
		for i, o := range c.Others {
			assert.True(t, strings.HasPrefix(OtherSentence(c, o), x.says[i]), OtherSentence(c, o))
		}
	}
}

// Every key that is needed is named with the reason.
func TestNeedsAreTrue(t *testing.T) {
	for what, x := range map[string]struct {
		change changed
		says   string
	}{
		"hours": {prices(func(e *model.Economics) { e.HoursPerYear = model.Dist{} }), `economics.hours_per_year is needed for the savings of "zero-speed, 60 m": how long the line may run in a year`},
		"hours of one": {func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[0].Line.Economics.HoursPerYear = model.Dist{}
		}, `how long "by hand" may run in a year; only the other`},
		"of the other": {hoursOf(math.NaN()), `how long "zero-speed, 60 m" may run in a year; only the other`},
		"rate":         {prices(func(e *model.Economics) { e.DiscountRate = model.Dist{} }), "economics.discount_rate is needed"},
		"life":         {prices(func(e *model.Economics) { e.Life = model.Dist{} }), "how many years the equipment is used"},
		"width":        {func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Line.Web.Width = 0 }, "web.width is needed"},
		"grammage":     {func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Line.Web.Grammage = 0 }, "disposal_cost is by the kilogram"},
		"price":        {prices(func(e *model.Economics) { e.Price, e.Demand = model.Dist{}, model.Dist{} }), "what a square metre of the extra good web earns"},
	} {
		study, rs := invented.Study(), invented.Results()
		if what == "of the other" {
			study.Alternatives[1].Line.Economics.HoursPerYear = model.Dist{}
		} else {
			x.change(study, rs)
		}
		_, err := savings.New(study, rs, 1, savings.Options{Draws: 10})
		var needs *savings.NeedsError
		require.ErrorAs(t, err, &needs, what)
		said := NeedsText(needs)
		require.Len(t, said, 1, what)
		assert.Contains(t, said[0], x.says)
	}
}
