package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// leaving is the share of the freed operator hours that leaves.
func leaving(share float64) changed {
	return prices(func(e *model.Economics) { e.CrewHoursSaved = model.Const(share) })
}

// byYear changes the alternative.
func byYear(change func(*model.Alternative)) changed {
	return func(s *model.Study, _ *replicate.Results) { change(&s.Alternatives[1]) }
}

// installed is how many hours the line stands for it.
func installed(hours float64) changed {
	return byYear(func(a *model.Alternative) { a.Installation = model.Const(hours * 3600) })
}

// courseTruths are cases whose years differ.
func courseTruths() []moneyTruth {
	stands := `While "zero-speed, 60 m" is installed the line stands for 400 h of year 0`
	return []moneyTruth{
		{"no installation", nil, []string{"the investment in year 0; savings in today's money, so the discount rate is a real rate"}, []string{"is installed", "learned", "prices are those of year 0", "start-up in the years"}},
		// 4000 h make 23,328 km; 400 h are 2332.8 km.
		{"installed, all is sold", together(noiseless, demandIs(model.Const(50e6)), installed(400)), []string{stands + ": 2333 km of good web is not made, which costs ", " EUR before tax (means): its contribution, less the web,"}, []string{"Nothing is lost"}},
		{"installed, certain", together(noiseless, fixedPrices, demandIs(model.Const(50e6)), installed(400)), []string{" EUR before tax: its contribution, less the web, disposal, tape and line hours that it would have taken; the operators are still paid."}, []string{"(means)"}},
		{"installed, with time to spare", together(fixedPrices, installed(400)), []string{stands + ". Nothing is lost by that: the year has time enough for the demand in all 400 draws."}, []string{"not made"}},
		{"installed, with time to spare in some draws", together(noiseless, demandIs(model.Dist{Law: model.Uniform, A: 18e6, B: 26e6}), installed(400)), []string{stands + ". In ", " % of the draws the year has no time to spare for that; on average over all draws "}, []string{"Nothing is lost"}},
		{"started up, nothing invested", together(noiseless, fixedPrices, invest(model.Dist{}), byYear(func(a *model.Alternative) { a.StartUp = model.Const(4e4) })),
			[]string{"The cost of start-up and lost production, 40,000 EUR before tax, is paid back in "}, []string{"The investment of", "Nothing more"}},
		{"started up", together(noiseless, fixedPrices, byYear(func(a *model.Alternative) { a.StartUp = model.Const(4e4) })),
			[]string{"The investment of 166,000 EUR, with 40,000 EUR before tax for start-up and lost production, is paid back in "}, nil},
		{"learned, spent and priced by year", together(byYear(func(a *model.Alternative) {
			a.InvestmentByYear, a.StartUp, a.StartUpByYear, a.Learning = []float64{0.5, 0, 0.5}, model.Const(1e4), []float64{0, 1}, []float64{0.6, 0.9}
		}), prices(func(e *model.Economics) {
			e.PriceChange, e.OutputPriceChange, e.MaterialPriceChange, e.WageChange = model.Const(0.01), model.Const(-0.02), model.Dist{Law: model.Uniform, A: 0, B: 0.03, Signed: true}, model.Const(0.025)
		})), []string{"investment and start-up in the years 0 to 2; 60 % of the saving in year 1, 90 % in year 2, then all, maintenance in full; what is saved a year is at the prices of year 0, with all learned; prices are those of year 0 and change each year: " +
			"all prices +1 %, contribution −2 %, web, tape and income from waste +1.5 % (mean), wages +2.5 %; the discount rate and the changes must all leave inflation out, or all include it"}, []string{"in today's money", "the investment in year 0"}},
	}
}

func TestSentencesOfACourseAreTrue(t *testing.T) {
	for _, x := range courseTruths() {
		truth{what: x.what, says: x.says, never: x.never}.check(t, strings.Join(x.said(t), "\n"))
	}
}

// The shares of the saving by their names.
func TestShareLabels(t *testing.T) {
	c, _ := invented.Case(t, nil)
	var said []string
	for _, s := range append(c.Shares, savings.Share{Share: 0.6}) {
		said = append(said, ShareLabel(s))
	}
	assert.Equal(t, []string{"half", "three quarters", "as calculated", "60.0 %"}, said)
}

// What each cause is reckoned from is said with what is given of it.
func TestFormulasOfCausesAreTrue(t *testing.T) {
	plain, _ := invented.Case(t, nil)
	part, _ := invented.Case(t, leaving(0.6))
	assert.NotContains(t, CauseFormula(plain, savings.CrewHours), "leaves")
	assert.Contains(t, CauseFormula(part, savings.CrewHours), "crew cost × (operator hours of the first − operator hours) × share of freed hours that leaves")
	assert.NotContains(t, CauseFormula(part, savings.LineHours), "leaves")
}
