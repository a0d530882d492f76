package whatif

import (
	"context"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
	"rollchange/sim/metric"
)

// A question about many inputs counts every replication once, and what it says there
// will be at most is never too few and never rises: with a screen, with what chance
// adds and with total effects.
func TestProgressHasABoundThatFalls(t *testing.T) {
	s := withDwell(t, `{ dist = "lognormal", mean = "12 s", sd = "5 s" }`, over("run.replications", strconv.Itoa(effort.Of(4, 6, 6))))
	for name, q := range map[string]SensitivityQuestion{
		"all":    {Metrics: []string{metric.GoodRate}, Share: 0.1},
		"few":    {Metrics: []string{metric.GoodRate}, Share: 0.1, Most: 3},
		"chance": {Metrics: []string{metric.GoodRate, metric.Depletion}, Share: 0.1, Most: 2, Chance: true},
		"total":  {Metrics: []string{metric.GoodRate}, Share: 0.1, Most: 2, Total: 16, Inputs: 2},
	} {
		var last Progress
		first := 0
		_, err := Sensitivity(context.Background(), s, q, Options{Workers: 2, Progress: func(p Progress) {
			assert.Equal(t, last.Done+1, p.Done, name)
			assert.LessOrEqual(t, p.Done, p.Most, name)
			if last.Done > 0 {
				assert.LessOrEqual(t, p.Most, last.Most, "%s: after %d", name, p.Done)
			} else {
				first = p.Most
			}
			last = p
		}})
		require.NoError(t, err)
		assert.Greater(t, 4*last.Done, last.Most, "%s: the bound comes near: %d of %d, %d at first", name, last.Done, last.Most, first)
	}
}

// A search says which value it simulates, how far that has come, and once it narrows a
// bracket how many there will be at most.
func TestProgressOfASearch(t *testing.T) {
	s := withDwell(t, `{ dist = "lognormal", mean = "12 s", sd = "5 s" }`, over("run.replications", "3"))
	var last Progress
	bounds := 0
	_, err := SizeSpeed(context.Background(), s, Usual(), Options{Progress: func(p Progress) {
		if p.Value == last.Value {
			assert.Equal(t, last.Done+1, p.Done)
		} else if last.Value == 0 {
			assert.Equal(t, Progress{Done: 1, Most: 3, Value: 1}, p)
		} else {
			assert.Equal(t, last.Value+1, p.Value)
			assert.Equal(t, last.Most, last.Done, "the last one was finished")
			assert.Equal(t, 1, p.Done)
		}
		assert.Equal(t, 3, p.Most)
		if p.Values > 0 {
			bounds++
			assert.LessOrEqual(t, p.Value, p.Values)
			if last.Values > 0 && p.Value == last.Value {
				assert.Equal(t, last.Values, p.Values)
			}
		}
		last = p
	}})
	require.NoError(t, err)
	assert.Greater(t, last.Value, 5)
	assert.Positive(t, bounds)
}
