package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// still takes the noise out of the simulated figures.
func still(_ *model.Study, rs *replicate.Results) {
	for i := range rs.Alternatives {
		for k, e := range rs.Alternatives[i].Metrics {
			e.SD, e.HalfWidth, e.Low, e.High = 0, 0, e.Mean, e.Mean
			rs.Alternatives[i].Metrics[k] = e
		}
	}
	for k, e := range rs.Differences[1] {
		e.SD, e.HalfWidth, e.Low, e.High = 0, 0, e.Mean, e.Mean
		rs.Differences[1][k] = e
	}
}

// valuedOf is caseOf without what its value hangs on.
func valuedOf(t testing.TB, change func(*model.Study, *replicate.Results)) *Case {
	t.Helper()
	study, rs := studyOf()
	if change != nil {
		change(study, rs)
	}
	c, err := Valued(study, rs, 1, Options{Draws: 2000})
	require.NoError(t, err)
	return c
}

// around is a demand that is uncertain about the 7200 km that the first can
// make and the 10800 km of the alternative.
func around(s *model.Study, rs *replicate.Results) {
	still(s, rs)
	economics(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 5400e3, B: 12600e3} })(s, rs)
}

// Where demand bends the saving, its mean of the draws is the integral over
// the demand, by hand from the by-hand figures at four demands between which a
// saving is linear, and not the saving at the mean demand.
func TestMeanOverTheDrawsIsTheIntegral(t *testing.T) {
	at := func(d float64) float64 { return caseOf(t, demandOf(d)).Total.Value }
	low, bend, top := at(5400e3), at(7200e3), at(10800e3)
	c := caseOf(t, around)
	want := ((low+bend)/2*1800 + (bend+top)/2*3600 + top*1800) / 7200
	assert.InDelta(t, want, c.Random.Total.Mean, 4*(top-low)/math.Sqrt(2000), "2000 draws, 4 sigma and more")
	// The mean demand is all that the better one can make, so half of the draws are below it.
	c = caseOf(t, func(s *model.Study, rs *replicate.Results) {
		still(s, rs)
		economics(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 7200e3, B: 14400e3} })(s, rs)
	})
	want = (bend+top)/4 + top/2
	assert.InDelta(t, want, c.Random.Total.Mean, 4*(top-bend)/math.Sqrt(2000))
	assert.InEpsilon(t, top, c.Total.Value, 1e-9, "the value at the means is another figure")
	assert.Greater(t, top-want, 30000.)
	c = caseOf(t, around)
	for kind, share := range map[Kind]float64{DemandLimited: 0.25, Between: 0.5, CapacityLimited: 0.25} {
		assert.InDelta(t, share, c.Random.Kinds[kind], 0.045, "%s: 2000 draws, 4 sigma", kind)
	}
	require.Len(t, c.Others, 2, "neither kind holds in all draws")
	assert.InDelta(t, top, c.Others[0].Total, 1e-6*top, "all that is made is sold in every draw")
	assert.InDelta(t, bend, c.Others[1].Total, 1e-6*bend)
}

