package replicate

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync/atomic"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// Records are the records behind the laws of a study, which draw its lines anew as other
// records of as many values would have given them. The draw of a number is always the
// same; moved is by how much each record has moved its law, with mean 0 and a standard
// deviation near 1.
type Records interface {
	Draw(number int) (alternatives []model.Alternative, moved []float64)
	Records() []model.Record
}

// All records are drawn anew from leastDraws to mostDraws times, as often as can be
// simulated in so many events; each draw in two replications, whose difference tells
// chance from what the records do. Student's t of as many less one makes up for so few.
const (
	leastDraws = 24
	mostDraws  = 60
	drawEvents = 8e6 // a second or two
)

// drawsFor is how often the records behind results are drawn anew.
func drawsFor(rs *Results) int {
	events := 0.0
	for _, r := range rs.Alternatives {
		events += float64(r.Events)
	}
	each := 2 * events / float64(max(1, rs.Run.Replications))
	return int(min(mostDraws, max(leastDraws, drawEvents/max(1, each))))
}

// Open is what the records leave open: of a half width, by record.
type Open struct {
	Draws   int
	Records []model.Record
	Good    []OpenOf // of the good web of each alternative
	Against []OpenOf // of its difference from the first; the first has none

	Joint [][]float64 // covariance that they leave of the JointMetrics, as in Joint; nil: not known
}

// OpenOf is what the records leave open of one figure.
type OpenOf struct {
	SD    float64   // that they leave, in the unit of the figure
	Parts []float64 // share of the variance that each record brings; 0: none shown
}

// LeaveOpen finds what the records leave open of every figure of results and puts it into
// their estimates (Left). Each draw of all records is simulated on the random numbers of
// two replications of the base, so that the difference from them is the draw's, with
// little of chance in it; what is left of chance is taken off. The known means of the
// draws take out most of it beforehand, with the slopes of the base.
//
// Sources: Barton, Nelson and Xie, INFORMS J. Comput. 26 (2014) 74 (parametric
// bootstrap); Song, Nelson and Pegden, Proc. 2014 Winter Simulation Conf., 162 (variance
// of random effects).
func LeaveOpen(ctx context.Context, study *model.Study, rs *Results, records Records, opt Options) error {
	opt.Cycles, opt.Watch = false, nil
	o, err := newOpening(ctx, study, rs, opt)
	if err != nil {
		return err
	}
	moved := make([][]float64, o.draws)
	studies := make([]*model.Study, o.draws)
	for p := range studies {
		s := *study
		s.Alternatives, moved[p] = records.Draw(p)
		studies[p] = &s
	}
	if err := o.simulate(ctx, studies, opt); err != nil {
		return err
	}
	o.put(rs, moved, records.Records())
	return nil
}

// opening gathers what replications of redrawn lines differ by from the base.
type opening struct {
	run   RunInfo
	draws int
	base  [][]*sim.Sample  // by replication, alternative
	lines []openLine       // by alternative
	off   [][2][][]float64 // by draw, its replication, alternative, metric; NaN: none
}

// openLine is an alternative in the base.
type openLine struct {
	metrics []MetricName
	slopes  map[string][2]float64
}

func newOpening(ctx context.Context, study *model.Study, rs *Results, opt Options) (*opening, error) {
	o := &opening{run: rs.Run, draws: drawsFor(rs)}
	g := NewGathering(rs.Run, OutlinesOf(study))
	err := Each(ctx, study, rs.Run, 0, min(max(2, rs.Run.Replications), 2*o.draws), Options{Workers: opt.Workers}, func(_ int, x []*sim.Sample) error {
		o.base = append(o.base, slices.Clone(x))
		return g.Add(x)
	})
	if err != nil {
		return nil, err
	}
	o.lines = make([]openLine, len(g.collectors))
	g.settle()
	for i, c := range g.collectors {
		o.lines[i] = openLine{metrics: c.metrics, slopes: c.slopesOf(rs.Run.Confidence)}
	}
	return o, nil
}

// simulate runs every draw in its two replications and keeps what each differs by.
func (o *opening) simulate(ctx context.Context, studies []*model.Study, opt Options) error {
	o.off = make([][2][][]float64, len(studies))
	errs := make([]error, 2*len(studies))
	done := &counter{tell: opt.Progress, total: len(errs)}
	var failed atomic.Bool // one has: the others would most likely too
	err := Spread(ctx, opt.Workers, len(errs), func(i int) {
		if failed.Load() {
			return
		}
		r := i % len(o.base)
		errs[i] = Each(ctx, studies[i/2], o.run.drawn(studies[i/2]), r, r+1, Options{Workers: 1}, func(_ int, x []*sim.Sample) error {
			o.off[i/2][i%2] = o.differ(OutlinesOf(studies[i/2]), x, o.base[r])
			return nil
		})
		if errs[i] != nil {
			failed.Store(true)
		}
		done.add()
	})
	if err != nil {
		return err
	}
	return cmp.Or(errs...)
}

