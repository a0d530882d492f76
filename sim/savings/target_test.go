package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// Certain flows: 500,000 invested, 448,800 less a maintenance of 5000 saved a year at 10 %. By
// hand: the investment that two years, or two years at present value, pay back; that at
// which the rate is 40 % over 10 years, UPV 2.413572 (1 - 1.4^-10)/0.4; the maintenance
// with which the rate is so.
func TestSolveForATargetByHand(t *testing.T) {
	effort.NotInRace(t)
	c := caseOfDraws(t, 100, still) // all alike
	solve := func(key string, target Target) Solution {
		s, err := c.Solve(key, target)
		require.NoError(t, err)
		require.False(t, math.IsNaN(s.Value), key)
		assert.False(t, s.GainsAbove, key)
		return s
	}
	assert.InDelta(t, 2*443800, solve("investment", Target{OfPayback, 2}).Value, 1e-3)
	assert.InDelta(t, 443800*(1/1.1+0.5/1.21), solve("investment", Target{OfDiscounted, 1.5}).Value, 1e-3)
	upv := (1 - math.Pow(1.4, -10)) / 0.4
	assert.InDelta(t, 443800*upv, solve("investment", Target{OfIRR, 0.4}).Value, 1e-3)
	assert.InDelta(t, 448800-500000/upv, solve("maintenance", Target{OfIRR, 0.4}).Value, 1e-3)
	assert.InDelta(t, 443800*6.144567106-100000, solve("investment", Target{OfNPV, 1e5}).Value, 1e-2)
	years, err := c.Solve("life", Target{OfIRR, 0.5})
	require.NoError(t, err)
	assert.Equal(t, 3., years.Value, "1.5 in year 1 is 333,333; 443,800/1.5 + 443,800/2.25 are 493,111 and less than 500,000")
}

// At the solution the headline, the median of the draws, is the target, where years
// differ too.
func TestSolveForTheMedianOfTheDraws(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of draws for each")
	}
	effort.NotInRace(t)
	solved, nth := 0, 0
	for what, change := range map[string]func(*model.Study, *replicate.Results){
		"a year like another": around,
		"by year": joined(around, economics(func(e *model.Economics) { e.TaxRate, e.WageChange = model.Const(0.3), model.Const(0.02) }),
			given(func(a *model.Alternative) {
				a.InvestmentByYear, a.Learning, a.StartUp = []float64{0.5, 0.5}, []float64{0.5, 0.8}, model.Const(2e4)
			})),
	} {
		c := caseOf(t, change)
		for _, target := range []Target{{OfPayback, 2.2}, {OfDiscounted, 3.4}, {OfIRR, 0.35}, {OfNPV, 2e5}} {
			for _, key := range []string{"investment", "crew_cost", "price"} {
				if nth++; (nth+nth/4)%effort.Of(1, 2, 1) > 0 { // the usual form has every other, of each measure and key
					continue
				}
				s, err := c.Solve(key, target)
				require.NoError(t, err)
				if math.IsNaN(s.Value) { // on one side of it all the way
					for _, x := range []float64{s.Low, s.High} {
						assert.Equal(t, s.Always, c.excess(target, func(v *vector) { c.put(v, solvable[key], x) }) > 0, "%s: %s", what, key)
					}
					continue
				}
				solved++
				with := caseOf(t, joined(change, func(study *model.Study, _ *replicate.Results) {
					study.Alternatives[1].Investment = map[bool]model.Dist{true: model.Const(s.Value), false: study.Alternatives[1].Investment}[key == "investment"]
					for i := range study.Alternatives {
						e := &study.Alternatives[i].Line.Economics
						switch key {
						case "crew_cost":
							e.CrewCost = model.Const(s.Value)
						case "price":
							e.Price = model.Const(s.Value)
						}
					}
				}))
				r := with.Random
				got := map[Measure]float64{OfPayback: r.Simple.Median, OfDiscounted: r.Discounted.Median, OfIRR: r.IRR.Median, OfNPV: r.NPV.Mean}[target.Measure]
				assert.InEpsilon(t, target.Value, got, 1e-4, "%s: %s for %s", what, key, target.Measure.Key())
				assert.InEpsilon(t, got, c.measured(target, func(v *vector) { c.put(v, solvable[key], s.Value) }), 1e-9)
			}
		}
	}
	assert.Greater(t, solved, effort.Of(14, 7, 14), "of %d", nth)
}

// Where no value reaches the target the best one is told, and what it comes to.
func TestTheBestOfWhatDoesNotReach(t *testing.T) {
	effort.NotInRace(t)
	c := caseOf(t, joined(still, given(func(a *model.Alternative) { a.Maintenance = model.Const(460000) })))
	s, err := c.Solve("tape_cost", Target{OfPayback, 3})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(s.Value))
	assert.False(t, s.Always)
	assert.Zero(t, s.Best, "more tape is used: nothing is best")
	assert.True(t, math.IsInf(s.AtBest, 1))

	c = caseOf(t, still)
	s, err = c.Solve("waste_income", Target{OfPayback, 0.5})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(s.Value))
	assert.Zero(t, s.Best, "less waste is sold")
	assert.InDelta(t, 500000/443800., s.AtBest, 1e-9)
}

// What has been recovered after so many years is 0 at the payback, whatever the flows.
func TestRecoveredAtThePayback(t *testing.T) {
	for _, flows := range [][]float64{{-100, 60, 60, 60}, {-100, 30, 20, 80, 5}, {0, -100, 70, 70}, {-10, -90, 60, 60}, {-50, 100, -200, 300}, {-100, 300}} {
		for _, rate := range []float64{0, 0.1} {
			years := finance.DiscountedPayback(rate, flows)
			assert.InDelta(t, 0, recovered(flows, rate, years), 1e-9, "%v", flows)
			assert.Negative(t, recovered(flows, rate, years-0.01), "%v", flows)
			assert.Positive(t, recovered(flows, rate, years+0.01), "%v", flows)
		}
	}
}