// A year, a cash flow and a worth in the mean fit together.
func TestMeansOfTheDrawsAddUp(t *testing.T) {
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		around(s, rs)
		economics(func(e *model.Economics) {
			e.TaxRate, e.DepreciationYears, e.Life = model.Const(0.25), model.Const(8), model.Dist{Law: model.Uniform, A: 5, B: 11}
		})(s, rs)
		s.Alternatives[1].Investment = model.Dist{Law: model.Uniform, A: 4e5, B: 6e5}
		s.Alternatives[1].Salvage = model.Const(30000)
	})
	r := c.Random
	require.Len(t, r.Flow, 12)
	require.Len(t, r.Tally.Flow, 12)
	npv, sum := 0.0, 0.0
	for i, y := range r.Tally.Flow {
		assert.Equal(t, i, y.Year)
		assert.InDelta(t, y.Net, r.Flow[i].Mean, 1e-6)
		assert.InDelta(t, y.Net, y.Investment+y.Savings+y.Salvage+y.Tax, 1e-6)
		sum += y.Net
		assert.InDelta(t, sum, r.Cumulative[i].Mean, 1e-5)
		npv += y.Net * finance.SPV(0.1, float64(i))
	}
	assert.InDelta(t, r.NPV.Mean, npv, 1e-4)
	assert.InDelta(t, r.Total.Mean, r.Tally.Flow[1].Savings, 1e-6)
	assert.Equal(t, 1., r.Flow[5].Known)
	assert.InDelta(t, 3.5/6, r.Flow[8].Known, 0.045, "lives above 7.5 years, 4 sigma")
	saved := 0.2*0.5*(r.Year[1].Good-r.Year[0].Good) + 0.5*(r.Year[0].WasteArea-r.Year[1].WasteArea) + 0.1*(r.Year[0].WasteMass-r.Year[1].WasteMass) +
		40*(r.Year[0].OperatorHours-r.Year[1].OperatorHours)/3600 + 60*(r.Year[0].LineHours-r.Year[1].LineHours)/3600 + 0.25*(r.Year[0].Tape-r.Year[1].Tape) - 5000
	assert.InDelta(t, r.Total.Mean, saved, 1e-5)
}

// A swing is what the mean becomes, so its base is the mean.
func TestSwingsAreOfTheMean(t *testing.T) {
	c := caseOf(t, around)
	found := false
	for _, s := range c.Swings {
		if s.Key == "alternative.investment" {
			found = true
			assert.InEpsilon(t, c.Random.NPV.Mean+50000, s.AtLow, 1e-9)
			assert.InEpsilon(t, c.Random.NPV.Mean-50000, s.AtHigh, 1e-9)
		}
	}
	assert.True(t, found)
}

// warned is a warning of a case by its doubt.
func warned(t *testing.T, c *Case, d Doubt) Warning {
	t.Helper()
	for _, w := range c.Warnings {
		if w.Doubt == d {
			return w
		}
	}
	t.Fatalf("no warning %s in %v", d.Key(), names(c))
	return Warning{}
}

// What hangs on the draws is judged in each of them: hours are freed in three
// quarters of the draws (not where the demand is above what both can make),
// more is sold in three quarters.
func TestWarningsAreJudgedOverTheDraws(t *testing.T) {
	c := valuedOf(t, around)
	for _, d := range []Doubt{FreedOperators, FreedLineHours} {
		assert.InDelta(t, 0.75, warned(t, c, d).Share, 0.04, d.Key())
	}
	c = valuedOf(t, func(s *model.Study, rs *replicate.Results) {
		still(s, rs)
		demandOf(5400e3)(s, rs)
	})
	assert.Equal(t, 1., warned(t, c, FreedOperators).Share)
	assert.InDelta(t, 500*3600, c.Random.FreedCrew.Mean, 1e-6)

	// At the mean demand nothing more is sold; in some draws it is.
	c = valuedOf(t, func(s *model.Study, rs *replicate.Results) {
		still(s, rs)
		economics(func(e *model.Economics) {
			e.Demand, e.Price = model.Dist{Law: model.Uniform, A: 5400e3, B: 7920e3}, model.Dist{}
		})(s, rs)
	})
	assert.Equal(t, DemandLimited, c.Kind)
	assert.InDelta(t, 2./7, warned(t, c, NoPriceMore).Share, 0.045)
	c = valuedOf(t, func(s *model.Study, rs *replicate.Results) {
		demandOf(5400e3)(s, rs)
		economics(func(e *model.Economics) { e.Price = model.Dist{} })(s, rs)
	})
	assert.NotContains(t, names(c), "price_missing", "no more is sold in any draw")

	// Hours of a year: above a leap year in a quarter of the draws.
	c = valuedOf(t, economics(func(e *model.Economics) {
		e.HoursPerYear = model.Dist{Law: model.Uniform, A: 8484 * 3600, B: 8884 * 3600}
	}))
	assert.InDelta(t, 0.25, warned(t, c, HoursAboveAYear).Share, 0.04)
	assert.NotContains(t, names(valuedOf(t, nil)), "hours_above_a_year")
}

