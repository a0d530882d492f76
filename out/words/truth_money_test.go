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

type changed = func(*model.Study, *replicate.Results)

// moneyTruth is a savings case, what is said of it, and what not.
type moneyTruth struct {
	what   string
	change changed
	says   []string
	never  []string
}

func (x moneyTruth) said(t *testing.T) []string {
	t.Helper()
	if moneySaid[x.what] == nil {
		c, _ := invented.Valued(t, x.change)
		moneySaid[x.what] = append(CaseSentences(c, model.Metric), LimitedBy(c), MoneyNote(c), CoveredOfAll([]*savings.Case{nil, c, c}))
	}
	return moneySaid[x.what]
}

// moneySaid is what the cases say, by their names; two tests look at it.
var moneySaid = map[string][]string{}

func together(list ...changed) changed {
	return func(s *model.Study, rs *replicate.Results) {
		for _, f := range list {
			f(s, rs)
		}
	}
}

// fixedPrices leaves nothing that varies in the economics, with a demand that
// both can meet.
var fixedPrices = together(invented.Prices(func(e *model.Economics) { e.Demand, e.MaterialCost = model.Const(15e6), model.Const(0.55) }),
	func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Investment = model.Const(166000) })

// recorded leaves a tenth of every figure open by the records.
func recorded(_ *model.Study, rs *replicate.Results) { invented.Recorded(rs, 0.1) }

// noiseless takes the noise out of the simulation.
func noiseless(_ *model.Study, rs *replicate.Results) {
	for i, r := range rs.Alternatives {
		for _, m := range []replicate.Metrics{r.Metrics, rs.Differences[i]} {
			for k, e := range m {
				e.HalfWidth, e.SD, e.Low, e.High = 0, 0, e.Mean, e.Mean
				m[k] = e
			}
		}
	}
}

// good sets the good web of both alternatives, m/min, and the half width of
// each and of their difference.
func good(first, other, half float64) changed {
	return func(_ *model.Study, rs *replicate.Results) {
		rs.Alternatives[0].Metrics["good_rate"] = invented.Speed(first, half)
		rs.Alternatives[1].Metrics["good_rate"] = invented.Speed(other, half)
		rs.Differences[1]["good_rate"] = invented.Speed(other-first, half)
	}
}

func demandIs(d model.Dist) changed {
	return invented.Prices(func(e *model.Economics) { e.Demand = d })
}

func invest(d model.Dist) changed {
	return func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Investment = d }
}

func maintain(x float64) changed {
	return func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Maintenance = model.Const(x) }
}

func onlyOnce(_ *model.Study, rs *replicate.Results) { *rs = *invented.Once() }

// alike makes the alternative the first again.
func alike(s *model.Study, rs *replicate.Results) {
	s.Alternatives[1].Investment, s.Alternatives[1].Maintenance, s.Alternatives[1].Salvage = model.Dist{}, model.Dist{}, model.Dist{}
	rs.Alternatives[1].Metrics = rs.Alternatives[0].Metrics
	for k, e := range rs.Differences[1] {
		rs.Differences[1][k] = invented.Estimate(e.Unit, 0, 0)
	}
}

