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

// What is set beside a year that is like another is named, and nothing that is not.
func TestWhatTheMoneyCountsIsNamed(t *testing.T) {
	untaxed := prices(func(e *model.Economics) { e.TaxRate, e.DepreciationYears = model.Dist{}, model.Dist{} })
	all := []string{"start-up", "stands while", "spent by year", "of the saving in year 1", "change by so much", "planned hours of each", "no longer paid", "income from waste", "tax of"}
	for _, x := range []struct {
		what   string
		change changed
		says   []string
	}{
		{"nothing", untaxed, nil},
		{"tax", nil, []string{"The money counts tax of 25 % on profit, the investment written off over 8 years."}},
		{"start-up", together(untaxed, byYear(func(a *model.Alternative) { a.StartUp = model.Const(4e4) })), []string{"The money counts 40,000 EUR for start-up before tax."}},
		{"start-up that is not certain", together(untaxed, byYear(func(a *model.Alternative) { a.StartUp = model.Dist{Law: model.Uniform, A: 3e4, B: 5e4} })), []string{" EUR for start-up before tax (mean)."}},
		// 4000 h make 23,328 km, all sold; the contribution of what is not made, 0.28 of each square metre, less what it would have taken.
		{"installation", together(untaxed, noiseless, fixedPrices, demandIs(model.Const(50e6)), installed(400)), []string{"The money counts 400 h of standstill for the installation, which costs ", " EUR before tax."}},
		{"installation, with time to spare", together(untaxed, fixedPrices, installed(400)), []string{"The money counts 400 h of standstill for the installation, which costs nothing, since the year has time to spare."}},
		{"by year", together(untaxed, byYear(func(a *model.Alternative) {
			a.InvestmentByYear, a.Learning = []float64{0.5, 0, 0.5}, []float64{0.6, 0.9}
		})),
			[]string{"an investment spent by year: 50 % in year 0, 50 % in year 2; 60 % of the saving in year 1, 90 % in year 2, then all, maintenance in full."}},
		{"prices", together(untaxed, prices(func(e *model.Economics) { e.WageChange = model.Const(0.025) })), []string{"The money counts prices that change each year: wages +2.5 %."}},
		{"hours", together(untaxed, func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[1].Line.Economics.HoursPerYear = model.Const(5000 * 3600)
		}),
			[]string{`The money counts planned hours of each: 4000 h with "by hand", 5000 h with "zero-speed, 60 m".`}},
		{"operators that leave", together(untaxed, leaving(0.6)), []string{"The money counts 60 % of the freed operator hours as no longer paid."}},
		{"waste that is sold", together(untaxed, prices(func(e *model.Economics) { e.WasteIncome = model.Dist{Law: model.Uniform, A: 0.04, B: 0.06} })), []string{"The money counts income from waste at 0.05 EUR/kg (mean)."}},
	} {
		c, _ := invented.Case(t, x.change)
		said := CountedSentence(c, model.Metric)
		if x.says == nil {
			assert.Empty(t, said, x.what)
		}
		found := ""
		for _, s := range x.says {
			assert.Contains(t, said, s, x.what)
			found += s
		}
		for _, s := range all {
			if !strings.Contains(found, s) {
				assert.NotContains(t, said, s, x.what)
			}
		}
	}
}

// A figure over the draws has two digits of half its range, and no range where it is the
// same in all of them.
func TestOverDraws(t *testing.T) {
	km := model.Unit{Name: "km", SI: 1000}
	mean, span := OverDraws(savings.Spread{Mean: 40_667_123, Low: 37_012_000, High: 44_798_000}, km)
	assert.Equal(t, [2]string{"40,700", "37,000 – 44,800"}, [2]string{mean, span})
	mean, span = OverDraws(savings.Spread{Mean: 33_666_400, Low: 33_655_100, High: 33_677_300}, km)
	assert.Equal(t, [2]string{"33,666", "33,655 – 33,677"}, [2]string{mean, span})
	mean, span = OverDraws(savings.Spread{Mean: 1e7, Low: 1e7, High: 1e7}, km)
	assert.Equal(t, [2]string{"10,000", ""}, [2]string{mean, span})
	mean, span = OverDraws(savings.Spread{Mean: 1e-6, Low: 1e-6, High: 1e-6}, km)
	assert.Equal(t, [2]string{"0", ""}, [2]string{mean, span})
}
