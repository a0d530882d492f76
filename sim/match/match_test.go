package match

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// press is a line with roll changes by hand, a rare long stop and a crew.
const press = `
[web]
width = "330 mm"
[line]
speed = "120 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
stop_scrap = "2 m"
restart_scrap = "5 m"
[unwind]
change = "manual"
roll_length = { dist = "normal", mean = "3000 m", sd = "100 m" }
residual = "10 m"
change_time = { dist = "lognormal", mean = "4 min", sd = "2 min" }
[rewind]
change = "none"
[crew]
operators = 1
reaction = "20 s"
lines = %d
[web_breaks]
mean_length = "60 km"
repair = { dist = "lognormal", mean = "10 min", sd = "5 min" }
[[stop]]
name = "knife"
every = { dist = "exponential", mean = "20 h" }
repair = { dist = "exponential", mean = "40 min" }
[run]
horizon = "10 d"
replications = 3
seed = %d
`

const recorded = `
[records]
hours = "160 h"
good = "1 m"
waste = "1 m"
roll_changes = 1
stops = 1
stopped = "1 h"
[[records.cause]]
text = "Roll change"
is = "unwind.change_time"
hours = "1 h"
stops = 1
[[records.cause]]
text = "knife"
hours = "1 h"
stops = 1
[[records.cause]]
text = "lunch"
is = "not a stop"
hours = "5 h"
`

func study(t *testing.T, lines int, seed uint64, more string) *model.Study {
	s, err := scenarios.Parse("test", fmt.Appendf(nil, press+more, lines, seed), ".")
	require.NoError(t, err)
	return &s.Study
}

func of(t *testing.T, s *model.Study) *Answer {
	a, err := Of(context.Background(), s, nil, replicate.Options{})
	require.NoError(t, err)
	require.NotNil(t, a)
	return a
}

// The figures of the periods are those that a simulation reports, of all lines, and
// their web and hours add up.
func TestFigures(t *testing.T) {
	for _, lines := range []int{1, 3}[:effort.Of(1, 2, 2)] {
		s := study(t, lines, 5, recorded)
		a := of(t, s)
		assert.Equal(t, 199, a.Periods)
		assert.Equal(t, lines, a.Lines)
		s.Run.Replications, s.Run.Horizon, s.Run.NoControls = a.Periods, s.Recorded.Hours, true
		rs, err := replicate.Simulate(context.Background(), s, replicate.Options{})
		require.NoError(t, err)
		m := rs.Alternatives[0].Metrics
		want := map[Figure]float64{Good: m[metric.GoodRate].Mean * a.Hours, RollChanges: m[metric.SpliceRate].Mean * a.Hours, Stops: m[metric.StopRate].Mean * a.Hours,
			Stopped: m[metric.Stopped].Mean * a.Hours * float64(lines), Waste: (m[metric.ProcessedRate].Mean-m[metric.GoodRate].Mean)*a.Hours + 10*m[metric.SpliceRate].Mean*a.Hours}
		for f, x := range want {
			r, ok := a.Row(f)
			require.True(t, ok, f)
			assert.InEpsilon(t, x, r.Mean, 1e-5, f)
			assert.Less(t, r.Low, r.Mean)
			assert.Greater(t, r.High, r.Mean)
			assert.False(t, r.Agrees())
		}
		hold := map[string]float64{}
		for _, r := range a.Rows {
			if r.Figure == CauseTime {
				hold[r.Hold] = r.Mean
			}
		}
		assert.Len(t, hold, 2, "what is not a stop is in no row")
		assert.InEpsilon(t, m[metric.StoppedBy+"stop.knife"].Mean*a.Hours*float64(lines), hold["stop.knife"], 1e-6)
	}
}

// A new period of the same line lies within the interval in 95 of 100 cases, also for
// counts and for what one long stop decides. 3.5 binomial errors, one in 2,000 by
// chance for each of the figures.
func TestPredictionCovers(t *testing.T) {
	if testing.Short() {
		t.Skip("of a coverage, few sets say little")
	}
	sets := effort.Of(0, 12, 150)
	const each = 10 // new periods a set: they share the interval, so they count as less
	in, all := map[string]float64{}, 0.0
	for set := range sets {
		s := study(t, 1, uint64(1000+set), recorded)
		a := of(t, s)
		s.Run.Seed, s.Run.Horizon, s.Run.NoControls = uint64(900000+set), s.Recorded.Hours, true
		outline := replicate.OutlinesOf(s)[0]
		g := newGatherer(&outline, a)
		run, err := replicate.Prepare(context.Background(), s)
		require.NoError(t, err)
		require.NoError(t, replicate.Each(context.Background(), s, run, 0, each, replicate.Options{}, func(_ int, x []*sim.Sample) error {
			g.add(&outline, x[0])
			return nil
		}))
		all += each
		for i, r := range a.Rows {
			for _, v := range g.values[i] {
				r.Recorded = v
				if r.Agrees() {
					in[string(r.Figure)+r.Hold]++
				}
			}
		}
	}
	// The chance that an interval of 199 holds has sd 0.0154 between sets (a beta
	// distribution of 190 and 10), beside the error of counting.
	error3 := 3.5 * math.Sqrt(0.95*0.05/all+0.0154*0.0154/float64(sets))
	for what, n := range in {
		t.Logf("%-28s %.2f %%", what, 100*n/all)
		assert.Greater(t, n/all, 0.95-error3, what)
		if what == string(Good) || what == string(Stopped) || what == string(Waste) { // counts may tie: they cover more
			assert.Less(t, n/all, 0.95+error3, what)
		}
	}
	assert.Len(t, in, 9)
}

