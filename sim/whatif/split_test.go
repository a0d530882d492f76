package whatif

import (
	"context"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
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
	t.Parallel()
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
		few, many := with("20", "draws"), with(strconv.Itoa(effort.Of(0, 150, 300)), "draws")
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

// Of a figure that is the controls of a line and noise that no source knows of, a source
// has the share that its draws have by their variance (Wald), and the rest is the noise.
// 400 periods: the standard error of a variance is 7 % of it, that of a share of the
// two at most 0.02; 4 of them (two-sided 6e-5), and the half width is that of such an error.
func TestSplitLeavesWhatNoSourceExplains(t *testing.T) {
	b, err := newBase(context.Background(), scenario(t, stops), replicate.Options{})
	require.NoError(t, err)
	shares := b.run.Shares(0)
	require.NotEmpty(t, shares)
	var samples []*sim.Sample
	for _, x := range b.samples {
		samples = append(samples, x[0])
	}
	known := map[string]float64{} // variance of the known part by source, with a slope of 1
	sum := 0.0
	for _, s := range shares {
		for _, x := range samples {
			_, v := s.Drawn(x)
			known[s.Source] += s.Good * s.Good * v / float64(len(samples))
			sum += s.Good * s.Good * v / float64(len(samples))
		}
	}
	for _, rest := range []float64{0, 0.3, 0.6, 0.9} {
		r := rand.New(rand.NewPCG(1, 2))
		var y []float64
		for _, x := range samples {
			y = append(y, x.Controls[0]+math.Sqrt(sum*rest/(1-rest))*r.NormFloat64())
		}
		sources, left, _ := split(y, samples, shares, 0.95)
		assert.InDelta(t, rest, left.Share, 0.08, "rest %g", rest)
		assert.Less(t, left.Half, 0.08, "rest %g", rest)
		found := map[string]float64{}
		for _, s := range sources {
			found[s.Key] = s.Share
		}
		for key, v := range known {
			assert.InDelta(t, (1-rest)*v/sum, found[key], 0.08, "%s, rest %g", key, rest)
		}
	}
}
