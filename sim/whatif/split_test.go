package whatif

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// The split and the sources drawn anew one by one say the same of a line whose sources
// add up: stops by the calendar (chance_test.go), 1/10 and 9/10 of the variance.
func TestSplitIsThatOfTheSources(t *testing.T) {
	v := varies(t, scenario(t, stops, scenarios.Override{Key: "run.replications", Value: "60"}, scenarios.Override{Key: "run.horizon", Value: "400 h"},
		// Short, so that next to no stop falls into another: those that do add up to nothing.
		scenarios.Override{Key: "stop[0].repair", Value: "6 s"}, scenarios.Override{Key: "stop[1].repair", Value: "18 s"}), "good_rate")
	require.True(t, v.Split)
	require.Len(t, v.Sources, 2)
	assert.InDelta(t, 0.9, v.Sources[0].Share, 0.02)
	assert.InDelta(t, 0.1, v.Sources[1].Share, 0.02)
	assert.Less(t, v.Rest.Share, 0.02)
}

// The interval of a split covers what many more periods say, and the shares are those
// of the sources drawn anew, within both intervals.
func TestSplitOfAShippedLine(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, x := range scenarios.Templates() {
		if x.Name != "label_press" {
			continue
		}
		with := func(replications, controls string) Varies {
			s, err := scenarios.Parse(x.Name, x.Text, ".", scenarios.Override{Key: "run.replications", Value: replications}, scenarios.Override{Key: "run.controls", Value: controls})
			require.NoError(t, err)
			a, err := ChanceOf(context.Background(), Only(s, 0), []string{"good_rate"}, 12, Options{})
			require.NoError(t, err)
			return a.Varies["good_rate"]
		}
		few, many := with("20", "draws"), with("300", "draws")
		require.True(t, few.Split && many.Split)
		of := func(v Varies) map[string]Source {
			m := map[string]Source{}
			for _, s := range v.Sources {
				m[s.Key] = s
			}
			return m
		}
		a, b := of(few), of(many)
		for key, s := range b {
			if s.Share > 0.01 {
				assert.InDelta(t, s.Share, a[key].Share, 2*a[key].Half+s.Half, key)
			}
		}
		if !effort.Long() {
			continue
		}
		anew := with("150", "none")
		require.False(t, anew.Split)
		for key, s := range of(anew) {
			if s.Share > 0.01 {
				assert.InDelta(t, s.Share, b[key].Share, 2*s.Half+b[key].Half, key)
			}
		}
	}
}

// Where the known means of the draws are not used nothing is split: each is drawn anew.
func TestNoSplitWithoutControls(t *testing.T) {
	v := varies(t, scenario(t, stops, scenarios.Override{Key: "run.replications", Value: "20"}, scenarios.Override{Key: "run.controls", Value: "none"}), "good_rate")
	assert.False(t, v.Split)
	assert.Zero(t, v.Rest)
}
