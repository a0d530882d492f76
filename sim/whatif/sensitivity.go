package whatif

import (
	"context"
	"fmt"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// Swing is one input that is not known exactly, and what moving it does to one
// metric of an alternative.
type Swing struct {
	Key                       string
	Of                        string // the stop or duty that the key belongs to: "plate cleaning"
	Dim                       model.Dimension
	At                        [3]Setting // the input low, at its base, high
	Low, Base, Up             float64    // the metric with the input low, at its base, high; NaN where that is no possible line
	LowHalf, BaseHalf, UpHalf float64    // half widths of the paired difference from the base (towards 0); BaseHalf of the metric itself; NaN: one replication, +Inf: few events carry it
	Total                     float64    // total effect index, NaN when not asked for
}

// Shown says whether a difference from the base is shown at an end: 0 low, 1 high.
func (s Swing) Shown(end int) bool {
	x, half := s.Low, s.LowHalf
	if end == 1 {
		x, half = s.Up, s.UpHalf
	}
	d := math.Abs(x - s.Base)
	return d > 0 && !(d <= half)
}

// Size is how far the input moves the metric, the larger way; what is not shown
// to move it counts as 0.
func (s Swing) Size() float64 { return s.farthest(s.Shown) }

// farthest is the larger of the ways that an end moves the metric, of those ends
// that count; 0 where neither is a possible line.
func (s Swing) farthest(counts func(end int) bool) float64 {
	way := 0.0
	for end, x := range []float64{s.Low, s.Up} {
		if d := math.Abs(x - s.Base); counts(end) && d > way {
			way = d
		}
	}
	return way
}

// SensitivityQuestion says over what inputs are moved.
type SensitivityQuestion struct {
	Metrics []string // that are looked at; those that the line lacks are left out
	Share   float64  // by which an input is moved, each way
	Most    int      // of each metric only so many inputs of the line, the largest in a trial of a few replications; 0: all
	Total   int      // base points for total effects, 0: none
	Inputs  int      // with Total: the inputs with the largest swing of the first metric
	Chance  bool     // also what chance adds to the spread from period to period
}

// Sensitivities is what each input does to each metric, largest first.
type Sensitivities struct {
	Alternative string
	Against     string // the alternative that money is calculated against; "" without a metric of money
	Currency    string
	Taxed       bool // net present value and payback are after tax
	Share       float64
	Metrics     []string
	Swings      map[string][]Swing
	Skipped     []Unmoved         // inputs that cannot be moved
	Lacking     []Lack            // metrics that there are none of
	Period      float64           // s, simulated time of a replication
	Varies      map[string]Varies // by metric, what chance does; those of a period alone
	Simulations int
}

// Sensitivity moves each input of the last alternative of a study on its own: a
// distribution as a whole by the share, so that its mean moves and its shape
// stays; a whole number by one; a share above one half by the share of what it
// falls short of 1; anything else by the share. The base is simulated beside
// each on the same chance. For metrics of money the study has two alternatives,
// and an input is moved in both; economic inputs are moved too.
func Sensitivity(ctx context.Context, s *scenarios.Scenario, q SensitivityQuestion, opt Options) (*Sensitivities, error) {
	last := len(s.Study.Alternatives) - 1
	money := slices.ContainsFunc(q.Metrics, IsMoney)
	if !money {
		s = Only(s, last)
		last = 0
	}
	out := &Sensitivities{Alternative: s.Study.Alternatives[last].Name, Share: q.Share, Swings: map[string][]Swing{}}
	base, err := newBase(ctx, s, opt)
	if err != nil {
		return nil, err
	}
	e := &evaluation{ctx: ctx, s: s, q: q, opt: opt, out: out, base: base}
	if money {
		if e.stakes, err = newStakes(base); err != nil {
			return nil, err
		}
		if i := place("payback"); slices.Contains(q.Metrics, "payback") && math.IsNaN(e.stakes.figures.Value[i]) {
			out.Lacking = append(out.Lacking, Lack{"payback", NoInvestment})
			q.Metrics = slices.DeleteFunc(slices.Clone(q.Metrics), func(m string) bool { return m == "payback" })
			e.q.Metrics = q.Metrics
		}
		out.Against, out.Currency, out.Taxed = s.Study.Alternatives[0].Name, e.stakes.c.Currency, e.stakes.c.Taxed()
	}
	var inputs []movedInput
	inputs, out.Skipped = movesOf(s, q.Share)
	if q.Most > 0 && base.run.Replications > trial {
		if inputs, err = e.largest(inputs); err != nil {
			return nil, err
		}
	}
	for _, in := range inputs {
		if err := e.swing(in); err != nil {
			return nil, err
		}
	}
	if money {
		e.stakes.swings(base.results, q.Share, q.Metrics, e.add)
	}
	out.sort(q.Metrics)
	if q.Chance {
		if err := e.chance(usualPeriods); err != nil {
			return nil, err
		}
	}
	if q.Total > 0 && len(out.Metrics) > 0 {
		return out, e.total(inputs)
	}
	return out, nil
}

// evaluation is what a question is answered with.
type evaluation struct {
	ctx    context.Context
	s      *scenarios.Scenario
	q      SensitivityQuestion
	opt    Options
	out    *Sensitivities
	base   *base
	stakes *stakes // nil when no money is asked for
}

func (e *evaluation) add(metric string, w Swing) {
	e.out.Swings[metric] = append(e.out.Swings[metric], w)
}

// counted counts a simulation.
func (e *evaluation) counted() {
	if e.out.Simulations++; e.opt.Progress != nil {
		e.opt.Progress(e.out.Simulations)
	}
}

// end is what all metrics come to at one end of an input.
type end struct {
	metrics, less replicate.Metrics
	money, half   [3]float64
}

// of is one metric at an end, and the half width of its difference from the base.
func (x *end) of(metric string) (value, half float64) {
	if x == nil {
		return math.NaN(), math.NaN()
	}
	if IsMoney(metric) {
		return x.money[place(metric)], x.half[place(metric)]
	}
	m, ok := x.metrics[metric]
	if !ok {
		return math.NaN(), math.NaN()
	}
	return m.Mean, reach(x.less[metric])
}

// reach is half the width of a difference towards 0, so that it is shown where it
// is larger than that: NaN with one replication, infinite where few events carry
// it.
func reach(d estimate.Estimate) float64 {
	switch {
	case d.Why == estimate.OneReplication:
		return math.NaN()
	case d.Why == estimate.Same || d.Why == estimate.NotSeen:
		return 0
	case !d.Known():
		return math.Inf(1)
	case d.Mean > 0:
		return d.Mean - d.Low
	}
	return d.High - d.Mean
}

// swing moves one input to both its ends.
func (e *evaluation) swing(in movedInput) error {
	var ends [2]*end
	for k, m := range in.ends {
		x, err := e.base.beside(e.ctx, e.s, m.changes...)
		if _, impossible := err.(*scenarios.Errors); impossible {
			continue
		}
		if err != nil {
			return err
		}
		e.counted()
		ends[k] = &end{metrics: x.metrics, less: x.less}
		if e.stakes != nil {
			if ends[k].money, ends[k].half, err = e.stakes.of(x); err != nil {
				return err
			}
		}
	}
	if ends[0] == nil && ends[1] == nil {
		e.out.Skipped = append(e.out.Skipped, Unmoved{in.key, NeitherEnd})
		return nil
	}
	for _, metric := range e.q.Metrics {
		w := Swing{Key: in.key, Of: called(e.s, len(e.s.Study.Alternatives)-1, in.key), Dim: in.dim, At: [3]Setting{in.ends[0].shown(metric), {Text: in.base}, in.ends[1].shown(metric)}, Total: math.NaN()}
		if IsMoney(metric) {
			w.Base, w.BaseHalf = e.stakes.figures.Value[place(metric)], e.stakes.half[place(metric)]
		} else if now, ok := e.base.metrics[metric]; ok {
			w.Base, w.BaseHalf = now.Mean, now.HalfWidth
		} else {
			continue
		}
		w.Low, w.LowHalf = ends[0].of(metric)
		w.Up, w.UpHalf = ends[1].of(metric)
		e.add(metric, w)
	}
	return nil
}

// sort puts the largest swing of each metric first.
func (out *Sensitivities) sort(metrics []string) {
	for _, metric := range metrics {
		list := out.Swings[metric]
		if len(list) == 0 {
			continue
		}
		out.Metrics = append(out.Metrics, metric)
		slices.SortStableFunc(list, func(x, y Swing) int {
			switch {
			case x.Size() > y.Size():
				return -1
			case x.Size() < y.Size():
				return 1
			}
			return 0
		})
	}
}

// total estimates total effects on the first metric over the inputs of the line
// with the largest swings, each uniform between the ends of its range.
func (e *evaluation) total(inputs []movedInput) error {
	metric := e.out.Metrics[0]
	byKey := map[string]movedInput{}
	for _, in := range inputs {
		byKey[in.key] = in
	}
	var keys []string
	for _, w := range e.out.Swings[metric] {
		_, line := byKey[w.Key]
		if line && len(keys) < min(e.q.Inputs, MostSobol/2) && !math.IsNaN(w.Low) && !math.IsNaN(w.Up) && w.Size() > 0 {
			keys = append(keys, w.Key)
		}
	}
	if len(keys) == 0 {
		return nil
	}
	indices, err := varianceShares(e.q.Total, len(keys), func(x []float64) (float64, error) {
		var over []scenarios.Override
		for i, key := range keys {
			over = append(over, byKey[key].between(x[i])...)
		}
		res, err := e.base.beside(e.ctx, e.s, over...)
		if err != nil {
			return 0, err
		}
		e.counted()
		if !IsMoney(metric) {
			return res.metrics[metric].Mean, nil
		}
		value, _, err := e.stakes.of(res)
		return value[place(metric)], err
	})
	if _, impossible := err.(*scenarios.Errors); impossible {
		return fmt.Errorf("total effects: some combination of the ranges is not a possible line: %s; take fewer inputs", reason(err.(*scenarios.Errors)))
	}
	if err != nil {
		return err
	}
	for i, key := range keys {
		for k := range e.out.Swings[metric] {
			if e.out.Swings[metric][k].Key == key {
				e.out.Swings[metric][k].Total = indices[i].Total
			}
		}
	}
	return nil
}
