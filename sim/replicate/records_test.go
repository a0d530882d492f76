package replicate

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/observed"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// renewal is a line that runs for u and stands for d, by turns, and does nothing else.
const renewal = `[line]
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
every = { dist = "exponential", mean = "50 min", observed = %d }
repair = { dist = "exponential", mean = "5 min", observed = %d }
needs_operator = false
[run]
horizon = "60 d"
replications = 12
seed = %d
`

// leaveOpen simulates a scenario with what its records leave open.
func leaveOpen(t *testing.T, study *model.Study, opt Options) *Results {
	rs, err := Simulate(context.Background(), study, opt)
	require.NoError(t, err)
	require.NoError(t, LeaveOpen(context.Background(), study, rs, observed.Of(study), opt))
	return rs
}

// Availability A = u/(u + d), u learned from n values and d from m, both exponential: the
// records leave a variance of A² (1-A)² (1/n + 1/m) (delta method, derived). With u 50 min,
// d 5 min, n = m = 40 that is a standard deviation of 0.018479. A variance of 60 draws is
// known to sqrt(2/59); that of so many seeds together to a root of them less. What the delta
// method leaves out is of the order of 1/n. Half of the variance is of each record.
func TestRecordsLeaveWhatTheClosedFormSays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ n, m int }{{400, 100}, {40, 40}}[:effort.Of(1, 2, 2)] {
		seeds := effort.Of(3, 4, 96)
		const a = 50. / 55
		want := a * a * (1 - a) * (1 - a) * (1/float64(c.n) + 1/float64(c.m))
		if c.n == 40 {
			assert.InDelta(t, 0.018479, math.Sqrt(want), 1e-6)
		}
		sum, draws := 0.0, 0
		var parts [2]float64
		for seed := range seeds {
			s, err := scenarios.Parse("test", fmt.Appendf(nil, renewal, c.n, c.m, seed+1), ".")
			require.NoError(t, err)
			rs := leaveOpen(t, &s.Study, Options{})
			draws = rs.Open.Draws
			e := rs.Alternatives[0].Metrics[metric.Availability]
			half := e.Left / estimate.StudentT(0.975, float64(draws-1))
			sum += half * half / float64(seeds)
			require.Equal(t, []model.Record{{Key: "stop[jam].every", Observed: c.n}, {Key: "stop[jam].repair", Observed: c.m}}, rs.Open.Records)
			for k, p := range rs.Open.Good[0].Parts {
				parts[k] += p / float64(seeds)
			}
		}
		off := 3.5*math.Sqrt(2/float64(draws-1)/float64(seeds)) + 4/float64(min(c.n, c.m))
		t.Logf("n %d, m %d: sd %.6f, closed form %.6f; of it %.3f by the time between", c.n, c.m, math.Sqrt(sum), math.Sqrt(want), parts[0])
		assert.InEpsilon(t, want, sum, off)
		assert.InDelta(t, 1/float64(c.n)/(1/float64(c.n)+1/float64(c.m)), parts[0], off)
		assert.InDelta(t, 1, parts[0]+parts[1], 0.1)
	}
}

// A cause that came once, with a rate that 1/u tells: what its record leaves of the good web
// is what a gamma variable of shape 1 leaves of the rate, a share d/u of the hours (to
// first order). Means between that were drawn as sampled gave a hundred times the variance,
// by draws of a fortieth of the mean; and controls of the base weigh a draw of forty times the
// mean as if it were as long. A variance of 60 draws of an exponential variable, kurtosis
// 9, is known to sqrt(8/60); 3.5 of these over the seeds.
func TestOneRecordedValueLeavesWhatItSays(t *testing.T) {
	if testing.Short() {
		t.Skip("TestRecordsLeaveWhatTheClosedFormSays has more values")
	}
	t.Parallel()
	seeds := effort.Of(4, 4, 40)
	sum := 0.0
	for seed := range seeds {
		s, err := scenarios.Parse("test", fmt.Appendf(nil, renewal+"[[stop]]\nname = \"fire\"\nevery = { dist = \"exponential\", mean = \"400 h\", observed = 1 }\nrepair = \"4 h\"\nneeds_operator = false\n", 1000000, 1000000, seed+1), ".")
		require.NoError(t, err)
		rs := leaveOpen(t, &s.Study, Options{})
		e := rs.Alternatives[0].Metrics[metric.GoodRate]
		half := e.Left / estimate.StudentT(0.975, float64(rs.Open.Draws-1)) / e.Mean
		sum += half * half / float64(seeds)
	}
	want := 0.01 / (1 + 0.1 + 0.01) // of the good web: u 50 min and d 5 min beside it
	t.Logf("sd %.5f of the good web, %.5f expected", math.Sqrt(sum), want)
	assert.InEpsilon(t, want*want, sum, 3.5*math.Sqrt(8./60/float64(seeds))+0.05)
}

