package savings

import (
	"math"
	"slices"

	"rollchange/model/finance"
	"rollchange/sim/estimate"
)

// Spread is how a figure lies over the draws. What never comes (a payback) is
// +Inf and counts as large.
type Spread struct {
	Mean, Median float64
	Low, High    float64 // quantiles that the confidence of the run lies between
	Known        float64 // share of the draws in which it exists
}

// Chance is the chance to have paid back by the end of a year.
type Chance struct {
	Year               int
	Simple, Discounted float64 // shares of the draws
}

// Random is what the draws came to. Each draw takes every economic input from
// its distribution and the six simulated means from a Student t about their
// estimates, with their covariance between replications, and calculates the year
// and the cash flow anew.
type Random struct {
	Draws            int
	Save             [Causes]Spread
	Total            Spread
	Investment       Spread
	StartUp          Spread // currency, before tax
	Lost             Spread // currency, before tax: what is not made while it is installed
	NPV, PerYear     Spread
	NPVAt            []Quantile
	IRR, SIR, MIRR   Spread
	Simple           Spread
	Discounted       Spread
	Flow, Cumulative []Spread         // by year, from 0; beyond a draw's life its flow is 0; Known is the share of the draws that live so long
	PaysBack         Chance           // within the life of the draw; Year is the life at the means; NaN: nothing is ever invested
	ByYear           []Chance         // from year 1
	Gains            float64          // share of the draws with a net present value above 0
	Kinds            map[Kind]float64 // share of the draws in which what limits what is sold
	Tally
}

// Quantile is a value that a share P of the draws does not exceed.
type Quantile struct{ P, Value float64 }

// kindOf is the case that a draw falls into.
func kindOf(v *vector) Kind {
	d, a, b := v[demand], v[good0]*v[hours0], v[good1]*v[hours1]
	switch {
	case d >= max(a, b):
		return CapacityLimited
	case d <= min(a, b):
		return DemandLimited
	}
	return Between
}

// measures are the columns of what is valued for each draw.
type measures struct {
	save                       [Causes][]float64
	total, invested, npv, each []float64
	startUp, lost              []float64
	irr, sir, mirr             []float64
	simple, discounted         []float64
	flow, cumulative           [][]float64 // by year, then by draw
	lives                      []int       // by year, draws whose life reaches it
	spent, gains               int         // draws in which something is invested, and whose net present value is above 0
	kinds                      map[Kind]int
	simpleBy, discountedBy     []int
}

// longest is the longest life of all draws, and that at the means.
func (c *Case) longest() int {
	most := c.mean[life]
	for _, x := range c.drawn.col[life] {
		most = max(most, x)
	}
	return wholeYears(most)
}

// draw values every draw, and tells how they lie.
func (c *Case) draw() {
	m, t := c.value()
	c.drawn.npv = slices.Clone(m.npv)
	n := float64(c.drawn.n)
	r := &Random{Draws: c.drawn.n, Tally: t.result(), Gains: float64(m.gains) / n, Kinds: map[Kind]float64{}}
	r.Invests = float64(m.spent) / n
	for k, seen := range m.kinds {
		r.Kinds[k] = float64(seen) / n
	}
	r.figures(c, m)
	r.years(c, m)
	c.Random = r
}

// value values every draw.
func (c *Case) value() (*measures, *tallied) {
	longest := c.longest()
	m := &measures{simpleBy: make([]int, mostYears+1), discountedBy: make([]int, mostYears+1), lives: make([]int, longest+1),
		flow: make([][]float64, longest+1), cumulative: make([][]float64, longest+1), kinds: map[Kind]int{}}
	t := &tallied{}
	var w Worth
	flows, saved, room := make([]float64, mostYears+1), make([]float64, mostYears+1), &room{}
	for i := range c.drawn.n {
		v := c.drawn.row(&c.mean, i)
		a := c.account(&v)
		p := c.planOf(&v, &a, 1, room)
		p.Lay(func(y finance.Year) {
			flows[y.Year], saved[y.Year] = y.Net, y.Operating
			t.lay(y)
		})
		w.Life, w.Rate = p.Life, v[rate]
		net := flows[:p.Life+1]
		w.value(net, saved[:p.Life+1], p.Spends(), !c.short || finance.Turns(net) > 1) // the tally counts those with several
		m.add(&w, &p, flows)
		m.account(&v, &a)
		t.late(p.Life, c.course.last())
		t.add(&v, &a, [2]float64{c.side[0].GoodWidth(), c.side[1].GoodWidth()}, &w)
	}
	return m, t
}