func moneyTruths() []moneyTruth {
	noTax := invented.Prices(func(e *model.Economics) { e.TaxRate, e.DepreciationYears = model.Dist{}, model.Dist{} })
	saves, costs, unsure := `"zero-speed, 60 m" saves `, `"zero-speed, 60 m" costs `, `It is not shown that "zero-speed, 60 m" saves anything compared with "by hand": `
	limits := `They do not cover how well the line itself is known: its times, speeds and sizes. A sensitivity analysis does (rollchange sensitivity --metric savings,npv,payback).`
	return []moneyTruth{
		{"a saving that is sure", nil, []string{saves, "a year before tax compared with \"by hand\" (mean of 400 draws; 95 % of them lie in ",
			"The limits cover the 3 economic inputs that vary and the noise of the simulation. They", limits, "savings are before tax, net flows and everything calculated from them after tax"},
			[]string{costs, unsure, "no tax"}},
		{"a saving within its interval", maintain(200000), []string{unsure, "(mean of 400 draws; 95 % of them lie in −", "is not paid back within the life in half of the draws or more; at present value it is paid back in "}, []string{"\n" + saves, costs}},
		{"a saving that few events carry", func(_ *model.Study, rs *replicate.Results) {
			d := rs.Differences[1]["good_rate"]
			d.Why, d.Low, d.High, d.HalfWidth = estimate.TooFew, math.NaN(), math.NaN(), math.NaN()
			rs.Differences[1]["good_rate"] = d
			fewEvents(1)(nil, rs)
		}, []string{`It is not shown that "zero-speed, 60 m" saves anything compared with "by hand", because too few events separate the two: `, "; that range is too narrow.", "in about the same hours (no significant difference)"}, []string{"\n" + saves, costs, "fewer hours"}},
		{"a loss", maintain(500000), []string{costs, ` EUR a year more than "by hand" before tax (mean of 400 draws; 95 % of them lie in `,
			"is not paid back within the life in any draw; "}, []string{saves, unsure, "is paid back in"}},
		{"certain, a saving", together(fixedPrices, noiseless), []string{saves, ` EUR a year before tax compared with "by hand".`, "No limits are given: no economic input varies, and the simulation has no noise.", "is paid back in 2.15 years after tax, at present value in 2.46 years; the net"},
			[]string{"draws", "mean", "The limits cover"}},
		{"certain, a loss", together(fixedPrices, noiseless, maintain(500000)), []string{costs, ` EUR a year more than "by hand" before tax.`, "is not paid back within the life; the net"}, []string{saves, "draws"}},
		{"certain, paid back but not at present value", together(fixedPrices, noiseless, invest(model.Const(700000)), invented.Prices(func(e *model.Economics) { e.DiscountRate = model.Const(0.15) })),
			[]string{" years after tax, at present value not within the life; "}, []string{"never"}},
		{"alike", together(fixedPrices, noiseless, alike), []string{`"zero-speed, 60 m" neither saves nor costs anything compared with "by hand".`, "Nothing more is invested, so there is nothing to pay back", "in about the same hours (no significant difference)"},
			[]string{saves, costs, "fewer hours", "is paid back", "more hours"}},
		{"one replication, certain prices", together(fixedPrices, onlyOnce), []string{"No limits are given: no economic input varies, and one replication gives no limits for the noise of the simulation."}, []string{"The limits cover"}},
		{"one replication, prices that vary", onlyOnce, []string{"The limits cover the 3 economic inputs that vary; one replication gives no limits for the noise of the simulation."}, nil},
		{"one price varies", together(fixedPrices, invest(model.Dist{Law: model.Uniform, A: 1e5, B: 2e5})), []string{"The limits cover the one economic input that varies and the noise of the simulation."}, nil},
		{"no noise, prices that vary", noiseless, []string{"The limits cover the 3 economic inputs that vary; the simulation has no noise."}, nil},
		{"certain prices", fixedPrices, []string{"The limits cover the noise of the simulation; no economic input varies."}, nil},

		{"with the records", recorded, []string{"The limits cover the 3 economic inputs that vary, the noise of the simulation and what the records leave open. Of the line they cover what values were observed of: its other times, its speeds and its sizes are taken as they are written."}, []string{limits}},
		{"with the records, certain prices", together(fixedPrices, recorded), []string{"The limits cover the noise of the simulation and what the records leave open; no economic input varies. Of the line"}, []string{limits}},

		{"no demand", demandIs(model.Dist{}), []string{`Capacity-limited: no demand is given, so all good web counts as sold: the 23,330 km that "by hand" can make in a year and the 30,820 km of "zero-speed, 60 m".`, "\ncapacity-limited"}, []string{"Demand-limited", "not certain"}},
		{"demand above both", demandIs(model.Const(50e6)), []string{`Capacity-limited: the demand of 50,000 km a year exceeds the 23,330 km`, "so both sell all they make."}, []string{"Demand-limited", "not certain", "fewer hours"}},
		{"demand below both, faster", demandIs(model.Const(15e6)), []string{`Demand-limited: the demand of 15,000 km a year is within the 23,330 km`, "so the same good web is made in fewer hours."}, []string{"more hours", "not certain", "significant"}},
		{"demand below both, slower", together(demandIs(model.Const(15e6)), good(100, 90, 1)), []string{"so the same good web is made in more hours."}, []string{"fewer hours"}},
		{"demand below both, within noise", together(demandIs(model.Const(15e6)), good(100, 100.5, 3)), []string{"so the same good web is made in about the same hours (no significant difference)."}, []string{"fewer hours", "more hours"}},
		{"demand below both, once", together(demandIs(model.Const(15e6)), onlyOnce), []string{"in about the same hours (no significant difference)"}, []string{"fewer hours"}},
		{"demand between", together(demandIs(model.Const(27e6)), noiseless), []string{`Between the two cases: the demand of 27,000 km a year lies between the 23,328 km`, `"by hand" sells all it makes, "zero-speed, 60 m" meets the demand in fewer hours than planned.`, "\ndemand between the two"}, []string{"Demand-limited", "not certain"}},
		{"demand between, the other way", together(demandIs(model.Const(23e6)), good(100, 90, 0)), []string{`"zero-speed, 60 m" sells all it makes, "by hand" meets the demand`}, nil},
		{"demand around one capacity", demandIs(model.Dist{Law: model.Uniform, A: 21328e3, B: 25328e3}), []string{"What limits sales is not certain: the mean demand is 23,328 km a year, compared with the 23,330 km",
			"of the draws demand limits sales: both can meet it, and the same good web is made in fewer hours; in ", "of the draws the demand lies between the two, and only one can meet it.", "% demand-limited"}, []string{"capacity limits", "Demand-limited:"}},
		{"demand around both capacities", demandIs(model.Dist{Law: model.Uniform, A: 20e6, B: 34e6}), []string{"of the draws demand limits sales", "the demand lies between the two", "of the draws capacity limits sales: neither can meet the demand, and both sell all they make."}, nil},
		{"hours of its own", together(demandIs(model.Const(50e6)), func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[1].Line.Economics.HoursPerYear = model.Const(5000 * 3600)
		}), []string{`the 23,330 km that "by hand" can make in its 4000 h and the 38,520 km of "zero-speed, 60 m" in its 5000 h`}, []string{"in a year"}},

		{"nothing invested", invest(model.Dist{}), []string{"Nothing more is invested, so there is nothing to pay back; the net present value after tax over 10 years at 8 % is "}, []string{"is paid back", "less is invested"}},
		{"less invested", together(invest(model.Dist{}), func(s *model.Study, _ *replicate.Results) { s.Alternatives[0].Investment = model.Const(20000) }),
			[]string{`20,000 EUR less is invested than with "by hand", so there is nothing to pay back`}, []string{"is paid back", "Nothing more"}},
		{"invested in some draws", together(invest(model.Dist{Law: model.Uniform, A: 0, B: 40000}), func(s *model.Study, _ *replicate.Results) { s.Alternatives[0].Investment = model.Const(20000) }),
			[]string{`of the draws more is invested than with "by hand"; in those draws the investment is paid back in`, "At present value it is paid back within the life in all of them."}, []string{"The investment of"}},
		{"invested in some draws, sometimes in vain", together(invest(model.Dist{Law: model.Uniform, A: 0, B: 3e6}), func(s *model.Study, _ *replicate.Results) { s.Alternatives[0].Investment = model.Const(500000) }),
			[]string{" % of them. "}, nil},
		{"invested in some draws, mostly in vain", together(invest(model.Dist{Law: model.Uniform, A: 0, B: 9e6}), func(s *model.Study, _ *replicate.Results) { s.Alternatives[0].Investment = model.Const(20000) }),
			[]string{"is not paid back within the life in half of the draws or more; at present value it is paid back in ", " % of them; "}, nil},
		{"never", invest(model.Const(5e6)), []string{"The investment of 5,000,000 EUR is not paid back within the life in any draw; "}, []string{"is paid back in", "half"}},
		{"never, certain", together(fixedPrices, noiseless, invest(model.Const(5e6))), []string{"The investment of 5,000,000 EUR is not paid back within the life; "}, []string{"draw"}},
		{"paid back in most draws", invest(model.Dist{Law: model.Uniform, A: 2e5, B: 1.4e6}), []string{"At present value it is paid back within the life in ", " % of the draws. ", "positive in "}, []string{"all 400 draws"}},
		{"paid back in all draws", nil, []string{"is paid back in ", " years after tax (", "; these are medians. At present value it is paid back within the life in all 400 draws."}, []string{"positive", "not paid back"}},
		{"no tax", noTax, []string{" years before tax (", "The net present value before tax over 10 years", "; all figures are before tax"}, []string{"after tax"}},
		{"life and rate that vary", invented.Prices(func(e *model.Economics) {
			e.Life, e.DiscountRate = model.Dist{Law: model.Uniform, A: 6, B: 10}, model.Dist{Law: model.Uniform, A: 0.06, B: 0.1}
		}), []string{"over 8 years (mean) at 8 % (mean) is "}, nil},
		{"one year", invented.Prices(func(e *model.Economics) { e.Life = model.Const(1) }), []string{"over 1 year at 8 % is "}, []string{"1 years"}},
	}
}

