package report

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

// stepText is how a figure of a step of investment of the JSON reads.
func stepText(t *testing.T, m map[string]json.RawMessage, parts []string) string {
	t.Helper()
	span := len(parts) > 1
	if parts[0] == "gains" {
		var x float64
		require.NoError(t, json.Unmarshal(m["chance_of_npv_above_0"], &x))
		return words.StepGain(x)
	}
	var x struct {
		moneyJSON
		Exists *float64
	}
	require.NoError(t, json.Unmarshal(m[parts[0]], &x), parts[0])
	s := x.spread()
	switch parts[0] {
	case "irr":
		s.Known = 1
		if x.Exists != nil {
			s.Known = *x.Exists
		}
		median, both := words.StepRate(s)
		if span {
			return both
		}
		return median
	case "simple_payback", "discounted_payback":
		if span {
			return words.PaybackSpan(savings.Spread{Median: orInf(x.Value), Low: orInf(x.Low), High: orInf(x.High)})
		}
		return words.Payback(orInf(x.Value))
	}
	require.Equal(t, x.Mean, x.Value)
	if span {
		return words.MoneySpan(s)
	}
	return words.Money(orNaN(x.Value), words.HalfOf(s))
}

// The page tells in full of the alternative that the steps recommend, not of the one that is
// worth most in the mean.
func TestThePageFollowsTheSteps(t *testing.T) {
	r, _ := invented.Steps(t, nil)
	require.Equal(t, 2, r.Best)
	rs := invented.Results()
	assert.Equal(t, 1, Choose(rs, &r.Steps))
	r.Steps.Recommended = 0
	assert.Equal(t, 2, Choose(rs, &r.Steps))
}