// What the records leave open is the same for any number of workers.
func TestRecordsDoNotHangOnWorkers(t *testing.T) {
	s, err := scenarios.Parse("test", fmt.Appendf(nil, renewal, 40, 60, 3), ".")
	require.NoError(t, err)
	s.Study.Run.Horizon = 5 * 86400
	one := leaveOpen(t, &s.Study, Options{Workers: 1})
	for _, workers := range []int{2, 5} {
		other := leaveOpen(t, &s.Study, Options{Workers: workers})
		assert.Equal(t, one.Open, other.Open)
		for name, e := range one.Alternatives[0].Metrics {
			assert.Equal(t, math.Float64bits(e.Left), math.Float64bits(other.Alternatives[0].Metrics[name].Left), name)
		}
	}
}

// A law that two alternatives share is drawn alike in both: their difference, which does
// not hang on it, is left as it is. One that only says another mean has a record of its
// own.
func TestRecordsArePairedOverAlternatives(t *testing.T) {
	s, err := scenarios.Parse("test", fmt.Appendf(nil, renewal+`[[alternative]]
name = "a"
[[alternative]]
name = "b"
line.path = "3 m"
[[alternative]]
name = "c"
stop = [{ name = "jam", every = { dist = "exponential", mean = "51 min", observed = 40 }, repair = { dist = "exponential", mean = "5 min", observed = 40 }, needs_operator = false }]
`, 40, 40, 2), ".")
	require.NoError(t, err)
	s.Study.Run.Horizon = 20 * 86400
	rs := leaveOpen(t, &s.Study, Options{})
	alone := rs.Alternatives[0].Metrics[metric.GoodRate].Left
	assert.Positive(t, alone)
	assert.Zero(t, rs.Differences[1][metric.GoodRate].Left)
	assert.InDelta(t, alone, rs.Differences[2][metric.GoodRate].Left, 0.4*alone, "two times between, each half of the variance of one line: as much as that of one")
	assert.Len(t, rs.Open.Records, 3)
}

// Intervals with the records cover the truth where the laws were fitted to logs of so many
// stops of a known line: with 60 stops or more in 95 % of repeats, within 3.5 standard
// errors of that (false alarm 5e-4). Without the records they do not. The line has two
// causes; its availability is 1/(1 + sum of repair/between), in closed form. The usual form
// has logs of 60 stops alone.
func TestIntervalsWithRecordsCoverTheTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("of a coverage, few sets say little")
	}
	t.Parallel()
	effort.NotInRace(t)
	repeats := effort.Of(16, 16, 200)
	stopsOfLogs := []int{60}
	if effort.Long() {
		stopsOfLogs = []int{10, 20, 60, 120}
	}
	for _, stops := range stopsOfLogs {
		covered, without := coverageOfRecords(t, stops, repeats)
		t.Logf("%d stops of each cause: covered in %.1f %%, without the records %.1f %% of %d", stops, covered*100, without*100, repeats)
		if stops >= 60 {
			assert.InDelta(t, 0.95, covered, 3.5*math.Sqrt(0.95*0.05/float64(repeats)))
			assert.Less(t, without, 0.6)
		}
	}
}