func TestPeriods(t *testing.T) {
	for _, x := range []struct {
		confidence, time float64
		n, k             int
	}{{0.95, 86400, 199, 5}, {0.9, 86400, 199, 10}, {0.99, 86400, 199, 1}, {0.999, 86400, 1999, 1}, {0.95, 200 * 86400, 39, 1}, {0.5, 200 * 86400, 39, 10}} {
		n, k := periods(x.confidence, x.time)
		assert.Equal(t, [2]int{x.n, x.k}, [2]int{n, k}, x)
		assert.GreaterOrEqual(t, float64(n+1-2*k)/float64(n+1), x.confidence-1e-9)
	}
}

// The same whatever the number of workers.
func TestWorkers(t *testing.T) {
	s := study(t, 2, 9, recorded)
	one, err := Of(context.Background(), s, nil, replicate.Options{Workers: 1})
	require.NoError(t, err)
	two, err := Of(context.Background(), s, nil, replicate.Options{Workers: 4})
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

// Which alternative was recorded, and nothing where there are no records.
func TestOfWhich(t *testing.T) {
	a, err := Of(context.Background(), study(t, 1, 1, ""), nil, replicate.Options{})
	require.NoError(t, err)
	assert.Nil(t, a)
	two := "\n[[alternative]]\nname = \"now\"\n[[alternative]]\nname = \"slow\"\nline.speed = \"60 m/min\"\n"
	s := study(t, 1, 1, "\n[records]\nhours = \"100 h\"\ngood = \"300 km\"\nalternative = \"slow\"\n"+two)
	slow := of(t, s)
	assert.Equal(t, "slow", slow.Alternative)
	assert.InDelta(t, 1, slow.Speed, 1e-12)
	s = study(t, 1, 1, "\n[records]\nhours = \"100 h\"\ngood = \"300 km\"\n"+two)
	assert.Equal(t, "now", of(t, s).Alternative)
	s.Alternatives = s.Alternatives[1:]
	a, err = Of(context.Background(), s, nil, replicate.Options{})
	require.NoError(t, err)
	assert.Nil(t, a, "the records are of the first, which was not asked for")
}

// Causes that are one thing in the model are one row, and what was fitted judges nothing.
func TestRowsOfCauses(t *testing.T) {
	x := func(v float64) *float64 { return &v }
	r := &model.Period{Hours: 1, Stopped: x(5), Causes: []model.RecordedCause{
		{Text: "A", Is: model.RecordedWebBreak, Time: x(3), Stops: x(1), Fitted: true},
		{Text: "B", Is: model.RecordedWebBreak, Time: x(4)},
		{Text: "only another name", Is: model.RecordedWebBreak},
		{Text: "C", Is: model.RecordedStop, Time: x(1)}}}
	rows := rowsOf(r)
	require.Len(t, rows, 3)
	assert.Equal(t, Row{Figure: Stopped, Unit: "s", Recorded: 5, Fitted: true}, rows[0])
	assert.Equal(t, Row{Figure: CauseTime, Hold: "web_break", Unit: "s", Recorded: 7, Fitted: true}, rows[1])
	assert.Equal(t, Row{Figure: CauseTime, Hold: "stop.C", Unit: "s", Recorded: 1}, rows[2])
}

func TestSuspect(t *testing.T) {
	a := &Answer{Rows: []Row{{Figure: CauseTime, Hold: "a", Recorded: 9, Low: 1, High: 8}, {Figure: CauseTime, Hold: "b", Recorded: 20, Low: 1, High: 18},
		{Figure: CauseTime, Hold: "c", Recorded: 5, Low: 10, High: 18}, {Figure: CauseStops, Hold: "d", Recorded: 500, Low: 1, High: 2}}}
	r, ok := a.Suspect(true)
	assert.True(t, ok)
	assert.Equal(t, "b", r.Hold)
	r, ok = a.Suspect(false)
	assert.True(t, ok)
	assert.Equal(t, "c", r.Hold)
	_, ok = (&Answer{Rows: a.Rows[3:]}).Suspect(true)
	assert.False(t, ok)
}
