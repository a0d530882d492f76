package replicate

import (
	"context"
	"math"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/invented"
	"rollchange/sim/metric"
)

// controlCase is a pair of lines and how long they are simulated.
type controlCase struct {
	name    string
	a, b    model.Line
	horizon float64
	warmUp  float64
	like    func(l *model.Line) // makes the line whose weights serve; nil: its own do
}

// controlCases are small lines, lines with rare heavy repairs, and short runs.
func controlCases() []controlCase {
	lognormal := func(mean, sd float64) model.Dist { return model.Dist{Law: model.Lognormal, A: mean, B: sd} }
	exponential := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	base := func(change func(l *model.Line)) model.Line {
		l := invented.ZeroSpeed()
		l.Unwind.Roll.Length = model.Dist{Law: model.Normal, A: 1500, B: 60}
		l.Process.StopScrap, l.Process.RestartScrap = model.Const(5), model.Dist{Law: model.Uniform, A: 5, B: 25}
		change(&l)
		return l
	}
	byHand := func(l *model.Line) {
		l.Unwind.Change, l.Unwind.ChangeTime = model.Manual, lognormal(300, 120)
	}
	small := func(l *model.Line) {
		l.WebBreaks = &model.WebBreaks{MeanLength: 6000, AtSpeed: 2.5, Repair: lognormal(300, 200), Scrap: lognormal(30, 20)}
		l.Stops = []model.Stop{{Name: "jam", Every: exponential(1500), Repair: lognormal(60, 60), NeedsOperator: true, Scrap: model.Const(3)}}
		l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.95, lognormal(200, 60)
	}
	rare := func(l *model.Line) {
		l.Stops = []model.Stop{{Name: "fire", Every: exponential(4000), Repair: model.Dist{Law: model.Gamma, A: 0.5, B: 1200}, Scrap: model.Const(40)}}
	}
	heavy := func(l *model.Line) {
		l.Stops = []model.Stop{{Name: "fire", Every: exponential(9000), Repair: model.Dist{Law: model.Gamma, A: 0.25, B: 8000}, Scrap: model.Const(40)},
			{Name: "jam", Every: exponential(1200), Repair: exponential(60)}}
	}
	both := func(f ...func(*model.Line)) model.Line {
		return base(func(l *model.Line) {
			for _, f := range f {
				f(l)
			}
		})
	}
	return []controlCase{
		{"small", both(small, byHand), both(small), 24 * 3600, 0, nil},
		{"small, warm-up", both(small, byHand), both(small), 26 * 3600, 2 * 3600, nil},
		{"rare heavy repairs, two days", both(heavy, byHand), both(heavy), 2 * 86400, 0, nil},
		{"few repairs, eight hours", both(rare, byHand), both(rare), 8 * 3600, 0, nil},
		{"small, by the weights of a slower line with fewer stops", both(small, byHand), both(small), 24 * 3600, 0, func(l *model.Line) {
			l.Process.Speed *= 0.6
			l.Stops = []model.Stop{l.Stops[0]}
			l.Stops[0].Every = exponential(4000)
		}},
	}
}

func (c *controlCase) study(replications int, seed uint64, plain bool) *model.Study {
	return &model.Study{Run: model.Run{Horizon: c.horizon, WarmUp: c.warmUp, Replications: replications, Seed: seed, Confidence: 0.95, NoControls: plain},
		Alternatives: []model.Alternative{{Name: "a", Line: c.a}, {Name: "b", Line: c.b}}}
}

// options are those of the study, with the weights of the line that it varies.
func (c *controlCase) options(t *testing.T, study *model.Study) Options {
	opt := Options{Workers: 1}
	if c.like == nil {
		return opt
	}
	from := *study
	from.Alternatives = append([]model.Alternative(nil), study.Alternatives...)
	for i := range from.Alternatives {
		c.like(&from.Alternatives[i].Line)
	}
	run, err := Prepare(context.Background(), &from)
	require.NoError(t, err)
	opt.Like = &run
	return opt
}

