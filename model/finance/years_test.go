package finance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A plan by year, worked line by line: 600 in year 0 and 300 in year 2, sold for 60 and
// 30; written off over 3 years each: 180 in the years 1 to 3 and 90 in 3 to 5, of which
// year 5 is not lived; 50 of expense in year 0; tax 40 %.
func TestPlanByYear(t *testing.T) {
	p := Plan{Life: 4, TaxRate: .4, Depreciation: 3, Parts: []Part{{600, 60}, {}, {300, 30}}, Saved: []float64{99, 100, 200, 300, 400}, Expense: []float64{50}}
	y := p.CashFlow()
	require.Len(t, y, 5)
	for i, want := range []struct{ net, depreciation, tax float64 }{
		{-600 - 50 + 20, 0, 20},
		{100 + 32, 180, -.4 * (100 - 180)},
		{-300 + 200 - 8, 180, -.4 * (200 - 180)},
		{300 - 12, 180 + 90, -.4 * (300 - 270)},
		// book value: nothing but the salvage of 60, and 300 - 2 x 90 = 120 against 30
		{400 + 90 - .4*(400-90) - .4*(90-60-120), 90, -.4*(400-90) - .4*(90-60-120)},
	} {
		assert.InDelta(t, want.net, y[i].Net, 1e-12, "year %d", i)
		assert.InDelta(t, want.depreciation, y[i].Depreciation, 1e-12, "year %d", i)
		assert.InDelta(t, want.tax, y[i].Tax, 1e-12, "year %d", i)
	}
	assert.Equal(t, 900., p.Invested())
	p.Life = 1
	assert.Equal(t, 600., p.Invested(), "what lies beyond the life is not spent")
	p.Life, p.Depreciation = 4, 0
	y = p.CashFlow()
	assert.InDelta(t, 540/4.+270/2., y[3].Depreciation, 1e-12, "over the life, and over the rest of it")
}

// One part in year 0 and the same saving every year is the plan without years.
func TestPlanByYearIsThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plan{Investment: rapid.Float64Range(0, 1e6).Draw(t, "i"), Savings: rapid.Float64Range(-1e5, 1e5).Draw(t, "s"), Salvage: rapid.Float64Range(0, 1e5).Draw(t, "r"),
			Life: rapid.IntRange(1, 30).Draw(t, "n"), TaxRate: rapid.Float64Range(0, 1).Draw(t, "t"), Depreciation: rapid.IntRange(0, 40).Draw(t, "d")}
		q := p
		q.Parts = []Part{{p.Investment, p.Salvage}}
		q.Saved = make([]float64, p.Life+1)
		for i := range q.Saved {
			q.Saved[i] = p.Savings
		}
		a, b := p.CashFlow(), q.CashFlow()
		for i := range a {
			if math.Abs(a[i].Net-b[i].Net) > 1e-9*(1+p.Investment) || math.Abs(a[i].Operating-b[i].Operating) > 1e-9*(1+p.Investment) {
				t.Fatalf("year %d: %+v, by year %+v", i, a[i], b[i])
			}
		}
		if p.Spends() != q.Spends() || p.Spends() != (a[0].Net < 0) {
			t.Fatal("what is spent")
		}
	})
}

// Whatever is spent and saved when, all tax that is ever paid is the rate on all
// profit that is ever made.
func TestTaxByYearIsOnTheWholeProfit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := func(name string, low float64) []float64 {
			return rapid.SliceOfN(rapid.Float64Range(low, 1e5), 1, 40).Draw(t, name)
		}
		p := Plan{Life: rapid.IntRange(1, 30).Draw(t, "n"), TaxRate: rapid.Float64Range(0, 1).Draw(t, "t"), Depreciation: rapid.IntRange(0, 40).Draw(t, "d"),
			Saved: list("saved", -1e5), Expense: list("expense", 0)}
		for _, x := range list("parts", 0) {
			p.Parts = append(p.Parts, Part{x, rapid.Float64Range(0, 1e4).Draw(t, "salvage")})
		}
		tax, before := 0.0, 0.0
		for i, y := range p.CashFlow() {
			tax += y.Tax
			before += y.Investment + y.Expense + y.Savings + y.Salvage
			if math.Abs(y.Net-(y.Investment+y.Expense+y.Savings+y.Salvage+y.Tax)) > 1e-9 {
				t.Fatalf("year %d does not add up", i)
			}
		}
		if math.Abs(tax+p.TaxRate*before) > 1e-6 {
			t.Fatalf("tax %g on %g", tax, before)
		}
	})
}

// Of a first outlay in a later year the payback is counted from year 0; a sum that falls
// below 0 again has paid back the first time.
func TestPaybackFromAnyYear(t *testing.T) {
	assert.InDelta(t, 2.5, Payback([]float64{0, -100, 50, 100}), 1e-12)
	assert.InDelta(t, 0.5, Payback([]float64{-50, 100, -200, 300}), 1e-12)
	assert.Zero(t, Payback([]float64{0, 5, -3}), "never out of pocket")
	assert.True(t, math.IsInf(Payback([]float64{0, -5, -5}), 1))
}

// The two projects of TestTwoProjects at 10 %, whose flows are savings by year: a finance
// textbook's chapter 10 (coursehero 9487132), printed figures.
func TestPublishedProjectsByYear(t *testing.T) {
	for _, c := range []struct {
		saved                   []float64
		npv, irr, pay, dis, per float64
	}{
		{[]float64{0, 5000, 4000, 3000, 1000}, 788.20, .1449, 2.33, 2.95, 1.08},
		{[]float64{0, 1000, 3000, 4000, 6750}, 1004.03, .1355, 3.30, 3.78, 1.10},
	} {
		p := Plan{Life: 4, Parts: []Part{{Amount: 10000}}, Saved: c.saved}
		flows := p.Flows(nil)
		npv := NPV(.1, flows)
		assert.InDelta(t, c.npv, npv, .005)
		assert.InDelta(t, c.irr, onlyRate(t, flows), .00005)
		assert.InDelta(t, c.pay, Payback(flows), .005)
		assert.InDelta(t, c.dis, DiscountedPayback(.1, flows), .005)
		assert.InDelta(t, c.per, SIR(npv+10000, 10000), .005)
	}
}

// NIST Handbook 135 (1995), appendix on discount factors: the modified uniform present value
// factor of an amount A at the prices of the base date that grows by e a year,
//
//	UPV* = sum of ((1 + e) / (1 + d))^t = (1 + e)/(d - e) (1 - ((1 + e)/(1 + d))^N)
//
// (formula from memory, figures worked from it), and N where e = d.
func TestGrowingAmounts(t *testing.T) {
	for _, x := range []struct {
		d, e float64
		n    int
		want float64
	}{{.03, .02, 15, 13.886109}, {.03, -.01, 25, 15.555578}, {.07, .02, 10, 7.758631}, {.05, .05, 12, 12}} {
		p := Plan{Life: x.n, Saved: make([]float64, x.n+1)}
		a := 1.0
		for t := 1; t <= x.n; t++ {
			a *= 1 + x.e
			p.Saved[t] = a
		}
		assert.InDelta(t, x.want, NPV(x.d, p.Flows(nil)), 5e-7, "%g %g", x.d, x.e)
	}
}
