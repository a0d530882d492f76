package finance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// NIST Handbook 135 / NISTIR 85-3273, tables, from memory of their
// layout; the first two of 3 % read in a table of discount factors
// (ebookily.org, four digits).
func TestFactors(t *testing.T) {
	for _, c := range []struct{ rate, n, spv, upv float64 }{
		{.03, 1, .970874, .970874}, {.03, 2, .942596, 1.913470}, {.03, 3, .915142, 2.828611}, {.03, 5, .862609, 4.579707},
		{.03, 10, .744094, 8.530203}, {.03, 15, .641862, 11.937935}, {.03, 20, .553676, 14.877475}, {.03, 25, .477606, 17.413148},
		{.03, 30, .411987, 19.600441}, {.07, 10, .508349, 7.023582},
	} {
		assert.InDelta(t, c.spv, SPV(c.rate, c.n), 5e-7)
		assert.InDelta(t, c.upv, upv(c.rate, c.n), 5e-7)
	}
	assert.Equal(t, 7., upv(0, 7))
	assert.InDelta(t, 7, upv(1e-13, 7), 1e-11, "no cancellation near 0")
}

func onlyRate(t *testing.T, flows []float64) float64 {
	t.Helper()
	rates := IRR(flows)
	require.Len(t, rates, 1)
	return rates[0]
}

func TestPublishedRates(t *testing.T) {
	// numpy-financial documentation, irr (latest).
	assert.InDelta(t, 0.5672303344358536, onlyRate(t, []float64{-250000, 100000, 150000, 200000, 250000, 300000}), 1e-12)
	// NumPy 1.3 reference, irr; NumPy 1.16 reference, npv (after Gitman 2003, p. 346).
	g := []float64{-100, 39, 59, 55, 20}
	assert.InDelta(t, 0.2809484211599611, onlyRate(t, g), 1e-12)
	assert.InDelta(t, -0.0084785916384548798, NPV(0.281, g), 1e-12)
	// -95000; 20000…40000: flows from brainmass 531866, values recomputed.
	b := []float64{-95000, 20000, 25000, 30000, 35000, 40000}
	assert.InDelta(t, 9080.604203, NPV(.12, b), 1e-6)
	assert.InDelta(t, 0.1536224305, onlyRate(t, b), 1e-10)
	assert.InDelta(t, 3.57142857, Payback(b), 1e-8)
	assert.InDelta(t, 4.59992182, DiscountedPayback(.12, b), 1e-8)
}

// Two projects at 10 %: a finance textbook's chapter 10 (coursehero 9487132),
// printed figures beside the recomputed ones.
func TestTwoProjects(t *testing.T) {
	for _, c := range []struct {
		flows                                          []float64
		npv, irr, mirr, pi, pay, dis                   float64
		npvPrint, irrPrint, mirrPrint, piPrint, pp, dp float64
	}{
		{[]float64{-10000, 5000, 4000, 3000, 1000}, 788.197527, 0.1448884428, 0.121063, 1.078820, 2.33333333, 2.95333333, 788.20, .1449, .1211, 1.08, 2.33, 2.95},
		{[]float64{-10000, 1000, 3000, 4000, 6750}, 1004.029779, 0.1354920415, 0.126628, 1.100403, 3.29629630, 3.78222222, 1004.03, .1355, .1266, 1.10, 3.30, 3.78},
	} {
		npv := NPV(.1, c.flows)
		for _, x := range []struct{ got, want, printed, digit float64 }{
			{npv, c.npv, c.npvPrint, .005}, {onlyRate(t, c.flows), c.irr, c.irrPrint, .00005}, {MIRR(c.flows, .1, .1), c.mirr, c.mirrPrint, .00005},
			{SIR(npv-c.flows[0], -c.flows[0]), c.pi, c.piPrint, .005}, {Payback(c.flows), c.pay, c.pp, .005}, {DiscountedPayback(.1, c.flows), c.dis, c.dp, .005},
		} {
			assert.InDelta(t, x.want, x.got, 6e-7*math.Max(1, math.Abs(x.want)))
			assert.InDelta(t, x.printed, x.got, x.digit*1.0001)
		}
	}
}

// -100, then 20 a year at 10 %: Wikipedia, Talk:Discounted payback period.
func TestEvenFlows(t *testing.T) {
	even := func(n int) []float64 {
		f := []float64{-100}
		for range n {
			f = append(f, 20)
		}
		return f
	}
	assert.InDelta(t, 5, Payback(even(9)), 1e-12)
	assert.InDelta(t, 7.28205595, DiscountedPayback(.1, even(9)), 1e-8)
	assert.InDelta(t, 15.180476, NPV(.1, even(9)), 1e-6)
	for i, want := range []float64{-.442, -.22, -.084, 0, .055, .092, .118, .137} {
		assert.InDelta(t, want, onlyRate(t, even(i+2)), .0035, "printed in whole or tenths of a per cent")
	}
	assert.True(t, math.IsInf(DiscountedPayback(.1, even(7)), 1), "never")
	assert.True(t, math.IsInf(Payback(even(4)), 1), "never")
}