// The interval of every headline figure, and of its paired difference, covers the
// truth as often as it says, and the mean is not off: against plain runs of far more
// replications. A set that fails by chance: beyond 3.5 binomial errors, 1 in 4,000
// for each of the figures, and a bias beyond 4.5 errors, 1 in 4,000 for each of 20 sets
// (the usual form; Student's t of 19 degrees of freedom).
func TestControlledIntervalsCover(t *testing.T) {
	t.Parallel()
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	sets, truths, each := effort.Of(0, 20, 600), effort.Of(0, 8, 60), effort.Of(0, 100, 1000)
	for _, c := range controlCases() {
		t.Run(c.name, func(t *testing.T) {
			names := []string{metric.GoodRate, metric.Waste, metric.OEE, metric.Stopped, metric.SpliceRate}
			all := func(r *Results) (list []estimate.Estimate) {
				for _, m := range []Metrics{r.Alternatives[0].Metrics, r.Alternatives[1].Metrics, r.Differences[1]} {
					for _, name := range names {
						list = append(list, m[name])
					}
				}
				return list
			}
			n := 3 * len(names)
			var lock sync.Mutex
			var truth, bias []estimate.Moments = make([]estimate.Moments, n), make([]estimate.Moments, n)
			parallel(truths, func(k int) {
				r, err := Simulate(context.Background(), c.study(each, uint64(500000+k), true), Options{Workers: 1})
				require.NoError(t, err)
				lock.Lock()
				defer lock.Unlock()
				for i, e := range all(r) {
					truth[i].Add(e.Mean)
				}
			})
			covers, known, narrowed, used := make([]int, n), make([]int, n), make([]estimate.Moments, n), 0
			parallel(sets, func(k int) {
				ctx := WithMemory(context.Background(), NewMemory(40, nil)) // the same replications twice
				study := c.study(20, uint64(1+k), false)
				r, err := Simulate(ctx, study, c.options(t, study))
				require.NoError(t, err)
				p, err := Simulate(ctx, c.study(20, uint64(1+k), true), Options{Workers: 1})
				require.NoError(t, err)
				plain := all(p)
				lock.Lock()
				defer lock.Unlock()
				if r.Run.Narrowed[1] > 0 {
					used++
				}
				for i, e := range all(r) {
					bias[i].Add(e.Mean)
					if e.Known() {
						known[i]++
						if e.Low <= truth[i].Mean() && truth[i].Mean() <= e.High {
							covers[i]++
						}
						if plain[i].Known() {
							narrowed[i].Add(math.Log((e.High - e.Low) / (plain[i].High - plain[i].Low)))
						}
					}
				}
			})
			for i := range n {
				what := []string{"a", "b", "b - a"}[i/len(names)] + " " + names[i%len(names)]
				share := float64(covers[i]) / float64(known[i])
				least := 0.95
				if used < sets/2 { // too few draws: nearly all are plain, which promise 93 % where few events carry a figure
					least = 0.93
				}
				assert.Greater(t, share, least-3.5*math.Sqrt(least*(1-least)/float64(known[i])), what)
				assert.Greater(t, known[i], sets*8/10, what)
				off := (bias[i].Mean() - truth[i].Mean()) / math.Hypot(bias[i].SD()/math.Sqrt(float64(sets)), truth[i].SD()/math.Sqrt(float64(truths)))
				assert.Less(t, math.Abs(off), 4.5, "%s: biased", what)
				t.Logf("%-22s covers %.1f %%, known %d, half width %.2f of plain, bias %.1f se", what, 100*share, known[i], math.Exp(narrowed[i].Mean()), off)
			}
			t.Logf("controls used in %d of %d", used, sets)
		})
	}
}

