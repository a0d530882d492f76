package whatif

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"rollchange/scenarios"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The same chance is on both sides of each difference, so that few replications tell
// most of them: an end is simulated in so many, then in two thirds more, up to those
// of the base, until its difference is sure in the metrics that it is followed for.
const first = 3

// One replication, which cannot tell a difference from noise, tells which inputs are
// worth more: so many of each metric, those that move it most. A table shows no more.
const followed = 12

// A difference is sure when it is known to a share of itself, or of how well the figure
// itself is known, or of what the figure moves by if it goes with the input, or when it
// cannot be larger than that of the input of a rank: so many are told of.
const (
	ownShare  = 0.25
	baseShare = 2
	leastWay  = 0.03
	rank      = 12
)

// tried is an input with what its ends came to so far; nil where that is no possible
// line.
type tried struct {
	movedInput
	moved [2]*variant
	ends  [2]*end
	of    []string // the metrics that it is followed for; none: one replication is all
}

// end is what all metrics come to at one end of an input.
type end struct {
	metrics     replicate.Metrics
	less        replicate.Metrics // paired differences from the base
	money, half [3]float64
}

// swings moves the inputs to both their ends.
func (e *evaluation) swings(inputs []movedInput) error {
	of := e.tried
	if e.q.Most > 0 {
		of = e.largest
	}
	list, err := of(inputs)
	if err != nil {
		return err
	}
	all := e.base.run.Replications
	if all > first && e.q.Most == 0 {
		if err := e.glance(list); err != nil {
			return err
		}
	}
	most := map[string]float64{}
	unsure := func(t *tried, k int) bool { return len(t.of) > 0 && (t.moved[k].done < first || !e.sure(t, k, most)) }
	for n := first; ; n += 2 * n / 3 {
		e.meter.begin(swingStage, e.unsimulated(list, unsure))
		if err := e.simulate(list, min(n, all), unsure); err != nil {
			return err
		}
		if n >= all {
			break
		}
		for _, metric := range e.q.Metrics {
			var ways []float64
			for _, t := range list {
				ways = append(ways, -e.swing(t, metric).way())
			}
			slices.Sort(ways)
			if len(ways) > rank {
				most[metric] = -ways[rank-1]
			}
		}
	}
	for _, t := range list {
		for _, metric := range e.q.Metrics {
			if w := e.swing(t, metric); w.Key != "" {
				e.add(metric, w)
			}
		}
	}
	return nil
}

// glance simulates one replication of every end, and finds which inputs move a metric so
// much that they are followed for it.
func (e *evaluation) glance(list []*tried) error {
	always := func(*tried, int) bool { return true }
	e.meter.begin(screenStage, e.meter.left[screenStage])
	if err := e.simulate(list, 1, always); err != nil {
		return err
	}
	for _, t := range list {
		t.of = nil
	}
	for _, metric := range e.q.Metrics {
		way := map[*tried]float64{}
		for _, t := range list {
			way[t] = e.swing(t, metric).way()
		}
		largest := slices.Clone(list)
		slices.SortStableFunc(largest, func(x, y *tried) int { return cmp.Compare(way[y], way[x]) })
		for _, t := range largest[:min(followed, len(largest))] {
			if way[t] > 0 {
				t.of = append(t.of, metric)
			}
		}
	}
	return nil
}

// tried are the inputs whose ends are possible lines, not simulated yet.
func (e *evaluation) tried(inputs []movedInput) ([]*tried, error) {
	var list []*tried
	for _, in := range inputs {
		t := &tried{movedInput: in, of: e.q.Metrics}
		for k, m := range in.ends {
			x, err := e.base.move(e.s, m.changes...)
			var impossible *scenarios.Errors
			if errors.As(err, &impossible) {
				continue
			}
			if err != nil {
				return nil, err
			}
			t.moved[k] = x
		}
		if t.moved[0] == nil && t.moved[1] == nil {
			e.out.Skipped = append(e.out.Skipped, Unmoved{in.key, NeitherEnd})
			continue
		}
		list = append(list, t)
	}
	return list, nil
}

// simulate simulates the ends that are to go on in so many replications.
func (e *evaluation) simulate(list []*tried, n int, on func(t *tried, k int) bool) error {
	for _, t := range list {
		for k, m := range t.moved {
			if m == nil || m.done >= n || !on(t, k) {
				continue
			}
			if m.done == 0 {
				e.counted()
			}
			if err := m.upTo(e.ctx, n); err != nil {
				return err
			}
			x := m.changed()
			t.ends[k] = &end{metrics: x.metrics, less: x.less}
			if e.stakes != nil {
				var err error
				if t.ends[k].money, t.ends[k].half, err = e.stakes.of(x); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// sure says whether the differences of an end are known well enough in every metric that
// its input is followed for, where most is how far the input of the rank moves them.
func (e *evaluation) sure(t *tried, k int, most map[string]float64) bool {
	for _, metric := range t.of {
		value, half := e.of(t.ends[k], metric)
		if math.IsNaN(value) {
			continue
		}
		base, own := e.baseOf(metric)
		d := math.Abs(value - base)
		least := max(ownShare*d, baseShare*own, leastWay*e.q.Share*math.Abs(base))
		if math.IsInf(half, 1) && d <= most[metric] || half <= least || d+half <= most[metric] {
			continue
		}
		return false
	}
	return true
}

// baseOf is a metric of the base with its half width; NaN where there is none.
func (e *evaluation) baseOf(metric string) (value, half float64) {
	if IsMoney(metric) {
		return e.stakes.figures.Value[place(metric)], e.stakes.half[place(metric)]
	}
	now, ok := e.base.metrics[metric]
	if !ok {
		return math.NaN(), math.NaN()
	}
	return now.Mean, now.HalfWidth
}

// of is one metric at an end, which is the base and the paired difference from it, and
// the half width of the difference.
func (e *evaluation) of(x *end, metric string) (value, half float64) {
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
	d, ok := x.less[metric]
	if !ok {
		return m.Mean, math.Inf(1)
	}
	return e.base.metrics[metric].Mean + d.Mean, reach(d)
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

// swing is what an input does to a metric; without a key where the base has no such
// metric.
func (e *evaluation) swing(t *tried, metric string) Swing {
	w := Swing{Of: called(e.s, len(e.s.Study.Alternatives)-1, t.key), Dim: t.dim, At: [3]Setting{t.movedInput.ends[0].shown(metric), {Text: t.base}, t.movedInput.ends[1].shown(metric)}, Total: math.NaN()}
	if w.Base, w.BaseHalf = e.baseOf(metric); !IsMoney(metric) && math.IsNaN(w.Base) {
		return w
	}
	w.Key, w.Glanced = t.key, len(t.of) == 0
	w.Low, w.LowHalf = e.of(t.ends[0], metric)
	w.Up, w.UpHalf = e.of(t.ends[1], metric)
	return w
}

// way is how far an input moves the metric, the larger way, whether that is shown
// or not.
func (s Swing) way() float64 { return s.farthest(func(int) bool { return true }) }
