package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/savings"
)

func TestTarget(t *testing.T) {
	for text, want := range map[string]savings.Target{
		"npv 100000": {Measure: savings.OfNPV, Value: 1e5}, "npv -5e4": {Measure: savings.OfNPV, Value: -5e4}, "net present value 100,000 EUR": {Measure: savings.OfNPV, Value: 1e5}, "NPV 3EUR": {Measure: savings.OfNPV, Value: 3}, "npv −7.5": {Measure: savings.OfNPV, Value: -7.5},
		"payback 2 years": {Measure: savings.OfPayback, Value: 2}, "  Simple  payback 2.5 years ": {Measure: savings.OfPayback, Value: 2.5}, "payback 1 year": {Measure: savings.OfPayback, Value: 1},
		"discounted payback 3 years": {Measure: savings.OfDiscounted, Value: 3}, "payback at present value 3 years": {Measure: savings.OfDiscounted, Value: 3},
		"irr 15 %": {Measure: savings.OfIRR, Value: 0.15}, "irr 15%": {Measure: savings.OfIRR, Value: 0.15}, "rate of return -2 %": {Measure: savings.OfIRR, Value: -0.02},
	} {
		got, err := parseTarget(text, "EUR")
		require.NoError(t, err, text)
		assert.Equal(t, want.Measure, got.Measure, text)
		assert.InDelta(t, want.Value, got.Value, 1e-12, text)
	}
	for text, says := range map[string]string{
		"": "has no number", "payback": "has no number", "2 years": "does not say what of", "pay 2 years": `"pay" is not known`, "payback 2": "a payback is in years",
		"payback 2,5 years": `"2,5" is not a number`, "payback 0 years": "above 0", "payback -1 years": "above 0", "payback 101 years": "at most 100 years", "payback 18 months": "in years",
		"irr 0.15": "in %", "irr 15": "in %", "irr -100 %": "above -100 %", "npv 5 USD": `"USD" is another currency, not EUR`, "npv 1e400": "is not a number", "npv ..": "is not a number",
		"npv 1,00,000": "is not a number",
	} {
		_, err := parseTarget(text, "EUR")
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), says, text)
		assert.Contains(t, err.Error(), `write "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr 15 %"`)
	}
}