// Each warning is given where it is true, and not where it is false.
func TestWarningsAreTrue(t *testing.T) {
	bare := func(side ...int) func(*model.Study, *replicate.Results) {
		return func(s *model.Study, _ *replicate.Results) {
			for _, i := range side {
				s.Alternatives[i].Line.Stops = nil
			}
		}
	}
	both := func(list ...func(*model.Study, *replicate.Results)) func(*model.Study, *replicate.Results) {
		return func(s *model.Study, rs *replicate.Results) {
			for _, f := range list {
				f(s, rs)
			}
		}
	}
	warned(t, valuedOf(t, bare(0, 1)), NoStopsOfMore)                   // more is made than would be
	warned(t, valuedOf(t, both(bare(0, 1), demandOf(5400e3))), NoStops) // the hours between the two are the same with other stops
	assert.Equal(t, 1, warned(t, valuedOf(t, bare(0)), StopsDiffer).Side)
	assert.Equal(t, 0, warned(t, valuedOf(t, bare(1)), StopsDiffer).Side)

	// Without a demand, less good web is no extra good web.
	less := func(_ *model.Study, rs *replicate.Results) {
		m := rs.Alternatives[1].Metrics["good_rate"]
		m.Mean = 1
		rs.Alternatives[1].Metrics["good_rate"] = m
	}
	assert.Equal(t, 1., warned(t, valuedOf(t, less), NoDemandLess).Share)
	assert.Equal(t, []string{"demand_missing"}, names(valuedOf(t, nil)))
	assert.Equal(t, 1., warned(t, valuedOf(t, nil), NoDemandMore).Share)

	// Fewer operators are not fewer hours, and the reverse.
	crew := func(n int) func(*model.Study, *replicate.Results) {
		return func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Line.Crew.Operators = n }
	}
	for _, change := range []func(*model.Study, *replicate.Results){crew(1), both(crew(1), demandOf(5400e3)), demandOf(5400e3)} {
		warned(t, valuedOf(t, change), FreedOperators)
	}
	assert.NotContains(t, names(valuedOf(t, both(crew(4), demandOf(5400e3)))), "freed_operators", "twice the people in two thirds of the hours")

	// Waste that there is none of costs nothing anyway.
	free := economics(func(e *model.Economics) { e.MaterialCost = model.Dist{} })
	assert.Contains(t, names(valuedOf(t, free)), "material_cost_missing")
	clean := func(_ *model.Study, rs *replicate.Results) {
		for i := range rs.Alternatives {
			rs.Alternatives[i].Metrics["waste.total"] = estimate.Estimate{Unit: "1", N: 20}
		}
	}
	assert.NotContains(t, names(valuedOf(t, both(free, still, clean))), "material_cost_missing")
	noise := func(_ *model.Study, rs *replicate.Results) {
		d := rs.Differences[1]["good_rate"]
		d.HalfWidth, d.Low, d.High, d.Why = 2, d.Mean-2, d.Mean+2, estimate.Symmetric
		rs.Differences[1]["good_rate"] = d
	}
	assert.Contains(t, names(valuedOf(t, noise)), "output_not_shown")
	assert.NotContains(t, names(valuedOf(t, nil)), "output_not_shown")

	// A difference that few events carry, not far from 0 for them, has no limits, and
	// those of the savings do not hold: it is said, and nothing is worth more for it.
	few := func(_ *model.Study, rs *replicate.Results) {
		d := rs.Differences[1]["good_rate"]
		d.Why, d.Low, d.High, d.HalfWidth, d.Needed = estimate.TooFew, math.NaN(), math.NaN(), math.NaN(), 300
		d.SD = d.Mean
		rs.Differences[1]["good_rate"] = d
	}
	c := valuedOf(t, few)
	warned(t, c, FewEvents)
	assert.Equal(t, 300, c.Needed)
	assert.Zero(t, c.Faster)
	assert.Contains(t, names(c), "output_not_shown")
	assert.NotContains(t, names(valuedOf(t, nil)), "few_events")
}
