package out

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/savings"
)

func paybackText(t *testing.T, c *savings.Case, sys model.System) string {
	t.Helper()
	return written(t, func(w io.Writer) error { return PaybackTable(w, about, c, sys, false) })
}

func TestPaybackGolden(t *testing.T) {
	c, _ := pricedCase(t, nil)
	golden(t, "payback.txt", []byte(paybackText(t, c, model.Metric)))
	golden(t, "savings.txt", []byte(written(t, func(w io.Writer) error {
		return SavingsTable(w, []*savings.Case{nil, c, c}, savings.Ranking{Best: 1, Rivals: []int{2}}, false)
	})))
	c, _ = pricedCase(t, pricesOf(func(e *model.Economics) { e.Demand = model.Dist{} }))
	golden(t, "payback_capacity_imperial.txt", []byte(paybackText(t, c, model.Imperial)))
}

// Every kind of case, with names of any sort, in 100 columns and without NaN.
func TestPaybackIsLegible(t *testing.T) {
	hostile := []string{"zero-speed", "=cmd('x')", "<script>alert(1)</script>", strings.Repeat("very long name ", 8000), "\u202eאוטומטי\u202c", strings.Repeat("e\u0301", 300), "自動巻出し装置の長い名前の代替案と名前"}
	for what, change := range pricedCases() {
		for _, name := range hostile {
			c, _ := pricedCase(t, func(s *model.Study, rs *sim.Results) {
				if change != nil {
					change(s, rs)
				}
				s.Alternatives[1].Name = name
				for i := range s.Alternatives {
					s.Alternatives[i].Line.Economics.Currency = "=EUR\n<b> and more of it"
				}
			})
			for _, sys := range []model.System{model.Metric, model.Imperial} {
				s := paybackText(t, c, sys) + written(t, func(w io.Writer) error {
					return SavingsTable(w, []*savings.Case{nil, c}, savings.Ranking{Best: 1}, false)
				})
				for _, line := range strings.Split(s, "\n") {
					if columns(line) > 100 {
						t.Errorf("%s: %d columns: %q", what, columns(line), line)
					}
				}
				for _, bad := range []string{"NaN", "Inf", "\u202e", "-0 "} {
					assert.NotContains(t, s, bad, what)
				}
			}
			j := written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })
			assert.True(t, json.Valid([]byte(j)), what)
			rows, err := csv.NewReader(strings.NewReader(written(t, func(w io.Writer) error { return PaybackCSV(w, c) }))).ReadAll()
			require.NoError(t, err)
			for _, r := range rows {
				for i := range 4 {
					if r[i] != "" {
						assert.NotContains(t, "=+-@", r[i][:1], what)
					}
				}
			}
		}
	}
}

func TestPaybackJSONHasItsShape(t *testing.T) {
	c, _ := pricedCase(t, nil)
	var j map[string]any
	require.NoError(t, json.Unmarshal([]byte(written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })), &j))
	for _, key := range []string{"currency", "savings_per_year", "investment", "cash_flow", "npv", "irr", "simple_payback", "discounted_payback", "savings_to_investment", "chance_of_payback"} {
		assert.Contains(t, j, key)
	}
	sum := 0.0
	parts := j["savings_per_year"].(map[string]any)
	for cause := range savings.Causes {
		sum += parts[cause.Key()].(map[string]any)["value"].(float64)
	}
	assert.Equal(t, parts["total"].(map[string]any)["value"], sum, "the parts add up exactly")
	npv := j["npv"].(map[string]any)
	for _, key := range []string{"mean", "low", "high", "unit", "value", "at_means"} {
		assert.Contains(t, npv, key)
	}
	assert.Equal(t, npv["mean"], npv["value"], "what is told first is the mean over the draws")
	assert.Equal(t, "mean", npv["value_is"])
	simple := j["simple_payback"].(map[string]any)
	assert.Equal(t, simple["median"], simple["value"])
	assert.Equal(t, "median", simple["value_is"])
	assert.Less(t, npv["low"], npv["high"])
	c, _ = pricedCase(t, pricedCases()["never"])
	require.NoError(t, json.Unmarshal([]byte(written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })), &j))
	assert.Nil(t, j["discounted_payback"].(map[string]any)["value"], "never is null")
}

