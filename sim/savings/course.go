package savings

import (
	"slices"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/model/portable"
)

// course is what of a case differs by year, for the first and the alternative.
type course struct {
	spend, startUp [2][]float64 // the share of the investment, of starting up, in year 0, 1, …; nil: all in year 0
	learning       [2][]float64 // the share of the saving in year 1, 2, …; then all
	plain          bool         // nothing differs: a year is like another, and all is invested in year 0
}

// courseOf is that of alternative b against a. What the line is today has been learned.
func courseOf(a, b *model.Alternative, in *[inputs]Input, from int) course {
	c := course{spend: [2][]float64{a.InvestmentByYear, b.InvestmentByYear}, startUp: [2][]float64{a.StartUpByYear, b.StartUpByYear}, learning: [2][]float64{nil, b.Learning}}
	if from > 0 {
		c.learning[0] = a.Learning
	}
	c.plain = true
	for i := range c.spend {
		c.plain = c.plain && c.spend[i] == nil && c.startUp[i] == nil && c.learning[i] == nil
	}
	for _, k := range []index{changes, outputChange, materialChange, wageChange, startUp0, startUp1, installation0, installation1} {
		c.plain = c.plain && !in[k].Given
	}
	return c
}

// inYear is the share of what is spent in a year.
func inYear(shares []float64, t int) float64 {
	switch {
	case shares == nil && t == 0:
		return 1
	case t < len(shares):
		return shares[t]
	}
	return 0
}

// learned is the share of the saving that is reached in year t, from 1.
func learned(shares []float64, t int) float64 {
	if t-1 < len(shares) {
		return shares[t-1]
	}
	return 1
}

// last is the last year in which something is spent.
func (c *course) last() int {
	n := 0
	for _, list := range slices.Concat(c.spend[:], c.startUp[:]) {
		for t, x := range list {
			if x != 0 {
				n = max(n, t)
			}
		}
	}
	return n
}

// group is a group of causes whose prices change alike.
type group int

const (
	outputs group = iota
	materials
	wages
	others
	groups // how many there are
)

var groupOf = [Causes]group{Contribution: outputs, Material: materials, Disposal: others, WasteIncome: materials, CrewHours: wages, LineHours: others, Tape: materials, Maintenance: others}

// growth is by what share a year the prices of each group change.
func (c *Case) growth(v *vector) [groups]float64 {
	g := [groups]float64{v[changes], v[changes], v[changes], v[changes]}
	for to, k := range [...]index{outputs: outputChange, materials: materialChange, wages: wageChange} {
		if c.in[k].Given {
			g[to] = v[k]
		}
	}
	return g
}

// grouped is the sum of causes by group, maintenance apart, which is paid whatever is saved.
func grouped(save *[Causes]float64) (sum [groups]float64) {
	for k, x := range save {
		if Cause(k) != Maintenance {
			sum[groupOf[k]] += x
		}
	}
	return sum
}

// room is where a plan by year is laid out, so that the next draw needs no new one.
type room struct {
	parts          [mostYears + 1]finance.Part
	saved, expense [mostYears + 1]float64
}

// planOf is the plan with the inputs v, whose account is a, when a share of the saving is
// reached. Where years differ the savings of year t are
//
//	sum over groups of share x learned(t) x saved x (1 + change)^t
//
// since prices are those of year 0. Amounts that are invested, spent or received
// once do not change.
func (c *Case) planOf(v *vector, a *account, share float64, r *room) finance.Plan {
	p := c.frame(v)
	p.Savings = a.reached(share)
	if c.course.plain {
		return p
	}
	c.spendings(v, &p, r)
	r.expense[0] += a.lost.money
	g, by, before := c.growth(v), grouped(&a.save), grouped(&a.before)
	factor := [groups]float64{1, 1, 1, 1}
	for t := 1; t <= p.Life; t++ {
		now, then := learned(c.course.learning[1], t), learned(c.course.learning[0], t)
		sum := 0.0
		for k := range factor {
			factor[k] *= 1 + g[k]
			sum += factor[k] * share * now * by[k]
			if c.ahead != nil {
				sum += factor[k] * share * (now - then) * before[k]
			}
		}
		r.saved[t] = sum + factor[others]*a.save[Maintenance]
	}
	p.Saved = r.saved[:p.Life+1]
	return p
}

