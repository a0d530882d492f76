package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// threeWays is a line without chance in which the dearest way is worth most in the
// mean, and nobody knows well enough what it costs to say that it pays for its step.
const threeWays = `[line]
speed = "100 m/min"
accel = "0.2 m/s2"
decel = "0.5 m/s2"
[web]
width = "0.5 m"
[unwind]
change = "manual"
roll_length = "2000 m"
change_time = "6 min"
[rewind]
change = "none"
[crew]
operators = 1
[run]
replications = 2
horizon = "2 d"
[economics]
hours_per_year = "4000 h"
demand = "10000 km"
price = 0.2
crew_cost = 30
discount_rate = "8 %"
life = 5
[[alternative]]
name = "by hand"
[[alternative]]
name = "dear"
investment = { dist = "uniform", min = 0, max = 36000 }
unwind.change_time = "1.5 min"
[[alternative]]
name = "cheap"
investment = 15000
unwind.change_time = "2 min"
`

// Payback without a name shows what the steps of investment recommend, not what has the
// highest mean, and says so of what it refuses; compare and sensitivity follow it.
func TestPaybackFollowsTheSteps(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var j struct {
		Alternative string
		Recommended struct{ Alternative *string }
		Steps       []struct {
			Alternative, Verdict string
			NPV                  struct{ Mean, Low, High float64 }
		}
		Ranking struct {
			Highest string `json:"highest_mean_npv"`
		} `json:"worth_most"`
		Economics []struct {
			Alternative string
			NPV         struct{ Mean float64 }
		}
	}
	_, out, _ := callIn(together, threeWays, "compare", "-", "--json")
	require.NoError(t, json.Unmarshal([]byte(out), &j))
	require.Equal(t, "dear", j.Ranking.Highest)
	require.Equal(t, "cheap", *j.Recommended.Alternative)
	_, out, errs := callIn(together, threeWays, "payback", "-", "--json", "--draws", "1000")
	require.NoError(t, json.Unmarshal([]byte(out), &j))
	assert.Equal(t, "cheap", j.Alternative)
	assert.Contains(t, errs, `"cheap" is recommended: of 2 alternatives, in order of investment, it is the last whose step is shown to pay; --alternative NAME shows another`)
	require.Len(t, j.Steps, 2)
	assert.Equal(t, "cheap", j.Steps[0].Alternative)
	assert.Equal(t, "not_shown", j.Steps[1].Verdict)
	assert.Less(t, j.Steps[1].NPV.Low, 0.)
	assert.Greater(t, j.Steps[1].NPV.Mean, 0.)
	_, out, _ = callIn(together, threeWays, "payback", "-")
	for _, want := range []string{`savings of "cheap"`, "\"cheap\" is recommended: ", "Steps of investment, ", "\"dear\" takes ", "    not shown to pay\n"} {
		assert.Contains(t, out, want)
	}
	_, out, _ = callIn(together, threeWays, "payback", "-", "--alternative", "dear")
	assert.NotContains(t, out, "recommended", "one alternative is no choice")
	_, _, errs = callIn(together, threeWays, "sensitivity", "-", "--metric", "npv")
	assert.Contains(t, errs, `"cheap" is recommended`)
	// None is accepted when nobody pays for its hours: the one that loses least is shown.
	_, out, errs = callIn(together, threeWays, "payback", "-", "--set", "economics.crew_cost=0.01", "--set", "economics.demand=100 km")
	assert.Contains(t, errs, `None of 2 alternatives is recommended, since no step of investment is shown to pay; "cheap" has the highest`)
	assert.Contains(t, out, "No alternative is recommended: each is shown to lose money.")
	assert.Contains(t, out, `savings of "cheap"`)
}

// The steps have the same bytes on any number of workers.
func TestStepsOnAnyNumberOfWorkers(t *testing.T) {
	text := template(t, "slitter")
	_, one, _ := payback(t, text, "--csv", "--workers", "1")
	_, two, _ := payback(t, text, "--csv", "--workers", "3")
	assert.Equal(t, one, two)
	assert.Contains(t, one, "step.npv")
}
