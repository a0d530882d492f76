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
