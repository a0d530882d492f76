package report

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/out/words"
)

// money is how a figure of a savings case of the JSON reads.
func (j *jsons) money(t *testing.T, m map[string]json.RawMessage, parts []string, c *Content) string {
	get := func(key string) (x moneyJSON) {
		require.NoError(t, json.Unmarshal(m[key], &x), key)
		return x
	}
	draws := 0
	require.NoError(t, json.Unmarshal(m["draws"], &draws))
	kind := ""
	if n := len(parts); n > 1 {
		kind = parts[n-1]
	}
	amount := func(x moneyJSON) string {
		q := words.HalfOf(x.spread())
		switch kind {
		case "span":
			return words.MoneySpan(x.spread())
		case "median":
			return words.Money(orNaN(x.Median), q)
		case "means":
			return words.Money(orNaN(x.AtMeans), q)
		}
		require.Equal(t, x.Mean, x.Value)
		return words.Money(orNaN(x.Value), q)
	}
	with := func(x moneyJSON, point func(float64) string, span func(moneyJSON) string) string {
		switch kind {
		case "span":
			return span(x)
		case "mean":
			return point(orNaN(x.Mean))
		case "means":
			return point(orInf(x.AtMeans))
		}
		require.Equal(t, x.Median, x.Value)
		return point(orInf(x.Value))
	}
	switch parts[0] {
	case "investment":
		return amount(get("investment"))
	case "npv":
		return amount(get("npv"))
	case "per_year":
		return amount(get("npv_per_year"))
	case "irr", "mirr":
		return with(get(parts[0]), words.Percent, func(x moneyJSON) string { return words.PercentSpan(x.spread()) })
	case "simple", "discounted", "sir":
		key := map[string]string{"simple": "simple_payback", "discounted": "discounted_payback", "sir": "savings_to_investment"}[parts[0]]
		return with(get(key), words.Payback, func(x moneyJSON) string { return words.PaybackSpan(x.spread()) })
	case "gains":
		var x float64
		require.NoError(t, json.Unmarshal(m["chance_of_npv_above_0"], &x))
		return words.ChanceOfDraws(x, draws)
	case "pays":
		var x struct {
			Life struct{ Discounted float64 } `json:"within_life"`
		}
		require.NoError(t, json.Unmarshal(m["chance_of_payback"], &x))
		return words.ChanceOfDraws(x.Life.Discounted, draws)
	case "savings":
		var all map[string]moneyJSON
		require.NoError(t, json.Unmarshal(m["savings_per_year"], &all))
		x := all[parts[1]]
		switch kind {
		case "half":
			return "± " + words.Money(*x.Half, *x.Half)
		case "means":
			return words.Money(orNaN(x.AtMeans), orNaN(x.Half))
		}
		return amount(x)
	case "flow":
		var flow []struct{ Net, Cumulative moneyJSON }
		require.NoError(t, json.Unmarshal(m["cash_flow"], &flow))
		i, _ := strconv.Atoi(parts[1])
		largest := 0.0
		for _, y := range flow {
			largest = max(largest, math.Abs(*y.Net.Value))
		}
		x := flow[i].Net
		if parts[2] == "sum" {
			x = flow[i].Cumulative
		}
		if kind == "span" {
			return words.MoneySpan(x.spread())
		}
		return words.Money(*x.Value, largest/100)
	case "swing":
		var x struct {
			One []struct {
				Low  float64 `json:"mean_npv_at_low"`
				High float64 `json:"mean_npv_at_high"`
			} `json:"one_at_a_time"`
		}
		require.NoError(t, json.Unmarshal(m["what_moves_npv"], &x))
		i, _ := strconv.Atoi(parts[1])
		if kind == "low" {
			return words.Money(x.One[i].Low, 0)
		}
		return words.Money(x.One[i].High, 0)
	}
	t.Fatalf("case.%s: from nowhere", strings.Join(parts, "."))
	return ""
}

// orInf reads null as what never comes.
func orInf(x *float64) float64 {
	if x == nil {
		return math.Inf(1)
	}
	return *x
}
