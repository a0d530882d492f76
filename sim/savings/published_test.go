package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/replicate"
)

// saving is a case without chance that invests so much and saves so much a year, as
// operator hours: 250 h of two operators (account_test.go).
func saving(t *testing.T, invested, saved, rate, life float64, more ...func(*model.Study, *replicate.Results)) *Case {
	t.Helper()
	return caseOf(t, joined(append([]func(*model.Study, *replicate.Results){still, economics(func(e *model.Economics) {
		*e = model.Economics{Currency: "USD", HoursPerYear: e.HoursPerYear, Demand: model.Const(5400e3), CrewCost: model.Const(saved / 500), DiscountRate: model.Const(rate), Life: model.Const(life)}
	}), given(func(a *model.Alternative) { a.Investment, a.Maintenance = model.Const(invested), model.Dist{} })}, more...)...))
}

// The uniform present value factors of NIST Handbook 135 and its annual supplement (NISTIR
// 85-3273), table A-2: figures recomputed to six digits, the first two of 3 % read at
// four in a table of discount factors (ebookily.org).
func TestUniformSavingsAreWorthTheFactorOfHandbook135(t *testing.T) {
	for _, x := range []struct{ rate, life, upv float64 }{{.03, 1, .970874}, {.03, 2, 1.913470}, {.03, 10, 8.530203}, {.03, 25, 17.413148}, {.07, 10, 7.023582}} {
		c := saving(t, 5000, 1000, x.rate, x.life)
		assert.InDelta(t, 1000*x.upv, c.Worth.NPV+5000, 1e-3, "%g over %g years", x.rate, x.life)
		assert.InDelta(t, 1000*x.upv/5000, c.Worth.SIR, 1e-6, "savings to investment")
		assert.InDelta(t, c.Random.NPV.Mean, c.Worth.NPV, 1e-9)
	}
}

// The modified factors of the same handbook, of amounts at the prices of the base date that
// grow by e a year: (1 + e)/(d - e) (1 - ((1 + e)/(1 + d))^N), from memory.
func TestGrowingSavingsAreWorthTheModifiedFactor(t *testing.T) {
	for _, x := range []struct{ d, e, n float64 }{{.03, .02, 15}, {.03, -.01, 25}, {.07, .02, 10}} {
		c := saving(t, 5000, 1000, x.d, x.n, economics(func(e *model.Economics) { e.WageChange = model.Const(x.e) }))
		factor := (1 + x.e) / (x.d - x.e) * (1 - math.Pow((1+x.e)/(1+x.d), x.n))
		assert.InDelta(t, 1000*factor, c.Worth.NPV+5000, 1e-6)
	}
}

// The two projects of a finance textbook's chapter 10 (coursehero 9487132) at 10 %: printed
// figures. Their flows of four years are a saving of which so much is reached in each.
func TestPublishedProjectsAsLearning(t *testing.T) {
	for _, x := range []struct {
		flows                        [4]float64
		npv, irr, mirr, pi, pay, dis float64
	}{
		{[4]float64{5000, 4000, 3000, 1000}, 788.20, .1449, .1211, 1.08, 2.33, 2.95},
		{[4]float64{1000, 3000, 4000, 6750}, 1004.03, .1355, .1266, 1.10, 3.30, 3.78},
	} {
		full := max(x.flows[0], x.flows[3])
		c := saving(t, 10000, full, .1, 4, given(func(a *model.Alternative) {
			for _, f := range x.flows {
				a.Learning = append(a.Learning, f/full)
			}
		}))
		for _, r := range []struct{ got, printed, digit float64 }{{c.Worth.NPV, x.npv, .005}, {c.Worth.IRR(), x.irr, .00005}, {c.Worth.MIRR, x.mirr, .00005}, {c.Worth.SIR, x.pi, .005},
			{c.Worth.Simple, x.pay, .005}, {c.Worth.Discounted, x.dis, .005}, {c.Random.NPV.Mean, x.npv, .005}, {c.Random.Simple.Median, x.pay, .005}} {
			assert.InDelta(t, r.printed, r.got, r.digit*1.0001)
		}
	}
}

// 100 invested, 20 a year at 10 %: 5 years, at present value 7.3 (Wikipedia, Talk:Discounted
// payback period).
func TestPublishedPaybacks(t *testing.T) {
	c := saving(t, 100, 20, .1, 9)
	assert.InDelta(t, 5, c.Worth.Simple, 1e-12)
	assert.InDelta(t, 7.28205595, c.Worth.Discounted, 1e-8)
	assert.InDelta(t, 15.2, c.Worth.NPV, .05)
	assert.True(t, math.IsInf(saving(t, 100, 20, .1, 7).Worth.Discounted, 1))
}

// After tax, straight line: a truck of 3000 that saves 800 a year for 5 years and is sold
// for 750, tax 34 %: 681 a year after tax, 15.7 % before it and 10.5 % after it (Newnan,
// Engineering Economic Analysis, the chapter on income taxes, figures from memory).
func TestPublishedRateAfterTax(t *testing.T) {
	sold := given(func(a *model.Alternative) { a.Salvage = model.Const(750) })
	before := saving(t, 3000, 800, .1, 5, sold)
	after := saving(t, 3000, 800, .1, 5, sold, economics(func(e *model.Economics) { e.TaxRate, e.DepreciationYears = model.Const(.34), model.Const(5) }))
	assert.InDelta(t, .157, before.Worth.IRR(), .0005)
	assert.InDelta(t, .105, after.Worth.IRR(), .0006)
	for _, y := range after.Worth.Flow[1:5] {
		assert.InDelta(t, 681, y.Net, 1e-9)
		assert.InDelta(t, 450, y.Depreciation, 1e-9)
	}
	assert.InDelta(t, 681+750, after.Worth.Flow[5].Net, 1e-9, "sold at its book value")
}

// A replacement in year 10 of 20 and a salvage, by the formulas of Handbook 135 for present
// values of single amounts: investment + replacement SPV(10) - salvage SPV(20), SPV 3 %
// .744094 and .553676 (table A-1).
func TestReplacementByHandbook135(t *testing.T) {
	c := saving(t, 10000, 1000, .03, 20, given(func(a *model.Alternative) {
		a.InvestmentByYear = make([]float64, 11)
		a.InvestmentByYear[0], a.InvestmentByYear[10] = .8, .2
		a.Salvage = model.Const(1500)
	}))
	assert.InDelta(t, 1000*14.877475-8000-2000*.744094+1500*.553676, c.Worth.NPV, 2e-2)
	assert.InDelta(t, 14877.475/(8000+2000*.744094-1500*.553676), c.Worth.SIR, 1e-4, "residual value and replacement belong to the investment")
	assert.Equal(t, finance.Payback([]float64{-8000, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000}), c.Worth.Simple)
}