// figures tells how what is saved, and what that is worth, lie over the draws.
func (r *Random) figures(c *Case, m *measures) {
	sum := 0.0
	for k := range m.save {
		r.Save[k] = c.spread(m.save[k])
		sum += r.Save[k].Mean
	}
	r.Total, r.Investment, r.NPV, r.PerYear = c.spread(m.total), c.spread(m.invested), c.spread(m.npv), c.spread(m.each)
	r.Total.Mean = sum // to the last bit, so that the parts add up
	r.StartUp, r.Lost = c.spread(m.startUp), c.spread(m.lost)
	r.IRR, r.SIR, r.MIRR = c.spread(m.irr), c.spread(m.sir), c.spread(m.mirr)
	r.Simple, r.Discounted = c.spread(m.simple), c.spread(m.discounted)
	slices.Sort(m.npv)
	for _, p := range []float64{0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99} {
		r.NPVAt = append(r.NPVAt, Quantile{p, estimate.Quantile(m.npv, p)})
	}
}

// years tells how the flow of each year lies over the draws, and how many have paid back
// by its end.
func (r *Random) years(c *Case, m *measures) {
	simple, discounted, invested := 0, 0, float64(m.spent)
	for t := range m.flow {
		f, s := c.spread(m.flow[t]), c.spread(m.cumulative[t])
		f.Known = float64(m.lives[t]) / float64(c.drawn.n)
		s.Known = f.Known
		r.Flow, r.Cumulative = append(r.Flow, f), append(r.Cumulative, s)
		simple, discounted = simple+m.simpleBy[t], discounted+m.discountedBy[t]
		if t > 0 {
			r.ByYear = append(r.ByYear, Chance{t, float64(simple) / invested, float64(discounted) / invested})
		}
	}
	r.PaysBack = Chance{c.Worth.Life, float64(simple) / invested, float64(discounted) / invested}
}

// add takes one draw.
func (m *measures) add(w *Worth, p *finance.Plan, flows []float64) {
	m.total, m.invested = append(m.total, p.Savings), append(m.invested, p.Invested())
	m.npv, m.each = append(m.npv, w.NPV), append(m.each, w.PerYear)
	m.irr, m.sir, m.mirr = append(m.irr, w.IRR()), append(m.sir, w.SIR), append(m.mirr, w.MIRR)
	m.simple, m.discounted = append(m.simple, w.Simple), append(m.discounted, w.Discounted)
	for _, x := range []struct {
		by    []int
		years float64
	}{{m.simpleBy, w.Simple}, {m.discountedBy, w.Discounted}} {
		if !math.IsInf(x.years, 1) && !math.IsNaN(x.years) {
			x.by[int(math.Ceil(x.years))]++
		}
	}
	if p.Spends() {
		m.spent++
	}
	if w.NPV > 0 {
		m.gains++
	}
	sum := 0.0
	for t := range m.flow {
		f := 0.0
		if t <= p.Life {
			f = flows[t]
			m.lives[t]++
		}
		sum += f
		m.flow[t], m.cumulative[t] = append(m.flow[t], f), append(m.cumulative[t], sum)
	}
}

// account takes what a draw saves, by cause, what of it is spent or lost once, and its case.
func (m *measures) account(v *vector, a *account) {
	for k := range a.save {
		m.save[k] = append(m.save[k], a.save[k])
	}
	m.kinds[kindOf(v)]++
	m.startUp, m.lost = append(m.startUp, v[startUp1]-v[startUp0]), append(m.lost, a.lost.money)
}

// spread tells how x lies, NaN left out. It changes the order of x.
func (c *Case) spread(x []float64) Spread {
	kept := x[:0]
	sum := 0.0
	for _, v := range x {
		if !math.IsNaN(v) {
			kept = append(kept, v)
			sum += v
		}
	}
	if len(kept) == 0 {
		nan := math.NaN()
		return Spread{Mean: nan, Median: nan, Low: nan, High: nan}
	}
	tail := (1 - c.Run.Confidence) / 2
	var at []int
	for _, p := range [...]float64{tail, 0.5, 1 - tail} {
		i := int(p * float64(len(kept)-1))
		at = append(at, i, min(i+1, len(kept)-1))
	}
	slices.Sort(at) // a low confidence has them close to each other
	place(kept, at)
	return Spread{Mean: sum / float64(len(kept)), Median: estimate.Quantile(kept, 0.5), Low: estimate.Quantile(kept, tail), High: estimate.Quantile(kept, 1-tail),
		Known: float64(len(kept)) / float64(len(x))}
}
