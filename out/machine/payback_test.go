package machine

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/savings"
)

func TestPaybackJSONHasItsShape(t *testing.T) {
	c, _ := invented.Case(t, nil)
	var j map[string]any
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })), &j))
	for _, key := range []string{"currency", "savings_per_year", "investment", "cash_flow", "npv", "irr", "simple_payback", "discounted_payback", "savings_to_investment", "chance_of_payback"} {
		assert.Contains(t, j, key)
	}
	sum := 0.0
	parts := j["savings_per_year"].(map[string]any)
	for cause := range savings.Causes {
		if part, told := parts[cause.Key()].(map[string]any); told { // income from waste only where it is given
			sum += part["value"].(float64)
		}
	}
	assert.Equal(t, parts["total"].(map[string]any)["value"], sum, "the parts add up exactly")
	npv := j["npv"].(map[string]any)
	for _, key := range []string{"mean", "low", "high", "unit", "value", "at_means"} {
		assert.Contains(t, npv, key)
	}
	assert.Equal(t, npv["mean"], npv["value"], "what is told first is the mean of the draws")
	assert.Equal(t, "mean", npv["value_is"])
	simple := j["simple_payback"].(map[string]any)
	assert.Equal(t, simple["median"], simple["value"])
	assert.Equal(t, "median", simple["value_is"])
	assert.Less(t, npv["low"], npv["high"])
	c, _ = invented.Case(t, invented.Cases()["never"])
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })), &j))
	assert.Nil(t, j["discounted_payback"].(map[string]any)["value"], "never is null")
}

func TestCompareJSONHasTheEconomics(t *testing.T) {
	c, rs := invented.Case(t, nil)
	var b bytes.Buffer
	require.NoError(t, CompareJSON(&b, about, rs, savings.Ranking{Best: 1}, []*savings.Case{nil, c}))
	var j struct {
		Economics []struct{ Alternative, Currency string }
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &j))
	require.Len(t, j.Economics, 1)
	assert.Equal(t, "zero-speed, 60 m", j.Economics[0].Alternative)
}

// What JSON tells first is the mean of the draws, where the figure at the
// means is another one.
func TestJSONTellsTheMeanOverTheDraws(t *testing.T) {
	c, _ := invented.Case(t, invented.Prices(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3} }))
	r := c.Random
	require.Greater(t, math.Abs(c.Total.Value-r.Total.Mean), 20000.)
	j := caseJSON(c)
	assert.Equal(t, r.Total.Mean, *j.Savings["total"].Value)
	assert.Equal(t, c.Total.Value, *j.Savings["total"].AtMeans)
	assert.Equal(t, r.NPV.Mean, *j.NPV.Value)
	assert.Equal(t, r.Year[1].Good, j.Years["alternative"].Good)
	assert.Equal(t, r.Tally.Flow[1].Savings, j.CashFlow[1].Savings)
}

func TestPaybackMachineGolden(t *testing.T) {
	c, _ := invented.Case(t, nil)
	invented.Golden(t, "payback.json", []byte(invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })))
	invented.Golden(t, "payback.csv", []byte(invented.Written(t, func(w io.Writer) error { return PaybackCSV(w, c) })))
}

// What differs by year stands in the JSON where it is given, each figure with its side of
// tax.
func TestPaybackJSONByYear(t *testing.T) {
	type figure struct {
		Tax   string
		Value float64
	}
	var j struct {
		StartUp *figure `json:"start_up"`
		Lost    *struct {
			figure
			Stands float64 `json:"stands_s"`
			Share  float64 `json:"share_of_draws"`
			Good   float64 `json:"good_m"`
		} `json:"lost_production"`
		Learning []float64
		Savings  map[string]figure `json:"savings_per_year"`
		NPV      figure
		CashFlow []struct {
			Expense *float64 `json:"start_up_and_lost"`
			Net     figure
		} `json:"cash_flow"`
		Shares []struct {
			Share   float64
			Savings figure `json:"savings_per_year"`
			NPV     figure
		} `json:"if_only_a_share_is_saved"`
	}
	read := func(what string) *savings.Case {
		c, _ := invented.Case(t, invented.Cases()[what])
		require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return PaybackJSON(w, about, c) })), &j))
		return c
	}
	c := read("as it is")
	assert.Nil(t, j.StartUp)
	assert.Nil(t, j.Lost)
	assert.Nil(t, j.CashFlow[0].Expense)
	assert.NotContains(t, j.Savings, "waste_income")
	assert.Equal(t, c.Shares[0].NPV.Mean, j.Shares[0].NPV.Value)

	c = read("by year")
	require.NotNil(t, j.StartUp)
	assert.Equal(t, figure{"before tax", 12000}, *j.StartUp)
	require.NotNil(t, j.Lost)
	assert.Equal(t, 600*3600., j.Lost.Stands)
	assert.Equal(t, c.Random.Lost.Mean, j.Lost.Value)
	assert.Equal(t, c.Random.Stands.Share, j.Lost.Share)
	assert.Equal(t, []float64{0.5, 0.85}, j.Learning)
	assert.InDelta(t, -6000-c.Random.Lost.Mean, *j.CashFlow[0].Expense, 1e-6)
	assert.InDelta(t, -6000, *j.CashFlow[1].Expense, 1e-9)
	assert.Equal(t, "before tax", j.Savings["waste_income"].Tax)
	assert.Equal(t, "after tax", j.NPV.Tax)
	assert.Equal(t, "after tax", j.CashFlow[3].Net.Tax)
}
