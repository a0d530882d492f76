package whatif

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
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
	Glanced                   bool       // others move the metric more in the one replication that was simulated of it
}

// Shown says whether a difference from the base is shown at an end: 0 low, 1 high.
func (s Swing) Shown(end int) bool {
	if s.Glanced {
		return false
	}
	x, half := s.Low, s.LowHalf
	if end == 1 {
		x, half = s.Up, s.UpHalf
	}
	d := math.Abs(x - s.Base)
	rounding := 1e-12 * math.Abs(s.Base)
	if math.IsInf(s.Base, 0) { // of a payback that never comes
		rounding = 0
	}
	return d > rounding && !(d <= half)
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
	Most    int      // of each metric only so many inputs of the line, the largest in the first replication; 0: all
	Total   int      // points for total effects, 0: none
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
	Missed      float64 // with total effects: the share of the variance that the fitted surface misses; NaN: none was fitted
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
	out := &Sensitivities{Alternative: s.Study.Alternatives[last].Name, Share: q.Share, Swings: map[string][]Swing{}, Missed: math.NaN()}
	inputs, skipped := movesOf(s, q.Share)
	out.Skipped = skipped
	e := &evaluation{ctx: ctx, s: s, q: q, opt: opt, out: out, meter: &meter{tell: opt.Progress}}
	full := len(inputs)
	if q.Most > 0 {
		full = min(full, q.Most*len(q.Metrics))
	}
	e.expect(len(inputs), full, usualPeriods)
	base, err := newBase(ctx, s, e.meter.options(opt.Workers))
	if err != nil {
		return nil, err
	}
	e.base = base
	if money {
		if e.stakes, err = newStakes(base, q.Metrics); err != nil {
			return nil, err
		}
		if i := place("payback"); slices.Contains(q.Metrics, "payback") && math.IsNaN(e.stakes.figures.Value[i]) {
			out.Lacking = append(out.Lacking, Lack{"payback", NoInvestment})
			q.Metrics = slices.DeleteFunc(slices.Clone(q.Metrics), func(m string) bool { return m == "payback" })
			e.q.Metrics = q.Metrics
			if e.stakes, err = newStakes(base, q.Metrics); err != nil { // which takes fewer draws
				return nil, err
			}
		}
		out.Against, out.Currency, out.Taxed = s.Study.Alternatives[0].Name, e.stakes.c.Currency, e.stakes.c.Taxed()
	}
	if err := e.swings(inputs); err != nil {
		return nil, err
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
	ctx     context.Context
	s       *scenarios.Scenario
	q       SensitivityQuestion
	opt     Options
	out     *Sensitivities
	base    *base
	stakes  *stakes         // nil when no money is asked for
	most    int             // periods in which a source is drawn anew at most; 0: as many as there are
	periods [][]*sim.Sample // of the base, for what chance adds: its replications, and more where they do not do
	meter   *meter
}

func (e *evaluation) add(metric string, w Swing) {
	e.out.Swings[metric] = append(e.out.Swings[metric], w)
}

// counted counts a simulation.
func (e *evaluation) counted() { e.out.Simulations++ }

// sort puts the largest swing of each metric first, and what was only glanced at last.
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
			case x.Size() < y.Size() || x.Glanced && !y.Glanced:
				return 1
			case y.Glanced && !x.Glanced:
				return -1
			}
			return 0
		})
	}
}