// Without controls asked for, with too few replications, or where no sample has them,
// the figures are the plain ones.
func TestPlainWithoutControls(t *testing.T) {
	c := controlCases()[0]
	r, err := Simulate(context.Background(), c.study(9, 1, false), Options{})
	require.NoError(t, err)
	p, err := Simulate(context.Background(), c.study(9, 1, true), Options{})
	require.NoError(t, err)
	assert.Equal(t, printed(p), printed(r))
	assert.Zero(t, r.Run.Narrowed)
	r, err = Simulate(context.Background(), c.study(10, 1, false), Options{})
	require.NoError(t, err)
	p, err = Simulate(context.Background(), c.study(10, 1, true), Options{})
	require.NoError(t, err)
	assert.NotEqual(t, p.Alternatives[0].Metrics[metric.GoodRate].Mean, r.Alternatives[0].Metrics[metric.GoodRate].Mean)
	assert.Positive(t, r.Run.Narrowed[0])
	for name, e := range r.Alternatives[1].Metrics {
		plain := p.Alternatives[1].Metrics[name]
		if !math.IsNaN(e.SD) {
			assert.InEpsilon(t, 1+plain.SD, 1+e.SD, 1e-12, "%s: the spread is that of the replications", name)
		}
		if m, _ := metric.Of(name); m.Estimate != metric.Mean && m.Estimate != metric.Count {
			assert.Equal(t, printedOne(plain), printedOne(e), name)
		}
	}
}

func printedOne(e estimate.Estimate) [4]uint64 {
	return [4]uint64{math.Float64bits(e.Mean), math.Float64bits(e.HalfWidth), math.Float64bits(e.Low), math.Float64bits(e.High)}
}

// A difference is that of the means, shares of time add up, and the covariances that
// a savings case draws from are those of the means shown.
func TestControlledFiguresGoTogether(t *testing.T) {
	c := controlCases()[0]
	r, err := Simulate(context.Background(), c.study(20, 3, false), Options{})
	require.NoError(t, err)
	for name, d := range r.Differences[1] {
		// One that few events carry is the plain one.
		if m, _ := metric.Of(name); m.Estimate == metric.Mean && d.Why == estimate.Symmetric {
			assert.InDelta(t, r.Alternatives[1].Metrics[name].Mean-r.Alternatives[0].Metrics[name].Mean, d.Mean, 1e-12, name)
		}
	}
	for _, a := range r.Alternatives {
		sum := 0.0
		for _, name := range []string{metric.Running, metric.Ramping, metric.Slowed, metric.Stopped} {
			sum += a.Metrics[name].Mean
		}
		assert.InDelta(t, 1, sum, 1e-9)
	}
	tt := estimate.StudentT(0.975, 19)
	for i, name := range JointMetrics {
		e := r.Alternatives[0].Metrics[name]
		if e.Why == estimate.Symmetric {
			assert.InEpsilon(t, e.HalfWidth, tt*math.Sqrt(r.Joint.Cov[i][i]/20), 1e-9, name)
		}
		d := r.Differences[1][name]
		k := len(JointMetrics) + i
		if d.Why == estimate.Symmetric {
			assert.InEpsilon(t, d.HalfWidth, tt*math.Sqrt((r.Joint.Cov[i][i]+r.Joint.Cov[k][k]-2*r.Joint.Cov[i][k])/20), 1e-9, name)
		}
	}
}

// Samples that were written and read again give the same, controls too.
func TestControlsAreWritten(t *testing.T) {
	c := controlCases()[0]
	study := c.study(12, 3, false)
	run, err := Prepare(context.Background(), study)
	require.NoError(t, err)
	direct, read := NewGathering(run, OutlinesOf(study)), NewGathering(run, OutlinesOf(study))
	require.NoError(t, Each(context.Background(), study, run, 0, 12, Options{}, func(_ int, list []*sim.Sample) error {
		require.NoError(t, direct.Add(list))
		var again []*sim.Sample
		for _, x := range list {
			require.NotNil(t, x.Controls)
			data, err := x.MarshalJSON()
			require.NoError(t, err)
			var y sim.Sample
			require.NoError(t, y.UnmarshalJSON(data))
			again = append(again, &y)
		}
		return read.Add(again)
	}))
	assert.Equal(t, printed(direct.Results()), printed(read.Results()))
}

