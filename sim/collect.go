package sim

import "math"

// groups is the most groups of replications that the jackknife keeps, so that
// memory does not grow with their number; up to here each is its own group.
const groups = 1000

// collector gathers the samples of one alternative, in order of replication.
type collector struct {
	name    string
	metrics []MetricName
	moments []Moments  // of the metrics that are means
	ratios  [][]figure // totals by group, of the metrics that are ratios
	low     [2]*Histogram
	balance Balance
	events  int64
	n       int
}

func newCollector(o *Outline) *collector {
	c := &collector{name: o.Name, metrics: o.Metrics}
	c.moments = make([]Moments, len(c.metrics))
	c.ratios = make([][]figure, len(c.metrics))
	for i, capacity := range o.Capacity {
		if capacity > 0 {
			c.low[i] = newHistogram(capacity)
		}
	}
	return c
}

func (c *collector) add(x *Sample) {
	for i := range c.metrics {
		f := x.figures[i]
		if !c.metrics[i].Ratio {
			c.moments[i].Add(f.num)
			continue
		}
		if g := c.n % groups; g == len(c.ratios[i]) {
			c.ratios[i] = append(c.ratios[i], f)
		} else {
			c.ratios[i][g].num += f.num
			c.ratios[i][g].den += f.den
		}
	}
	for i, h := range c.low {
		if h != nil {
			h.merge(x.low[i], i == 1)
		}
	}
	c.balance.Metres = max(c.balance.Metres, x.balance.Metres)
	c.balance.Seconds = max(c.balance.Seconds, x.balance.Seconds)
	c.events += x.events
	c.n++
}

// result turns what was gathered into estimates.
func (c *collector) result(confidence float64) Result {
	r := Result{Alternative: c.name, Metrics: Metrics{}, Balance: c.balance, Lowest: c.low[0], Highest: c.low[1], Events: c.events}
	for i, m := range c.metrics {
		e := Estimate{Unit: m.Unit, N: c.n}
		if m.Ratio {
			e.fromPseudo(pseudo(c.ratios[i]), confidence)
			if math.IsNaN(e.Mean) || math.IsInf(e.Mean, 0) {
				continue // nothing happened that it could be counted per
			}
		} else {
			e.Mean, e.SD, e.HalfWidth = c.moments[i].Mean(), c.moments[i].SD(), c.moments[i].HalfWidth(confidence)
		}
		r.Metrics[m.Name] = e
		r.Names = append(r.Names, m.Name)
	}
	return r
}

// leaveOut is a ratio of totals with and without each of its groups.
type leaveOut struct {
	all  float64
	less []float64
}

func pseudo(f []figure) leaveOut {
	var num, den float64
	for _, x := range f {
		num += x.num
		den += x.den
	}
	p := leaveOut{all: num / den}
	for _, x := range f {
		p.less = append(p.less, (num-x.num)/(den-x.den))
	}
	return p
}

// minus is the difference of two ratios, group by group.
func (p leaveOut) minus(q leaveOut) leaveOut {
	d := leaveOut{all: p.all - q.all}
	for i := range p.less {
		d.less = append(d.less, p.less[i]-q.less[i])
	}
	return d
}

// fromPseudo sets the estimate of a ratio by the jackknife: the variance of the
// ratio is (n-1)/n times the sum of squares of the leave-one-out ratios about
// their mean (Efron and Tibshirani, An Introduction to the Bootstrap, 1993, ch. 11).
func (e *Estimate) fromPseudo(p leaveOut, confidence float64) {
	n := float64(len(p.less))
	e.Mean, e.SD, e.HalfWidth = p.all, nan, nan
	if n < 2 {
		return
	}
	mean, sum := 0.0, 0.0
	for _, x := range p.less {
		mean += x / n
	}
	for _, x := range p.less {
		sum += (x - mean) * (x - mean)
	}
	se := math.Sqrt(sum * (n - 1) / n)
	e.SD = se * math.Sqrt(float64(e.N))
	e.HalfWidth = se * StudentT(0.5+confidence/2, n-1)
}

// pair gathers the differences of an alternative from the first.
type pair struct {
	names   []string
	a, b    []int // indices of the metric in the first and in the other
	moments []Moments
}

func newPair(first, other *collector) *pair {
	at := map[string]int{}
	for i, m := range first.metrics {
		at[m.Name] = i
	}
	p := &pair{}
	for i, m := range other.metrics {
		if j, ok := at[m.Name]; ok {
			p.names, p.a, p.b = append(p.names, m.Name), append(p.a, j), append(p.b, i)
		}
	}
	p.moments = make([]Moments, len(p.names))
	return p
}

func (p *pair) add(first, other *Sample) {
	for k := range p.names {
		p.moments[k].Add(other.figures[p.b[k]].num - first.figures[p.a[k]].num)
	}
}

func (p *pair) result(first, other *collector, confidence float64) Metrics {
	d := Metrics{}
	for k, name := range p.names {
		m := other.metrics[p.b[k]]
		e := Estimate{Unit: m.Unit, N: other.n}
		if m.Ratio {
			e.fromPseudo(pseudo(other.ratios[p.b[k]]).minus(pseudo(first.ratios[p.a[k]])), confidence)
			if math.IsNaN(e.Mean) || math.IsInf(e.Mean, 0) {
				continue
			}
		} else {
			e.Mean, e.SD, e.HalfWidth = p.moments[k].Mean(), p.moments[k].SD(), p.moments[k].HalfWidth(confidence)
		}
		d[name] = e
	}
	return d
}