func TestSentencesOfMoneyAreTrue(t *testing.T) {
	for _, x := range moneyTruths() {
		said := strings.Join(x.said(t), "\n")
		truth{what: x.what, says: x.says, never: x.never}.check(t, said)
	}
}

// The figures of the sentences are those of the draws: mean and limits.
func TestTheHeadlineIsTheMeanOverTheDraws(t *testing.T) {
	c, _ := invented.Valued(t, demandIs(model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3}))
	r := c.Random
	require.Greater(t, math.Abs(c.Total.Value-r.Total.Mean), 20000., "the figure with mean inputs is another one")
	want := Money(r.Total.Mean, HalfOf(r.Total))
	assert.Contains(t, SavedSentence(c), want+" EUR")
	assert.Contains(t, SavedSentence(c), MoneySpan(r.Total))
	assert.Contains(t, WorthSentence(c), Money(r.NPV.Mean, HalfOf(r.NPV))+" EUR (mean; "+MoneySpan(r.NPV)+")")
}

// differing are cases whose limits cover inputs of their own.
func differing(t *testing.T, more ...changed) []*savings.Case {
	a, _ := invented.Valued(t, together(more...))
	b, _ := invented.Valued(t, together(append(more, invest(model.Const(160000)))...))
	return []*savings.Case{nil, a, b}
}

// What the limits of several cases cover is said of each where it differs.
func TestCoveredOfCasesThatDiffer(t *testing.T) {
	list := differing(t)
	said := CoveredOfAll(list)
	assert.True(t, strings.HasPrefix(said, "The limits cover the economic inputs that vary in each alternative and the noise of the simulation."), said)
	assert.NotContains(t, CoveredOfAll(list[:2]), "in each alternative")
}