// One alternative with controls and one without share no chance: none are used.
func TestControlsOfAllOrNone(t *testing.T) {
	c := controlCases()[0]
	study := c.study(20, 3, false)
	quiet := invented.ZeroSpeed() // nothing varies in it
	quiet.Unwind.Roll.Length = model.Const(1500)
	study.Alternatives[1].Line = quiet
	r, err := Simulate(context.Background(), study, Options{})
	require.NoError(t, err)
	study.Run.NoControls = true
	p, err := Simulate(context.Background(), study, Options{})
	require.NoError(t, err)
	assert.Equal(t, printed(p), printed(r))
	assert.Zero(t, r.Run.Narrowed)
}

// Waste by one cause that the controls would make less than nothing goes without them, and
// with it all waste, so that it adds up; what is in another family keeps them. The sums of
// twenty replications lie from 0.1 to 2, and waste by splices of x - 0.1 would be -0.1 at 0.
func TestWhatAddsUpIsAdjustedAsOne(t *testing.T) {
	names := []string{metric.GoodRate, metric.Running, metric.Waste, metric.WasteSplice, metric.WasteStop}
	o := Outline{Name: "a"}
	for _, name := range names {
		o.Metrics = append(o.Metrics, MetricName{Name: name, Kind: metric.Mean})
	}
	for _, least := range []float64{0.1, -0.1} {
		g := NewGathering(RunInfo{Confidence: 0.95}, []Outline{o})
		for k := range 20 {
			x, noise := 0.1+0.1*float64(k), 0.01*float64(k%3)
			sample := &sim.Sample{Controls: &[2]float64{x}}
			for _, y := range []float64{9 - x + noise, 0.5 + x, 3 + 2*x - least + noise, x - least, 3 + x + noise} {
				sample.Figures = append(sample.Figures, estimate.Figure{Num: y, Den: 1})
			}
			require.NoError(t, g.Add([]*sim.Sample{sample}))
		}
		m := g.Results().Alternatives[0].Metrics
		assert.InDelta(t, m[metric.Waste].Mean, m[metric.WasteSplice].Mean+m[metric.WasteStop].Mean, 1e-12)
		assert.InDelta(t, 0.5, m[metric.Running].Mean, 1e-9, "with the controls")
		splices := 1.05 - least // of the replications as they are
		if least < 0 {
			splices = -least
		}
		assert.InDelta(t, splices, m[metric.WasteSplice].Mean, 1e-9)
	}
}

// A study that varies another is run with the weights of that one, each law by its own
// parameters, where both have the same sources; else it finds its own.
func TestWeightsOfTheStudyThatIsVaried(t *testing.T) {
	c := controlCases()[0]
	base := c.study(20, 3, false)
	like, err := Prepare(t.Context(), base)
	require.NoError(t, err)
	faster := c.study(20, 3, false)
	faster.Alternatives[0].Line.Process.Speed *= 1.2
	run, err := PrepareLike(t.Context(), faster, &like)
	require.NoError(t, err)
	want, got := like.Shares(0), run.Shares(0)
	require.Greater(t, len(want), 5)
	require.Len(t, got, len(want))
	for i := range want {
		assert.Equal(t, want[i].Source, got[i].Source)
		assert.InDelta(t, want[i].Good, got[i].Good, 1e-12*math.Abs(want[i].Good))
	}
	more := c.study(20, 3, false)
	line := &more.Alternatives[1].Line
	line.Stops = append(append([]model.Stop(nil), line.Stops...), model.Stop{Name: "fire", Every: model.Const(4000), Repair: model.Const(60)})
	own, err := Prepare(t.Context(), more)
	require.NoError(t, err)
	run, err = PrepareLike(t.Context(), more, &like)
	require.NoError(t, err)
	assert.Equal(t, own, run)
	few := c.study(fewReplications-1, 3, false)
	run, err = PrepareLike(t.Context(), few, &like)
	require.NoError(t, err)
	assert.Nil(t, run.weights)
}
