package whatif

import (
	"context"
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Precision asks for replications until a metric is known well enough.
type Precision struct {
	Metric string
	Half   float64 // half width as a share of the mean
	Most   int     // replications at most
}

// Reached is how far the replications went.
type Reached struct {
	Precision
	Worst        float64 // the widest half width, as a share of its mean; infinite when never seen
	Alternative  string  // that has it
	Replications int
	Enough       bool
}

// Needed is about how many replications make the metric as sure as was asked for: the
// half width falls as one over the root of their number.
func (r Reached) Needed() float64 {
	return float64(r.Replications) * (r.Worst / r.Half) * (r.Worst / r.Half)
}

// MostReplications is the most that a run goes on to, as run.replications has it.
const MostReplications = 100_000

// ParsePrecision reads "1%" (of good_rate) or "METRIC=10%".
func ParsePrecision(s string, most int) (Precision, error) {
	p := Precision{Metric: metric.GoodRate, Most: most}
	share := s
	if metric, rest, ok := strings.Cut(s, "="); ok {
		p.Metric, share = strings.TrimSpace(metric), rest
	}
	x, err := model.ParseQuantity(strings.TrimSpace(share), model.Share)
	switch {
	case err != nil:
		return p, fmt.Errorf("%q: write a share, as in 1%%, or METRIC=10%%", s)
	case !(x > 0) || x >= 1:
		return p, fmt.Errorf("%q: a half width must be above 0 %% and below 100 %% of the mean", s)
	case most < 2:
		return p, fmt.Errorf("at most %d replications: the least is 2", most)
	case most > MostReplications:
		return p, fmt.Errorf("at most %d replications: the most is %d", most, MostReplications)
	}
	p.Half = x
	return p, nil
}

// Simulate simulates a study for its replications, and then in batches for more
// until the half width of the metric is as asked in every alternative that has
// it, or the limit is reached. How many that takes depends on the results only.
func (p Precision) Simulate(ctx context.Context, study *model.Study, opt replicate.Options) (*replicate.Results, Reached, error) {
	got := Reached{Precision: p}
	most := *study // as many as there may be, so that the controls are ready for them
	most.Run.Replications = max(study.Run.Replications, p.Most)
	run, err := replicate.PrepareLike(ctx, &most, opt.Like)
	if err != nil {
		return nil, got, err
	}
	run.Replications = study.Run.Replications
	outlines := replicate.OutlinesOf(study)
	if err := CheckMetric(outlines, p.Metric); err != nil {
		return nil, got, err
	}
	g := replicate.NewGathering(run, outlines)
	n := min(max(2, run.Replications), p.Most)
	show := opt.Progress
	for {
		if done := g.Replications() * len(outlines); show != nil {
			opt.Progress = func(more, total int) { show(done+more, done+total) }
		}
		err := replicate.Each(ctx, study, run, g.Replications(), n, opt, func(_ int, x []*sim.Sample) error { return g.Add(x) })
		if err != nil {
			return nil, got, err
		}
		res := g.Results()
		got.Worst, got.Alternative, got.Replications = 0, "", n
		for _, r := range res.Alternatives {
			if e, ok := r.Metrics[p.Metric]; ok && shareOf(e) > got.Worst {
				got.Worst, got.Alternative = shareOf(e), r.Alternative
			}
		}
		if got.Enough = got.Worst <= p.Half; got.Enough || n >= p.Most {
			return res, got, nil
		}
		// The half width falls as one over the root of their number.
		n = min(p.Most, max(n+n/4+1, int(min(math.Ceil(1.05*got.Needed()), 4*float64(n)))))
	}
}

// shareOf is the half width of an estimate as a share of its mean. What was
// never seen is not known at all, however many replications agree on it.
func shareOf(e estimate.Estimate) float64 {
	if s := max(e.High-e.Mean, e.Mean-e.Low) / math.Abs(e.Mean); !math.IsNaN(s) {
		return s
	}
	return math.Inf(1)
}

// CheckMetric says when no alternative has a metric of the given name.
func CheckMetric(outlines []replicate.Outline, name string) error {
	var names []string
	for _, o := range outlines {
		for _, m := range o.Metrics {
			if m.Name == name {
				return nil
			}
			names = append(names, m.Name)
		}
	}
	return fmt.Errorf("no metric %q here%s", name, scenarios.DidYouMean(name, names))
}
