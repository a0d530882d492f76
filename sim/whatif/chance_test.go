package whatif

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// stops is a line that stops for two reasons by chance, each once an hour in the
// mean by the calendar: for one minute and for three. A stop of r takes r from
// the hours, and there are Poisson many in a period, so that the variance of the
// output from each is as r²: 1/10 and 9/10 of it.
const stops = `
[line]
speed = "100 m/min"
accel = "100 m/s2"
decel = "100 m/s2"
[unwind]
change = "manual"
roll_length = "100 km"
change_time = "1 s"
[rewind]
change = "none"
[crew]
operators = 2
[[stop]]
name = "short"
basis = "calendar"
every = { dist = "exponential", mean = "1 h" }
repair = "1 min"
needs_operator = false
[[stop]]
name = "long"
basis = "calendar"
every = { dist = "exponential", mean = "1 h" }
repair = "3 min"
needs_operator = false
[run]
horizon = "20 h"
replications = 400
`

func varies(t *testing.T, s *scenarios.Scenario, metric string) Varies {
	t.Helper()
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{metric}, Share: 0.1, Chance: true}, Options{})
	require.NoError(t, err)
	require.Contains(t, a.Varies, metric)
	return a.Varies[metric]
}

// 400 periods: the standard error of a share T is about (1 - (1-T)²)/20, 0.01 and
// 0.05 here; 4 of them.
func TestChanceByItsSources(t *testing.T) {
	v := varies(t, scenario(t, stops), "good_rate")
	require.Len(t, v.Sources, 2)
	assert.Equal(t, "stop[1].every", v.Sources[0].Key)
	assert.InDelta(t, 0.9, v.Sources[0].Share, 0.2)
	assert.Equal(t, "stop[0].every", v.Sources[1].Key)
	assert.InDelta(t, 0.1, v.Sources[1].Share, 0.04)
	for _, x := range v.Sources {
		assert.True(t, x.Shown())
		assert.Less(t, x.Half, 0.15)
	}
	assert.Equal(t, 400, v.Periods)
	// sd of the stopped hours: sqrt(20 (1 + 9)) min in 1200; of them the process runs at 100 m/min.
	assert.InEpsilon(t, 100./60*0.01179, v.SD, 0.15)
}

// One source is all of the variance, and one that does nothing is none.
func TestOneSourceIsAllOfTheVariance(t *testing.T) {
	s := scenario(t, stops, scenarios.Override{Key: "stop[0].every", Value: "1 h"}, scenarios.Override{Key: "run.replications", Value: "50"})
	v := varies(t, s, "good_rate")
	require.Len(t, v.Sources, 1)
	assert.InDelta(t, 1, v.Sources[0].Share, 0.5)
	assert.Equal(t, 50, v.Periods)
	s = scenario(t, stops, scenarios.Override{Key: "stop[0].every", Value: "1 h"}, scenarios.Override{Key: "stop[1].every", Value: "1 h"}, scenarios.Override{Key: "run.replications", Value: "5"})
	v = varies(t, s, "good_rate")
	assert.Equal(t, 40, v.Periods, "a share of a variance takes more than 5")
	assert.Zero(t, v.SD)
	assert.Empty(t, v.Sources)
}

func TestChanceNeedsPeriods(t *testing.T) {
	s := scenario(t, stops, scenarios.Override{Key: "run.replications", Value: "4"})
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"good_rate"}, Share: 0.1, Chance: true}, Options{})
	require.NoError(t, err)
	assert.Empty(t, a.Varies)
}

// What a saving varies by is that of both alternatives on the same chance; how a
// net present value varies from period to period is not asked.
func TestChanceOfASaving(t *testing.T) {
	t.Parallel()
	s := priced(t, "replications = 3", "replications = 6")
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"savings", "npv"}, Share: 0.1, Chance: true}, Options{})
	require.NoError(t, err)
	assert.Contains(t, a.Varies, "savings")
	assert.NotContains(t, a.Varies, "npv")
	keys := map[string]bool{}
	for _, x := range a.Varies["savings"].Sources {
		keys[x.Key] = true
	}
	assert.True(t, keys["unwind.change_time"] && keys["unwind.dwell"], "those of both: %v", keys)
	assert.Greater(t, a.Varies["savings"].SD, 0.)
}

// A figure per splice is not known in a period without one, and that is said.
func TestChanceOfWhatIsNotInEveryPeriod(t *testing.T) {
	s := withDwell(t, laws["gamma"], scenarios.Override{Key: "run.replications", Value: "5"}, scenarios.Override{Key: "run.horizon", Value: "14 min"}, scenarios.Override{Key: "unwind.roll_length", Value: `{ dist = "exponential", mean = "2 km" }`})
	a, err := Sensitivity(context.Background(), s, SensitivityQuestion{Metrics: []string{"splice.depletion"}, Share: 0.1, Chance: true}, Options{})
	require.NoError(t, err)
	assert.Empty(t, a.Varies)
	assert.Equal(t, []Lack{{"splice.depletion", NothingToCount}}, a.Lacking)
}
