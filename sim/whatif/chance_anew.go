package whatif

import (
	"math"
	"slices"

	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// redrawing finds what each source of chance adds to metrics by drawing it anew.
type redrawing struct {
	*evaluation
	metrics []string
	n       int                  // periods
	was     map[string][]float64 // each metric in each period
	found   map[string][]Source  // what adds anything to each metric
}

// drawAnew finds what each source of chance adds to the spread of metrics: it
// is drawn anew in every replication, all others kept (streams have names, so
// that they can be), and the share is the total effect by Jansen's estimator
//
//	T = sum (d - mean d)² / (sum (y - mean y)² + sum (y' - mean y')²),   d = y' - y
//
// of n replications y and those drawn anew y', with a jackknife half width
// (M. J. W. Jansen, Comput. Phys. Commun. 117 (1999) 35-43, from memory; with the
// variances of both samples below, so that T of the only source is 1).
func (e *evaluation) drawAnew(metrics []string, n int) error {
	sources, lines := e.sources(), len(e.base.study.Alternatives)
	e.meter.begin(chanceStage, lines*(max(0, n-len(e.periods))+n*len(sources)))
	if err := e.simulatePeriods(n); err != nil {
		return err
	}
	r := &redrawing{e, metrics, n, map[string][]float64{}, map[string][]Source{}}
	for _, x := range e.periods[:n] {
		r.see(r.was, x)
	}
	for i, source := range sources {
		now, err := r.draw(source)
		if err != nil {
			return err
		}
		e.counted()
		e.meter.begin(chanceStage, lines*n*(len(sources)-i-1))
		r.find(source, now)
	}
	r.tell()
	return nil
}

// see adds the figures of a period to those of each metric.
func (r *redrawing) see(to map[string][]float64, x []*sim.Sample) {
	for _, m := range r.metrics {
		to[m] = append(to[m], r.period(m, x))
	}
}

// draw draws a source anew: the figures of each metric. A source that adds next to
// nothing to any metric in the first periods is left.
func (r *redrawing) draw(source string) (map[string][]float64, error) {
	now := map[string][]float64{}
	see := func(_ int, x []*sim.Sample) error {
		r.see(now, x)
		return nil
	}
	done := 0
	for _, to := range []int{min(r.n, firstPeriods), r.n} {
		if err := replicate.EachAnew(r.ctx, &r.base.study, r.base.run, source, done, to, r.base.opt, see); err != nil {
			return nil, err
		}
		done = to
		if !slices.ContainsFunc(r.metrics, func(m string) bool {
			share, _ := r.share(m, now[m])
			return !(share < nothing)
		}) {
			break
		}
	}
	return now, nil
}

// share is the total effect of a source on a metric, from its figures so far, and the
// half width.
func (r *redrawing) share(metric string, now []float64) (share, half float64) {
	return anewShare(r.was[metric][:len(now)], now, r.base.run.Confidence)
}

// find keeps a source for the metrics that it adds anything to.
func (r *redrawing) find(source string, now map[string][]float64) {
	key, of := r.named(source)
	for _, m := range r.metrics {
		if share, half := r.share(m, now[m]); share > 0 {
			r.found[m] = append(r.found[m], Source{key, of, share, half})
		}
	}
}

// tell says how each metric varies, and which has no figure in some period.
func (r *redrawing) tell() {
	for _, m := range r.metrics {
		var spread estimate.Moments
		for _, y := range r.was[m] {
			spread.Add(y)
		}
		if math.IsNaN(spread.SD()) {
			r.out.Lacking = append(r.out.Lacking, Lack{m, NothingToCount})
			continue
		}
		slices.SortStableFunc(r.found[m], bySize)
		r.out.Varies[m] = Varies{SD: spread.SD(), Periods: r.n, Sources: r.found[m]}
	}
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
