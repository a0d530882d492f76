package whatif

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// leastPeriods is how many replications must be asked for to be told what chance
// adds, and usualPeriods how many are then simulated at least: a share of a
// variance is not sure with few.
const (
	leastPeriods = 5
	usualPeriods = 40

	firstPeriods = 8    // of a source, before it is seen whether it adds anything
	nothing      = 0.01 // of the variance
)

// Source is what one source of chance adds to how a figure varies from period
// to period.
type Source struct {
	Key   string
	Of    string  // the stop or duty that the key belongs to
	Share float64 // of the variance, with all interactions
	Half  float64 // half width
}

// Shown says whether the source is shown to add anything.
func (s Source) Shown() bool { return s.Share > s.Half }

// Varies is how a figure varies from period to period by chance, and from what.
type Varies struct {
	SD      float64  // from period to period
	Periods int      // that were simulated
	Sources []Source // the largest share first
	Split   bool     // the known means of the draws split it; else each source was drawn anew
	Rest    Source   // with Split: what sources do together, and those whose effect is not known
}

// chance finds what each source of chance adds to the spread of each metric: it
// is drawn anew in every replication, all others kept (streams have names, so
// that they can be), and the share is the total effect by Jansen's estimator
//
//	T = sum (d - mean d)² / (sum (y - mean y)² + sum (y' - mean y')²),   d = y' - y
//
// of the replications y and those drawn anew y', with a jackknife half width
// (M. J. W. Jansen, Comput. Phys. Commun. 117 (1999) 35-43, from memory; with the
// variances of both samples below, so that T of the only source is 1).
func (e *evaluation) chance(least int) error {
	e.out.Period = e.base.run.Horizon - e.base.run.WarmUp
	if e.base.run.Replications < leastPeriods {
		return nil
	}
	metrics := slices.DeleteFunc(slices.Clone(e.out.Metrics), func(m string) bool { return m == "npv" || m == "payback" })
	if len(metrics) == 0 {
		return nil
	}
	e.out.Varies = map[string]Varies{}
	e.periods = slices.Clone(e.base.samples)
	var anew []string // metrics that are not split
	for _, m := range metrics {
		ok, err := e.splits(m)
		if err != nil {
			return err
		}
		if !ok {
			anew = append(anew, m)
		}
	}
	if metrics = anew; len(metrics) == 0 {
		return nil
	}
	n := max(least, e.base.run.Replications)
	if e.most > 0 {
		n = min(n, e.most)
	}
	sources, lines := e.sources(), len(e.base.study.Alternatives)
	e.meter.begin(chanceStage, lines*(max(0, n-len(e.periods))+n*len(sources)))
	was := map[string][]float64{}
	see := func(to map[string][]float64, x []*sim.Sample) {
		for _, m := range metrics {
			to[m] = append(to[m], e.period(m, x))
		}
	}
	if err := e.simulatePeriods(n); err != nil {
		return err
	}
	for _, x := range e.periods[:n] {
		see(was, x)
	}
	found := map[string][]Source{}
	for i, source := range sources {
		now := map[string][]float64{}
		anew := func(_ int, x []*sim.Sample) error {
			see(now, x)
			return nil
		}
		// A source that adds next to nothing to any metric in the first periods is left.
		done := 0
		for _, to := range []int{min(n, firstPeriods), n} {
			if err := replicate.EachAnew(e.ctx, &e.base.study, e.base.run, source, done, to, e.base.opt, anew); err != nil {
				return err
			}
			done = to
			if !slices.ContainsFunc(metrics, func(m string) bool {
				share, _ := anewShare(was[m][:done], now[m], e.base.run.Confidence)
				return !(share < nothing)
			}) {
				break
			}
		}
		e.counted()
		e.meter.begin(chanceStage, lines*n*(len(sources)-i-1))
		for _, m := range metrics {
			share, half := anewShare(was[m][:done], now[m], e.base.run.Confidence)
			if share > 0 {
				key := e.keyOf(source)
				found[m] = append(found[m], Source{key, called(e.s, len(e.s.Study.Alternatives)-1, key), share, half})
			}
		}
	}
	for _, m := range metrics {
		var spread estimate.Moments
		for _, y := range was[m] {
			spread.Add(y)
		}
		slices.SortStableFunc(found[m], bySize)
		if math.IsNaN(spread.SD()) {
			e.out.Lacking = append(e.out.Lacking, Lack{m, NothingToCount})
			continue
		}
		e.out.Varies[m] = Varies{SD: spread.SD(), Periods: n, Sources: found[m]}
	}
	return nil
}

// bySize puts the source of the largest share first.
func bySize(a, b Source) int {
	switch {
	case a.Share > b.Share:
		return -1
	case a.Share < b.Share:
		return 1
	}
	return strings.Compare(a.Key, b.Key)
}