func TestCompareJSONHasTheEconomics(t *testing.T) {
	c, rs := pricedCase(t, nil)
	var b bytes.Buffer
	require.NoError(t, CompareJSON(&b, about, rs, savings.Ranking{Best: 1}, []*savings.Case{nil, c}))
	var j struct {
		Economics []struct{ Alternative, Currency string }
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &j))
	require.Len(t, j.Economics, 1)
	assert.Equal(t, "zero-speed, 60 m", j.Economics[0].Alternative)
}

func TestMoneyHasAsManyDigitsAsItDeserves(t *testing.T) {
	for _, c := range []struct {
		x, half float64
		want    string
	}{{4942155, 28276, "4,942,000"}, {-2172, 14, "−2,172"}, {0, 0, "0"}, {736.93, 2.6, "736.9"}, {1234567, 0, "1,235,000"}, {math.NaN(), 0, "–"},
		{46647, math.NaN(), "46,650"}, {0.123, 0, "0.12"}, {-0.2, 40, "0"}, {5, 40, "5"}} {
		assert.Equal(t, c.want, money(c.x, c.half), "%g ± %g", c.x, c.half)
	}
	assert.Equal(t, "all of 10,000", chanceText(1, 10000))
	assert.Equal(t, "over 99.9 %", chanceText(0.9999, 10000))
	assert.Equal(t, "none of 100", chanceText(0, 100))
	assert.Equal(t, "never", yearsText(math.Inf(1)))
}

func TestSolveText(t *testing.T) {
	c, _ := pricedCase(t, nil)
	s, err := c.Solve("investment")
	require.NoError(t, err)
	assert.Regexp(t, `^Break-even: investment of [0-9,]+ EUR\. There .* it is a gain below that; the scenario has [0-9,]+ EUR in the mean\.$`, SolveText(s, c, model.Metric))
	assert.Contains(t, SolveText(savings.Solution{Label: "price", Value: math.NaN(), Always: true}, c, model.Metric), "above 0 for every")
}

// What JSON tells first is the mean over the draws, where the figure at the
// means is another one.
func TestJSONTellsTheMeanOverTheDraws(t *testing.T) {
	c, _ := pricedCase(t, pricesOf(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3} }))
	r := c.Random
	require.Greater(t, math.Abs(c.Total.Value-r.Total.Mean), 20000.)
	j := caseJSON(c)
	assert.Equal(t, r.Total.Mean, *j.Savings["total"].Value)
	assert.Equal(t, c.Total.Value, *j.Savings["total"].AtMeans)
	assert.Equal(t, r.NPV.Mean, *j.NPV.Value)
	assert.Equal(t, r.Year[1].Good, j.Years["alternative"].Good)
	assert.Equal(t, r.Tally.Flow[1].Savings, j.CashFlow[1].Savings)
}

// The total of the table is the mean over the draws.
func TestTheTableTellsTheMeanOverTheDraws(t *testing.T) {
	c, _ := pricedCase(t, pricesOf(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3} }))
	total := c.Random.Total
	require.Greater(t, math.Abs(c.Total.Value-total.Mean), 20000.)
	assert.Regexp(t, `(?m)^  total +`+money(total.Mean, quarter(total))+` `, paybackText(t, c, model.Metric))
}

func TestPaybackMachineGolden(t *testing.T) {
	c, _ := pricedCase(t, nil)
	golden(t, "payback.json", []byte(written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })))
	golden(t, "payback.csv", []byte(written(t, func(w io.Writer) error { return PaybackCSV(w, c) })))
}