func coverageOfRecords(t *testing.T, stops, repeats int) (with, without float64) {
	type cause struct{ every, repair model.Dist }
	causes := []cause{
		{model.Dist{Law: model.Exponential, A: 3000}, model.Dist{Law: model.Lognormal, A: 300, B: 240}},
		{model.Dist{Law: model.Exponential, A: 9000}, model.Dist{Law: model.Gamma, A: 2, B: 300}},
	}
	lost := 0.0
	for _, c := range causes {
		lost += c.repair.Mean() / c.every.Mean()
	}
	truth := 1 / (1 + lost)
	base, err := scenarios.Parse("test", fmt.Appendf(nil, renewal, 1, 1, 1), ".")
	require.NoError(t, err)
	var mu sync.Mutex
	parallel(repeats, func(k int) {
		study := base.Study
		study.Run.Seed, study.Run.Horizon, study.Run.Replications = uint64(k+1), 15*86400, 10
		line := study.Alternatives[0].Line
		line.Stops = nil
		r := rand.New(rand.NewPCG(uint64(stops), uint64(k)))
		learned := func(d model.Dist) model.Dist {
			var values []fit.Value
			for range stops {
				values = append(values, fit.Value{X: d.Quantile(r.Float64())})
			}
			got, err := fit.Of(values, fit.Options{Seed: uint64(k), Draws: 39})
			if !assert.NoError(t, err) {
				return d
			}
			got.Answer.Observed = got.Observed()
			return got.Answer
		}
		for i, c := range causes {
			line.Stops = append(line.Stops, model.Stop{Name: fmt.Sprint("cause ", i), Every: learned(c.every), Repair: learned(c.repair)})
		}
		study.Alternatives = []model.Alternative{{Name: "base", Line: line}}
		rs, err := Simulate(context.Background(), &study, Options{Workers: 1})
		if !assert.NoError(t, err) || !assert.NoError(t, LeaveOpen(context.Background(), &study, rs, observed.Of(&study), Options{Workers: 1})) {
			return
		}
		e := rs.Alternatives[0].Metrics[metric.Availability]
		w := e.WithRecords()
		mu.Lock()
		defer mu.Unlock()
		if w.Low <= truth && truth <= w.High {
			with += 1 / float64(repeats)
		}
		if e.Low <= truth && truth <= e.High {
			without += 1 / float64(repeats)
		}
	})
	return with, without
}

// hasty are records that draw a line whose orders are done before the warm-up is over.
type hasty struct {
	line  model.Line
	draws atomic.Int64
}

func (h *hasty) Records() []model.Record { return []model.Record{{Key: "unwind.roll_length"}} }

func (h *hasty) Draw(int) ([]model.Alternative, []float64) {
	h.draws.Add(1)
	l, of := h.line, h.line
	l.Products = []model.Product{{Name: "a", Line: &of}}
	l.Orders = &model.Orders{List: []model.Order{{Length: 10, Due: model.NotDue}}}
	return []model.Alternative{{Name: "base", Line: l}}, []float64{0}
}

// Where every draw fails alike, that is told once, and no more than what was begun is tried.
func TestDrawsThatFailAreToldOnce(t *testing.T) {
	s, err := scenarios.Parse("test", fmt.Appendf(nil, renewal, 1, 1, 1), ".")
	require.NoError(t, err)
	study := s.Study
	study.Run.Horizon, study.Run.WarmUp, study.Run.Replications = 86400, 3600, 2
	rs, err := Simulate(context.Background(), &study, Options{})
	require.NoError(t, err)
	records := &hasty{line: study.Alternatives[0].Line}
	err = LeaveOpen(context.Background(), &study, rs, records, Options{})
	require.ErrorContains(t, err, "the list of orders is done")
	assert.NotContains(t, err.Error(), "\n")
	records.draws.Store(0)
	err = EachDrawn(context.Background(), &study, rs.Run, records, 0, 300, Options{Workers: 2}, nil)
	require.ErrorContains(t, err, "the list of orders is done")
	assert.NotContains(t, err.Error(), "\n")
	assert.Less(t, records.draws.Load(), int64(100))
}
