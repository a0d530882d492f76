package whatif

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/replicate"
)

func TestPrecisionsAreRead(t *testing.T) {
	for text, want := range map[string]Precision{
		"1%": {"good_rate", 0.01, 50}, "2.5 %": {"good_rate", 0.025, 50}, "splice.depletion=10%": {"splice.depletion", 0.1, 50}, " waste.total = 5 % ": {"waste.total", 0.05, 50},
	} {
		p, err := ParsePrecision(text, 50)
		require.NoError(t, err, text)
		assert.Equal(t, want, p)
	}
	for text, says := range map[string]string{"": "write a share", "0.01": "write a share", "good_rate": "write a share", "x=": "write a share", "1 m": "write a share", "0 %": "above 0 %", "-1 %": "above 0 %", "100 %": "below 100 %"} {
		_, err := ParsePrecision(text, 50)
		assert.ErrorContains(t, err, says, text)
	}
	_, err := ParsePrecision("1%", 1)
	assert.ErrorContains(t, err, "the least is 2")
}

// precisely simulates the pair until it is as precise as asked.
func precisely(t *testing.T, text string, most, workers int, replaced ...string) (*replicate.Results, Reached) {
	t.Helper()
	p, err := ParsePrecision(text, most)
	require.NoError(t, err)
	s := twoWays(t, replaced...)
	rs, got, err := p.Simulate(context.Background(), &s.Study, replicate.Options{Workers: workers})
	require.NoError(t, err)
	return rs, got
}

func TestReplicationsAreAddedUntilItIsPrecise(t *testing.T) {
	rs, got := precisely(t, "1%", 500, 2)
	assert.True(t, got.Enough)
	assert.LessOrEqual(t, got.Worst, 0.01)
	assert.Greater(t, got.Replications, 3, "more than the scenario has")
	assert.Less(t, got.Replications, 500)
	worst := 0.0
	for _, a := range rs.Alternatives {
		e := a.Metrics["good_rate"]
		assert.Equal(t, got.Replications, e.N)
		worst = max(worst, (e.High-e.Mean)/e.Mean, (e.Mean-e.Low)/e.Mean)
	}
	assert.Equal(t, worst, got.Worst)
	assert.Equal(t, got.Replications, rs.Run.Replications)
}

// Batches change nothing: the result is that of as many replications at once.
func TestPrecisionIsAPlainRunOfThatManyReplications(t *testing.T) {
	rs, got := precisely(t, "splice.depletion=5%", 400, 1)
	again, too := precisely(t, "splice.depletion=5%", 400, 3)
	assert.Equal(t, got, too, "whatever the workers")
	sameMetrics(t, rs, again)
	s := twoWays(t)
	s.Study.Run.Replications = got.Replications
	want, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
	require.NoError(t, err)
	want.Run.Replications, rs.Run.Replications = 0, 0
	sameMetrics(t, want, rs)
	assert.Equal(t, "automatic", got.Alternative)
}

func TestTheLimitIsSaid(t *testing.T) {
	rs, got := precisely(t, "0.001%", 6, 2)
	assert.False(t, got.Enough)
	assert.Equal(t, 6, got.Replications)
	assert.Greater(t, got.Worst, 0.00001)
	assert.Equal(t, 6, rs.Run.Replications)
}

func TestALineWithoutChanceIsPreciseAtOnce(t *testing.T) {
	_, got := precisely(t, "1%", 100, 2, `{ dist = "lognormal", mean = "4 min", sd = "1 min" }`, `"4 min"`, `{ dist = "gamma", mean = "8 s", sd = "2 s" }`, `"8 s"`,
		`{ dist = "exponential", mean = "2 h" }`, `"2 h"`, `"99 %"`, `"100 %"`, "replications = 3", "replications = 1")
	assert.True(t, got.Enough)
	assert.Equal(t, 2, got.Replications)
	assert.InDelta(t, 0, got.Worst, 1e-9)
}

// Nothing seen in some replications is not a figure that is known.
func TestWhatWasNeverSeenIsNotPrecise(t *testing.T) {
	_, got := precisely(t, "splice.depletion_counted=10%", 5, 2, `"60 m"`, `"600 m"`, `"99 %"`, `"100 %"`)
	assert.False(t, got.Enough)
	assert.True(t, math.IsInf(got.Worst, 1))
	assert.Equal(t, 5, got.Replications)
}

func TestAMetricThatNoAlternativeHasIsRefused(t *testing.T) {
	s := twoWays(t)
	for metric, says := range map[string]string{"good_rat": "did you mean good_rate?", "transfer.overfill": "no metric", "zzzzzzzzz": "no metric"} {
		_, _, err := Precision{Metric: metric, Half: 0.1, Most: 10}.Simulate(context.Background(), &s.Study, replicate.Options{})
		assert.ErrorContains(t, err, says)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, _, err := Precision{Metric: "good_rate", Half: 0.1, Most: 10}.Simulate(ctx, &s.Study, replicate.Options{})
	assert.ErrorIs(t, err, context.Canceled)
}