// splits splits the variance of a metric among its sources, from the replications of
// the base, where the known means of the draws are known of each.
func (e *evaluation) splits(metric string) (bool, error) {
	last := len(e.base.outlines) - 1
	shares := e.base.run.Shares(last)
	if IsMoney(metric) || shares == nil {
		return false, nil
	}
	for {
		var y []float64
		var of []*sim.Sample
		var spread estimate.Moments
		for _, samples := range e.periods {
			v := e.period(metric, samples)
			if samples[last].Controls == nil || math.IsNaN(v) {
				return false, nil
			}
			y, of = append(y, v), append(of, samples[last])
			spread.Add(v)
		}
		if len(y) < leastSplit || !(spread.SD() > 1e-13*math.Abs(spread.Mean())) {
			return false, nil
		}
		sources, rest, left := split(y, of, shares, e.base.run.Confidence)
		if left > muchLeft[0] && left < muchLeft[1] && len(y) < usualPeriods && e.most == 0 {
			if err := e.simulatePeriods(usualPeriods); err != nil {
				return false, err
			}
			continue
		}
		for i := range sources {
			sources[i].Key = e.keyOf(sources[i].Key)
			sources[i].Of = called(e.s, len(e.s.Study.Alternatives)-1, sources[i].Key)
		}
		slices.SortStableFunc(sources, bySize)
		e.out.Varies[metric] = Varies{SD: spread.SD(), Periods: len(y), Sources: sources, Split: true, Rest: rest}
		return true, nil
	}
}

// simulatePeriods simulates the base until there are so many periods of it.
func (e *evaluation) simulatePeriods(n int) error {
	more := func(_ int, x []*sim.Sample) error {
		e.periods = append(e.periods, x)
		return nil
	}
	return replicate.Each(e.ctx, &e.base.study, e.base.run, len(e.periods), max(n, len(e.periods)), e.base.opt, more)
}

// ChanceOf is what chance adds to the spread of some metrics of the last
// alternative of a study, as Sensitivity with Chance finds it, no input moved. Sources
// that have to be drawn anew are, over so many periods.
func ChanceOf(ctx context.Context, s *scenarios.Scenario, metrics []string, periods int, opt Options) (*Sensitivities, error) {
	last := len(s.Study.Alternatives) - 1
	s = Only(s, last)
	out := &Sensitivities{Alternative: s.Study.Alternatives[0].Name}
	e := &evaluation{ctx: ctx, s: s, q: SensitivityQuestion{Chance: true}, opt: opt, out: out, most: periods, meter: &meter{tell: opt.Progress}}
	e.expect(0, 0, periods)
	base, err := newBase(ctx, s, e.meter.options(opt.Workers))
	if err != nil {
		return nil, err
	}
	e.base = base
	for _, m := range metrics {
		if _, ok := base.metrics[m]; ok {
			out.Metrics = append(out.Metrics, m)
		}
	}
	return out, e.chance(periods)
}

// period is a metric in one replication alone.
func (e *evaluation) period(metric string, x []*sim.Sample) float64 {
	of := func(i int, name string) float64 {
		o := &e.base.outlines[i]
		for k := range o.Metrics {
			if o.Metrics[k].Name == name {
				return o.Value(x[i], k)
			}
		}
		return math.NaN()
	}
	if metric != "savings" {
		return of(len(x)-1, metric)
	}
	var sides [2][3]float64
	for i := range sides {
		for k, name := range replicate.JointMetrics {
			sides[i][k] = of(i, name)
		}
	}
	return e.stakes.c.Period(sides[0], sides[1])
}

// sources are those of all alternatives.
func (e *evaluation) sources() []string {
	var list []string
	for i := range e.s.Study.Alternatives {
		for _, s := range sim.SourcesOf(&e.s.Study.Alternatives[i].Line) {
			if !slices.Contains(list, s) {
				list = append(list, s)
			}
		}
	}
	slices.Sort(list)
	return list
}

// keyOf is the key of the scenario that a source belongs to.
func (e *evaluation) keyOf(source string) string {
	line := &e.base.study.Alternatives[len(e.base.study.Alternatives)-1].Line
	key := func(i int, table, what, name string) string {
		if i < 0 {
			return table + " " + name + ", " + what
		}
		return fmt.Sprintf("%s[%d].%s", table, i, what)
	}
	for _, what := range []string{"every", "repair", "scrap"} {
		if name, ok := strings.CutPrefix(source, "stop."+what+" "); ok {
			return key(slices.IndexFunc(line.Stops, func(s model.Stop) bool { return s.Name == name }), "stop", what, name)
		}
	}
	for _, what := range []string{"every", "takes"} {
		if name, ok := strings.CutPrefix(source, what+" duty "); ok {
			name, _, _ = strings.Cut(name, "\t")
			return key(slices.IndexFunc(line.Crew.Duties, func(d model.Duty) bool { return d.Name == name }), "crew.duty", what, name)
		}
	}
	if source == "web_breaks" {
		return "web_breaks.mean_length"
	}
	return source
}

// anewShare is the total effect of a source that was drawn anew, and its half
// width: 0 when that changes nothing, NaN when the figure does not exist in some
// period.
func anewShare(was, now []float64, confidence float64) (share, half float64) {
	n := len(was)
	if same := slices.Equal(was, now); same {
		return 0, 0
	}
	of := func(without int) float64 {
		var a, b, d estimate.Moments
		for i := range was {
			if i != without {
				a.Add(was[i])
				b.Add(now[i])
				d.Add(now[i] - was[i])
			}
		}
		return d.SD() * d.SD() / (a.SD()*a.SD() + b.SD()*b.SD())
	}
	share = of(-1)
	mean, sum := 0.0, 0.0
	less := make([]float64, n)
	for i := range less {
		less[i] = of(i)
		mean += less[i] / float64(n)
	}
	for _, x := range less {
		sum += (x - mean) * (x - mean)
	}
	return share, estimate.StudentT(0.5+confidence/2, float64(n-1)) * math.Sqrt(sum*float64(n-1)/float64(n))
}