func TestRatesThatAreNotOne(t *testing.T) {
	assert.Empty(t, IRR([]float64{-100, -5, -5}), "what never brings anything")
	assert.Empty(t, IRR([]float64{100, 5}))
	assert.Empty(t, IRR([]float64{0, 0}))
	assert.Empty(t, IRR([]float64{100, -150, 100}), "changes sign twice and has none")
	// (1.1 - q)(1.3 - q) in q = 1 + r: two rates, by construction.
	two := IRR([]float64{-1000, 2400, -1430})
	require.Len(t, two, 2)
	assert.InDelta(t, .1, two[0], 1e-9)
	assert.InDelta(t, .3, two[1], 1e-9)
	three := IRR([]float64{-1000, 3600, -4310, 1716}) // 10, 20 and 30 %
	require.Len(t, three, 3)
	for i, want := range []float64{.1, .2, .3} {
		assert.InDelta(t, want, three[i], 1e-8)
	}
	assert.True(t, math.IsNaN(MIRR([]float64{1, 2}, .1, .1)))
	assert.True(t, math.IsNaN(MIRR([]float64{-1}, .1, .1)))
	assert.True(t, math.IsNaN(SIR(5, 0)))
	assert.Zero(t, Payback([]float64{0, 5}), "nothing spent")
}

func TestRatesMakeTheValueZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flows := []float64{-1000}
		for _, f := range rapid.SliceOfN(rapid.IntRange(-300, 500), 1, 40).Draw(t, "flows") {
			flows = append(flows, float64(f))
		}
		scale := 0.0
		for _, r := range IRR(flows) {
			for i, f := range flows {
				scale = math.Max(scale, math.Abs(f)*SPV(r, float64(i)))
			}
			if v := NPV(r, flows); math.Abs(v) > 1e-7*scale*float64(len(flows)) {
				t.Fatalf("at %g: %g of %g", r, v, scale)
			}
		}
	})
}

// (1000 - 100) over 5 years straight-line, 40 %, savings 300: worked by hand.
func TestCashFlowAfterTax(t *testing.T) {
	y := Plan{Investment: 1000, Savings: 300, Salvage: 100, Life: 6, TaxRate: .4, Depreciation: 5}.CashFlow()
	require.Len(t, y, 7)
	assert.Equal(t, -1000., y[0].Net)
	for i := 1; i <= 5; i++ {
		assert.InDelta(t, 180, y[i].Depreciation, 1e-12)
		assert.InDelta(t, 300-.4*120, y[i].Net, 1e-12)
	}
	assert.InDelta(t, 300-.4*300+100, y[6].Net, 1e-12, "sold at its book value: no tax on it")
	// Sold after 2 of 5 years: book value 640, sold for 100, the loss of 540 spares 216.
	y = Plan{Investment: 1000, Savings: 300, Salvage: 100, Life: 2, TaxRate: .4, Depreciation: 5}.CashFlow()
	assert.InDelta(t, 300-.4*120+100+216, y[2].Net, 1e-12)
	assert.InDelta(t, 300-.4*120, y[2].Operating, 1e-12)
}

// Whatever the plan, all tax that is ever paid is the rate on all profit that is ever made.
func TestTaxIsOnTheWholeProfit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plan{Investment: rapid.Float64Range(0, 1e6).Draw(t, "i"), Savings: rapid.Float64Range(-1e5, 1e5).Draw(t, "s"), Salvage: rapid.Float64Range(0, 1e5).Draw(t, "r"),
			Life: rapid.IntRange(1, 30).Draw(t, "n"), TaxRate: rapid.Float64Range(0, 1).Draw(t, "t"), Depreciation: rapid.IntRange(0, 40).Draw(t, "d")}
		tax, before := 0.0, -p.Investment+p.Salvage+float64(p.Life)*p.Savings
		flows := p.Flows(nil)
		for i, y := range p.CashFlow() {
			tax += y.Tax
			if math.Abs(y.Net-flows[i]) > 0 {
				t.Fatal("Flows differs from CashFlow")
			}
		}
		if math.Abs(tax+p.TaxRate*before) > 1e-9*(p.Investment+math.Abs(before)+1) {
			t.Fatalf("tax %g on %g", tax, before)
		}
	})
}