// frame is the plan without what is saved and without what differs by year.
func (c *Case) frame(v *vector) finance.Plan {
	p := finance.Plan{Investment: v[investment1] - v[investment0], Salvage: v[salvage1] - v[salvage0], Life: wholeYears(v[life]), TaxRate: v[tax]}
	if v[depreciation] > 0 {
		p.Depreciation = wholeYears(v[depreciation])
	}
	return p
}

// spendings lays out what is invested and what starting up costs, by year. What a side is
// sold for goes with what of it is invested within the life.
func (c *Case) spendings(v *vector, p *finance.Plan, r *room) {
	n := min(p.Life, c.course.last()) + 1
	p.Parts, p.Expense = r.parts[:n], r.expense[:n]
	clear(p.Parts)
	clear(p.Expense)
	for i, sign := range []float64{-1, 1} {
		k := index(i) * (investment1 - investment0)
		spend, within := c.course.spend[i], 0.0
		for t := range n {
			within += inYear(spend, t)
		}
		for t := range n {
			x := inYear(spend, t)
			p.Parts[t].Amount += sign * v[investment0+k] * x
			if within > 0 {
				p.Parts[t].Salvage += sign * v[salvage0+k] * x / within
			}
			p.Expense[t] += sign * v[startUp0+k] * inYear(c.course.startUp[i], t)
		}
	}
}

// Learning is the share of the saving that is reached in year 1, 2, …; then all is. Nil:
// all from year 1.
func (c *Case) Learning() []float64 { return c.course.learning[1] }

// Spending is the share of the investment and of the start-up cost that is spent in year
// t, of the first (0) or the alternative (1).
func (c *Case) Spending(side, t int) (investment, startUp float64) {
	return inYear(c.course.spend[side], t), inYear(c.course.startUp[side], t)
}

// ByYear says whether years differ: something is spent after year 0, learned, or priced
// anew.
func (c *Case) ByYear() bool { return !c.course.plain }

// Standing is the planned time that the line stands while the alternative is installed,
// in the mean, s; 0: it does not.
func (c *Case) Standing() float64 { return c.mean[installation1] }

// Leaves is the share of the freed operator hours that is no longer paid, in the mean, and
// whether it was given.
func (c *Case) Leaves() (share float64, given bool) { return c.mean[leaves1], c.in[leaves1].Given }

// Once is what is spent or lost once, before tax, at the means of all inputs: that of the
// alternative less that of the first, currency.
type Once struct{ StartUp, Lost float64 }

// AtMeans is what is spent or lost once.
func (c *Case) AtMeans() Once {
	o := Once{StartUp: c.mean[startUp1] - c.mean[startUp0]}
	if c.stands {
		o.Lost = c.lostWhile(&c.mean).money
	}
	return o
}

// Changes are the changes of prices that are given, by key.
func (c *Case) Changes() []Input {
	var list []Input
	for k := changes; k <= wageChange; k++ {
		if c.in[k].Given {
			list = append(list, c.in[k])
		}
	}
	return list
}

// TaxRate is the tax on profit, in the mean.
func (c *Case) TaxRate() float64 { return c.mean[tax] }

// Upkeep is the maintenance that year t saves, at the means of all inputs: it is no part of
// what is learned.
func (c *Case) Upkeep(t int) float64 {
	if t == 0 {
		return 0
	}
	g := c.growth(&c.mean)
	return c.Save[Maintenance].Value * portable.Pow(1+g[others], float64(t))
}

// WrittenOff is by how much a year what is invested in year t is written off, at the means
// of all inputs; the last year of the life is written off at once.
func (c *Case) WrittenOff(t int) float64 {
	p := c.frame(&c.mean)
	c.spendings(&c.mean, &p, &room{})
	return p.Charge(t)
}

// Growth is by what share a year the prices of output, of web and tape, of an operator hour
// and all others change, in the mean.
func (c *Case) Growth() [4]float64 { return c.growth(&c.mean) }