// drawn are the settings for a study that is drawn anew: its controls weigh what its own
// laws draw.
func (r RunInfo) drawn(study *model.Study) RunInfo {
	list := make([]*sim.Weights, len(r.weights))
	for i, w := range r.weights {
		list[i] = w.For(&study.Alternatives[i].Line)
	}
	r.weights = list
	return r
}

// differ is by how much the figures of a redrawn line are above those of the base in the
// same replication.
func (o *opening) differ(outlines []Outline, x, base []*sim.Sample) [][]float64 {
	list := make([][]float64, len(o.lines))
	for i := range list {
		l := &o.lines[i]
		at := map[string]int{}
		for k, m := range outlines[i].Metrics {
			at[m.Name] = k
		}
		list[i] = make([]float64, len(l.metrics))
		for k := range l.metrics {
			list[i][k] = math.NaN()
			if there, ok := at[l.metrics[k].Name]; ok {
				list[i][k] = l.value(k, there, x[i]) - l.value(k, k, base[i])
			}
		}
	}
	return list
}

// value is metric k of a sample, where it stands at a place, without what it owes to the
// controls.
func (l *openLine) value(k, at int, x *sim.Sample) float64 {
	f := x.Figures[at]
	switch m := &l.metrics[k]; {
	case m.Kind == metric.Interval:
		return math.NaN()
	case !m.byReplication():
		return f.Num / f.Den
	default:
		v := f.Num
		if s, ok := l.slopes[m.Name]; ok && x.Controls != nil {
			v -= s[0]*x.Controls[0] + s[1]*x.Controls[1]
		}
		return v / f.Den
	}
}

// pairOf is metric k of alternative i in both replications of a draw; less the metric b
// of the first alternative where that is not below 0.
func (o *opening) pairOf(p, i, k, b int) [2]float64 {
	var x [2]float64
	for r := range x {
		x[r] = o.off[p][r][i][k]
		if b >= 0 {
			x[r] -= o.off[p][r][0][b]
		}
	}
	return x
}

// left is the standard deviation that the records leave of a metric: that of the means
// of the pairs, without what the two of a pair differ by. What chance hides is not
// nothing: it is taken as one standard error of the variance at least. NaN where it is
// not known.
func (o *opening) left(i, k, b int) (sd float64, means []float64) {
	var between, within estimate.Moments
	noise := 0.0
	for p := range o.off {
		x := o.pairOf(p, i, k, b)
		if math.IsNaN(x[0]) || math.IsNaN(x[1]) {
			continue
		}
		means = append(means, (x[0]+x[1])/2)
		between.Add((x[0] + x[1]) / 2)
		within.Add(x[0] - x[1])
		noise += (x[0] - x[1]) * (x[0] - x[1])
	}
	if between.N() < o.draws/2 {
		return math.NaN(), nil
	}
	all := between.SD() * between.SD()
	v := all - noise/float64(4*within.N())
	return math.Sqrt(max(v, all*math.Sqrt(2/float64(between.N()-1)))), means
}

// put writes what the records leave open into results.
func (o *opening) put(rs *Results, moved [][]float64, records []model.Record) {
	t := estimate.StudentT(0.5+rs.Run.Confidence/2, float64(o.draws-1))
	rs.Open = &Open{Draws: o.draws, Records: records, Good: make([]OpenOf, len(o.lines)), Against: make([]OpenOf, len(o.lines))}
	rs.Open.Joint = o.together()
	first := map[string]int{}
	for k, m := range o.lines[0].metrics {
		first[m.Name] = k
	}
	for i := range o.lines {
		for k, m := range o.lines[i].metrics {
			if e, ok := rs.Alternatives[i].Metrics[m.Name]; ok {
				sd, means := o.left(i, k, -1)
				e.Left = t * sd
				if m.Kind == metric.Interval { // as of the share before it, of which it is the inverse
					of := rs.Alternatives[i].Metrics[o.lines[i].metrics[k-1].Name]
					e.Left = e.Mean * of.Left / of.Mean
				}
				rs.Alternatives[i].Metrics[m.Name] = e
				if m.Name == metric.GoodRate {
					rs.Open.Good[i] = OpenOf{sd, partsOf(means, moved, sd)}
				}
			}
			b, both := first[m.Name]
			if d, ok := rs.Differences[i][m.Name]; ok && both && i > 0 {
				sd, means := o.left(i, k, b)
				d.Left = t * sd
				rs.Differences[i][m.Name] = d
				if m.Name == metric.GoodRate {
					rs.Open.Against[i] = OpenOf{sd, partsOf(means, moved, sd)}
				}
			}
		}
	}
}
