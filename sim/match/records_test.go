package match

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/observed"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// stopping is a line that is stopped by two causes alone, with a period of four times as
// long as it takes for 60 stops of the rarer one.
const stopping = `[line]
speed = "100 m/min"
accel = "10000 m/s2"
decel = "10000 m/s2"
[unwind]
change = "manual"
roll_length = "1000 km"
change_time = "0.1 s"
[rewind]
change = "none"
[[stop]]
name = "jam"
every = { dist = "exponential", mean = "1.5 h" }
repair = { dist = "lognormal", mean = "10 min", sd = "8 min" }
needs_operator = false
[[stop]]
name = "knife"
every = { dist = "exponential", mean = "2 h" }
repair = { dist = "gamma", shape = 2, scale = "10 min" }
needs_operator = false
[records]
hours = "600 h"
good = "1 km"
stopped = "1 h"
[[records.cause]]
text = "knife"
hours = "1 h"
stops = 1
fitted = true
`

// learned is the study as fit would write it from a log of so many stops a cause.
func learned(t *testing.T, truth *model.Study, stops int, seed uint64) *model.Study {
	s := *truth
	s.Alternatives = append([]model.Alternative(nil), truth.Alternatives...)
	line := &s.Alternatives[0].Line
	line.Stops = append([]model.Stop(nil), line.Stops...)
	r := rand.New(rand.NewPCG(seed, uint64(stops)))
	law := func(d *model.Dist) {
		var values []fit.Value
		for range stops {
			values = append(values, fit.Value{X: d.Quantile(r.Float64())})
		}
		got, err := fit.Of(values, fit.Options{Seed: seed, Draws: 39})
		require.NoError(t, err)
		got.Answer.Observed = got.Observed()
		*d = got.Answer
	}
	for i := range line.Stops {
		law(&line.Stops[i].Every)
		law(&line.Stops[i].Repair)
	}
	return &s
}

// A new period of the line whose log was fitted lies within the interval in 95 of 100
// cases, where the log has 60 stops a cause: within 3.5 binomial errors (one in 2,000 by
// chance for each figure). Without what the records leave open it does so much less often:
// the period is four times as long as the log, so that less than a half of what it may
// differ by is its own chance (a share of 0.62 as normal variables; so many and three
// binomial errors at most, one in 700; the long form alone looks at it). What laws were
// fitted to judges nothing still. The usual form finds intervals that hold in less than 75 of
// 100 cases.
func TestPredictionWithRecordsCovers(t *testing.T) {
	if testing.Short() {
		t.Skip("of a coverage, few sets say little")
	}
	effort.NotInRace(t)
	s, err := scenarios.Parse("test", []byte(stopping), ".")
	require.NoError(t, err)
	truth := &s.Study
	truth.Run.NoControls = true
	sets := effort.Of(0, 12, 100)
	in := map[string]*[2]float64{}
	for set := range sets {
		truth.Run.Seed = uint64(7000 + set)
		period := *truth
		period.Run.Seed, period.Run.Horizon = uint64(900000+set), truth.Recorded.Hours
		run, err := replicate.Prepare(context.Background(), &period)
		require.NoError(t, err)
		l := learned(t, truth, 60, uint64(set))
		outline := replicate.OutlinesOf(truth)[0]
		for k, records := range []replicate.Records{nil, observed.Of(l)} {
			if k == 0 && !effort.Long() {
				continue
			}
			a, err := Of(context.Background(), l, records, replicate.Options{})
			require.NoError(t, err)
			assert.Equal(t, k == 1, a.Records)
			g := newGatherer(&outline, a)
			require.NoError(t, replicate.Each(context.Background(), &period, run, 0, 1, replicate.Options{}, func(_ int, x []*sim.Sample) error {
				g.add(&outline, x[0])
				return nil
			}))
			for i, r := range a.Rows {
				what := string(r.Figure)
				if in[what] == nil {
					in[what] = &[2]float64{}
				}
				if r.Recorded = g.values[i][0]; r.Agrees() {
					in[what][k] += 1 / float64(sets)
				}
				assert.Equal(t, r.Figure == CauseTime || r.Figure == CauseStops || r.Figure == Stopped, r.Fitted)
			}
		}
	}
	for what, share := range in {
		t.Logf("%-12s %.1f %% with what the records leave open, %.1f %% without", what, 100*share[1], 100*share[0])
		assert.InDelta(t, 0.95, share[1], 3.5*math.Sqrt(0.95*0.05/float64(sets)), what)
		if effort.Long() {
			assert.Less(t, share[0], 0.62+3*math.Sqrt(0.62*0.38/float64(sets)), what)
		}
	}
	assert.Len(t, in, 4)
}

// The periods are the same whatever the number of workers, and those of the alternative
// that was recorded.
func TestRecordsOfPeriodsDoNotHangOnWorkers(t *testing.T) {
	s, err := scenarios.Parse("test", fmt.Appendf(nil, "%s\n[[alternative]]\nname = \"now\"\n[[alternative]]\nname = \"slow\"\nline.speed = \"50 m/min\"\n", stopping), ".")
	require.NoError(t, err)
	study := &s.Study
	study.Recorded.Alternative = "slow"
	for i := range study.Alternatives {
		study.Alternatives[i].Line.Stops[0].Every.Observed = 20
	}
	records := observed.Of(study)
	one, err := Of(context.Background(), study, records, replicate.Options{Workers: 1})
	require.NoError(t, err)
	four, err := Of(context.Background(), study, records, replicate.Options{Workers: 4})
	require.NoError(t, err)
	assert.Equal(t, one, four)
	plain, err := Of(context.Background(), study, nil, replicate.Options{})
	require.NoError(t, err)
	wide, _ := one.Row(Stopped)
	narrow, _ := plain.Row(Stopped)
	assert.Greater(t, wide.High-wide.Low, narrow.High-narrow.Low)
	good, _ := one.Row(Good)
	assert.Less(t, good.High, 600*50*60., "of the slow one: 50 m/min")
}
