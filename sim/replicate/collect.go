package replicate

import (
	"math"

	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// Groups is the most groups of replications that the jackknife keeps, so that
// memory does not grow with their number; up to here each is its own group.
const Groups = 1000

// collector gathers the samples of one alternative, in order of replication.
type collector struct {
	name    string
	metrics []MetricName
	moments []estimate.Moments  // of the metrics that are means or counts
	sums    [][]float64         // of those by group
	ratios  [][]estimate.Figure // totals by group, of the others
	sizes   []int               // replications in each group
	known   [][2]float64        // controls by group; nil when a sample had none

	plain   bool                  // the controls are not used
	without []string              // families of metrics for which they are not
	slopes  map[string][2]float64 // of metrics on the controls, from other replications; nil: none
	low     [2]*sim.Histogram
	balance sim.Balance
	events  int64
	n       int
}

func newCollector(o *Outline) *collector {
	c := &collector{name: o.Name, metrics: o.Metrics}
	c.moments = make([]estimate.Moments, len(c.metrics))
	c.sums = make([][]float64, len(c.metrics))
	c.ratios = make([][]estimate.Figure, len(c.metrics))
	for i, capacity := range o.Capacity {
		if capacity > 0 {
			c.low[i] = sim.NewHistogram(capacity)
		}
	}
	return c
}

// byReplication says that a metric is a mean over replications, of its figures as
// they are or as counts.
func (m *MetricName) byReplication() bool { return m.Kind == metric.Mean || m.Kind == metric.Count }

func (c *collector) add(x *sim.Sample) {
	g := c.n % Groups
	if g == len(c.sizes) {
		c.sizes = append(c.sizes, 0)
	}
	c.sizes[g]++
	c.addControls(g, x.Controls)
	for i := range c.metrics {
		f := x.Figures[i]
		if c.metrics[i].byReplication() {
			c.moments[i].Add(f.Num)
			if g == len(c.sums[i]) {
				c.sums[i] = append(c.sums[i], 0)
			}
			c.sums[i][g] += f.Num
			if len(c.ratios[i]) == 0 {
				c.ratios[i] = append(c.ratios[i], estimate.Figure{Den: f.Den})
			}
			continue
		}
		if g == len(c.ratios[i]) {
			c.ratios[i] = append(c.ratios[i], f)
		} else {
			c.ratios[i][g].Add(f)
		}
	}
	for i, h := range c.low {
		if h != nil {
			h.Merge(x.Low[i], i == 1)
		}
	}
	c.balance.Metres = max(c.balance.Metres, x.Balance.Metres)
	c.balance.Seconds = max(c.balance.Seconds, x.Balance.Seconds)
	c.events += x.Events
	c.n++
}

// result turns what was gathered into estimates.
func (c *collector) result(confidence float64) Result {
	r := Result{Alternative: c.name, Metrics: Metrics{}, Balance: c.balance, Lowest: c.low[0], Highest: c.low[1], Events: c.events, Narrowed: math.NaN()}
	controls := c.controls()
	var last estimate.Estimate
	for i, m := range c.metrics {
		e := c.estimate(i, confidence, last)
		if p := c.pseudo(i, controls, confidence); p != nil {
			plain := e
			e = estimate.Controlled(*p, plain, confidence)
			if m.Name == metric.GoodRate {
				r.Narrowed = (e.High - e.Low) / (plain.High - plain.Low)
			}
		}
		e.Unit = m.Unit
		if e.Why == estimate.Skewed && e.Mean >= 0 { // no metric is below 0
			e.Low = max(0, e.Low)
		}
		last = e
		if math.IsNaN(e.Mean) || math.IsInf(e.Mean, 0) && math.IsNaN(e.Low) {
			continue // nothing happened that it could be counted per
		}
		r.Metrics[m.Name] = e
		r.Names = append(r.Names, m.Name)
	}
	return r
}

// estimate is the estimate of a metric; before is that of the metric before it.
func (c *collector) estimate(i int, confidence float64, before estimate.Estimate) estimate.Estimate {
	switch m := c.metrics[i]; m.Kind {
	case metric.Mean:
		return estimate.Mean(&c.moments[i], confidence)
	case metric.Count:
		return estimate.Count(&c.moments[i], confidence).Times(1 / c.ratios[i][0].Den)
	case metric.OfTrials:
		return estimate.Share(c.ratios[i], c.n, m.Unseen, confidence)
	case metric.Interval:
		return estimate.Between(c.ratios[i], before)
	}
	return estimate.Ratio(c.ratios[i], c.n, confidence)
}

// pair gathers the differences of an alternative from the first.
type pair struct {
	names   []string
	a, b    []int // indices of the metric in the first and in the other
	moments []estimate.Moments
}

func newPair(first, other *collector) *pair {
	at := map[string]int{}
	for i, m := range first.metrics {
		at[m.Name] = i
	}
	p := &pair{}
	for i, m := range other.metrics {
		if j, ok := at[m.Name]; ok && m.Kind != metric.Interval {
			p.names, p.a, p.b = append(p.names, m.Name), append(p.a, j), append(p.b, i)
		}
	}
	p.moments = make([]estimate.Moments, len(p.names))
	return p
}

// rounding is the share of a figure, or of 1 in SI units (of all hours, a metre a
// second), below which a difference is of the last digits of the clock: 0.3 ms a year.
const rounding = 1e-11

func (p *pair) add(first, other *sim.Sample) {
	for k := range p.names {
		a, b := first.Figures[p.a[k]].Num, other.Figures[p.b[k]].Num
		d := b - a
		if math.Abs(d) <= rounding*max(math.Abs(a), math.Abs(b), 1) {
			d = 0
		}
		p.moments[k].Add(d)
	}
}

func (p *pair) result(first, other *collector, confidence float64) Metrics {
	d := Metrics{}
	controls := [2]*estimate.Controls{first.controls(), other.controls()}
	for k, name := range p.names {
		m := other.metrics[p.b[k]]
		var e estimate.Estimate
		switch m.Kind {
		case metric.Mean:
			e = estimate.Difference(&p.moments[k], confidence)
		case metric.Count:
			e = estimate.Difference(&p.moments[k], confidence).Times(1 / other.ratios[p.b[k]][0].Den)
		default:
			e = estimate.RatioDifference(estimate.PseudoOf(other.ratios[p.b[k]]), estimate.PseudoOf(first.ratios[p.a[k]]), other.n, confidence)
			if m.Kind == metric.OfTrials && e.Why == estimate.TooFew {
				e = estimate.ShareDifference(other.estimate(p.b[k], confidence, e), first.estimate(p.a[k], confidence, e))
			}
		}
		// A difference that few events carry stays as it is: the slopes would hide them.
		// Of one replication slopes from others tell the mean.
		if m.byReplication() && (e.Why == estimate.Symmetric || e.Why == estimate.OneReplication) {
			a, b := first.pseudo(p.a[k], controls[0], confidence), other.pseudo(p.b[k], controls[1], confidence)
			if a != nil || b != nil {
				e = estimate.ControlledDifference(other.pseudoOrPlain(p.b[k], b), first.pseudoOrPlain(p.a[k], a), e, confidence)
			}
		}
		if math.IsNaN(e.Mean) || math.IsInf(e.Mean, 0) {
			continue
		}
		e.Unit = m.Unit
		d[name] = e
	}
	return d
}
