package whatif

import (
	"context"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The intervals of figures with controls cover the truth on every shipped scenario:
// ROLLCHANGE_SETS says in how many sets of 20 replications that is tried, by hand (200
// take some 15 minutes of two cores). The truth is the mean of all sets with controls, and
// that is not off the plain one: the plain one alone is known too little to judge
// intervals a tenth as wide.
func TestControlledIntervalsCoverShippedScenarios(t *testing.T) {
	sets, _ := strconv.Atoi(os.Getenv("ROLLCHANGE_SETS"))
	if sets == 0 {
		t.Skip("by hand")
	}
	const each = 20
	names := []string{"good_rate", "waste.total", "oee", "time.stopped", "splice_rate"}
	for _, x := range scenarios.Templates() {
		s, err := scenarios.Parse(x.Name, x.Text, ".", scenarios.Override{Key: "run.replications", Value: strconv.Itoa(each)})
		require.NoError(t, err)
		all := func(r *replicate.Results) (list []estimate.Estimate) {
			for _, a := range r.Alternatives {
				for _, n := range names {
					list = append(list, a.Metrics[n])
				}
			}
			for _, d := range r.Differences[1:] {
				for _, n := range names {
					list = append(list, d[n])
				}
			}
			return list
		}
		var got [][]estimate.Estimate
		var truth, plainly []estimate.Moments
		var ratio float64
		for k := range sets {
			s.Study.Run.Seed = uint64(1000 + k)
			s.Study.Run.NoControls = false
			m := replicate.NewMemory(1e6)
			r, err := replicate.Simulate(replicate.WithMemory(context.Background(), m), &s.Study, replicate.Options{})
			require.NoError(t, err)
			got = append(got, all(r))
			s.Study.Run.NoControls = true
			p, err := replicate.Simulate(replicate.WithMemory(context.Background(), m), &s.Study, replicate.Options{})
			require.NoError(t, err)
			plain := all(p)
			if truth == nil {
				truth, plainly = make([]estimate.Moments, len(plain)), make([]estimate.Moments, len(plain))
			}
			for i, e := range plain {
				truth[i].Add(got[k][i].Mean)
				plainly[i].Add(e.Mean - got[k][i].Mean)
			}
			ratio += r.Run.Narrowed[1] / float64(sets)
		}
		lowest, highest := 1.0, 0.0
		for i := range truth {
			covers, known := 0, 0
			for _, list := range got {
				if e := list[i]; e.Known() {
					known++
					if e.Low <= truth[i].Mean() && truth[i].Mean() <= e.High {
						covers++
					}
				}
			}
			if known < sets/2 || truth[i].SD() == 0 {
				continue
			}
			// Beyond 4.5 standard errors once in 150,000 such figures.
			assert.Less(t, math.Abs(plainly[i].Mean()), 4.5*plainly[i].SD()/math.Sqrt(float64(sets))+1e-12, "%s, figure %d: off the plain mean", x.Name, i)
			share := float64(covers) / float64(known)
			lowest, highest = min(lowest, share), max(highest, share)
			assert.Greater(t, share, 0.95-3.5*math.Sqrt(0.95*0.05/float64(known)), "%s, figure %d, known in %d", x.Name, i, known)
		}
		t.Logf("%s: %d figures, covered in %.1f to %.1f %%, widest good web %.2f of plain", x.Name, len(truth), 100*lowest, 100*highest, ratio)
	}
}
