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

// chance finds what each source of chance adds to the spread of each metric: the known
// means of the draws split it where they can, else each source is drawn anew.
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
	var anew []string
	for _, m := range metrics {
		ok, err := e.splits(m)
		if err != nil {
			return err
		}
		if !ok {
			anew = append(anew, m)
		}
	}
	if len(anew) == 0 {
		return nil
	}
	n := max(least, e.base.run.Replications)
	if e.most > 0 {
		n = min(n, e.most)
	}
	return e.drawAnew(anew, n)
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
			sources[i].Key, sources[i].Of = e.named(sources[i].Key)
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

// named is a source by its key, and the stop or duty that this belongs to.
func (e *evaluation) named(source string) (key, of string) {
	key = e.keyOf(source)
	return key, called(e.s, len(e.s.Study.Alternatives)-1, key)
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
