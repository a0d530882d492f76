package savings

import (
	"math"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim"
)

// table is all that is drawn: a column for each input that varies, nil for the others.
type table struct {
	n    int
	col  [inputs][]float64
	npv  []float64 // of each draw, once valued
	laid []laid    // of each draw, what its plan is worth
}

// terms are the inputs that a plan hangs on beside what is saved a year.
type terms [14]float64

func termsOf(v *vector) terms {
	return terms{v[investment0], v[investment1], v[salvage0], v[salvage1], v[life], v[tax], v[depreciation], v[rate],
		v[startUp0], v[startUp1], v[changes], v[outputChange], v[materialChange], v[wageChange]}
}

// laid is the net present value of a plan: the flows are linear in what is saved, so it is
// none + each times what is saved a year. Where years differ it is linear in each group of
// causes, in the maintenance and in what is lost in year 0.
type laid struct {
	terms
	ready      bool
	none, each float64

	by, before [groups]float64 // of what each group saves; of what the first of the two saves against today
	upkeep     float64         // of the maintenance
	lost       float64
}

// npvAt is the net present value of draw i with the inputs v, whose account is a. The plan
// is laid again only where its terms are others than the last time.
func (c *Case) npvAt(i int, v *vector, a *account) float64 {
	t := c.drawn
	if t.laid == nil {
		t.laid = make([]laid, t.n)
	}
	x := &t.laid[i]
	if now := termsOf(v); !x.ready || x.terms != now {
		x.terms, x.ready = now, true
		c.lay(x, v)
	}
	if c.course.plain {
		return x.none + x.each*a.total()
	}
	npv := x.none + x.upkeep*a.save[Maintenance] + x.lost*a.lost.money
	for k, sum := range grouped(&a.save) {
		npv += x.by[k] * sum
	}
	if c.ahead != nil {
		for k, sum := range grouped(&a.before) {
			npv += x.before[k] * sum
		}
	}
	return npv
}

// lay finds what a plan is worth with the inputs v.
func (c *Case) lay(x *laid, v *vector) {
	p := c.frame(v)
	var years [mostYears + 1]float64
	if c.course.plain {
		x.none = finance.NPV(v[rate], p.Flows(years[:]))
		x.each = finance.NPV(v[rate], finance.Plan{Savings: 1, Life: p.Life, TaxRate: p.TaxRate}.Flows(years[:]))
		return
	}
	c.spendings(v, &p, &room{})
	x.none = finance.NPV(v[rate], p.Flows(years[:]))
	x.by, x.before, x.upkeep, x.lost = [groups]float64{}, [groups]float64{}, 0, v[tax]-1
	g, kept := c.growth(v), 1-v[tax]
	for k := range g {
		worth := kept // of 1 a year at the prices of year 0, after tax, at the present value of year t
		for t := 1; t <= p.Life; t++ {
			worth *= (1 + g[k]) / (1 + v[rate])
			now, then := learned(c.course.learning[1], t), learned(c.course.learning[0], t)
			x.by[k] += worth * now
			x.before[k] += worth * (now - then)
			if group(k) == others {
				x.upkeep += worth
			}
		}
	}
}

func (t *table) row(mean *vector, i int) vector {
	v := *mean
	for k := range t.col {
		if t.col[k] != nil {
			v[k] = t.col[k][i]
		}
	}
	return v
}

// sample draws the table. A source has its own stream, by name, so that an
// input keeps its draws whatever else varies, and the same in every alternative.
func (c *Case) sample() *table {
	t := &table{n: c.draws}
	for k := simulated; k < inputs; k++ {
		in := &c.in[k]
		if in.Dist.IsConst() {
			continue
		}
		name := in.Key
		switch { // by the name of the alternative, whichever side it is
		case k >= investment1:
			name += " " + c.Alternative
		case k >= investment0:
			name = c.in[k-investment0+investment1].Key + " " + c.Against
		case k == hours0:
			name = c.in[hours1].Key // a busy year is busy for both
		case k == leaves0:
			name = c.in[leaves1].Key
		}
		t.col[k] = sim.Draws(in.Dist, c.Run.Seed, name, t.n)
	}
	if n := c.Run.Replications; n > 1 && c.cov != [simulated][simulated]float64{} {
		c.sampleSimulated(t, float64(n-1))
	}
	return t
}

// streams are the names of the streams of the simulated means; under another
// name they would be other draws.
var streams = [simulated]string{"good web of the first", "waste of the first", "splices of the first",
	"good web of the alternative", "waste of the alternative", "splices of the alternative"}

// sampleSimulated draws the simulated means: x = mean + L z sqrt(nu / chi²), a
// multivariate Student t of nu degrees of freedom, L L' their covariance. Every
// sum of them then has the interval of Student's t.
func (c *Case) sampleSimulated(t *table, nu float64) {
	l := cholesky(c.cov)
	normal := model.Dist{Law: model.Normal, B: 1, Signed: true}
	var z [simulated][]float64
	for k := range simulated {
		z[k] = sim.Draws(normal, c.Run.Seed, "savings.simulated "+streams[k], t.n)
	}
	chi := sim.Draws(model.Dist{Law: model.Gamma, A: nu / 2, B: 2}, c.Run.Seed, "savings.spread", t.n)
	for k := range simulated {
		if c.cov[k][k] == 0 {
			continue
		}
		col := make([]float64, t.n)
		for i := range col {
			x := 0.0
			for j := range k + 1 {
				x += l[k][j] * z[j][i]
			}
			col[i] = within(k, c.mean[k]+x*math.Sqrt(nu/chi[i]), c.mean[k])
		}
		t.col[k] = col
	}
}

// within keeps a simulated figure in its range: no rate or share leaves it.
func within(k index, x, mean float64) float64 {
	switch k {
	case waste0, waste1:
		return min(max(0, x), 0.999)
	case good0, good1:
		return max(x, 1e-3*mean)
	}
	return max(0, x)
}

// cholesky is the lower triangle L with L L' = a. Where a is singular (two
// figures that move as one) the column is left at 0.
func cholesky(a [simulated][simulated]float64) [simulated][simulated]float64 {
	var l [simulated][simulated]float64
	for j := range simulated {
		d := a[j][j]
		for k := range j {
			d -= l[j][k] * l[j][k]
		}
		if !(d > 1e-13*a[j][j]) {
			continue
		}
		l[j][j] = math.Sqrt(d)
		for i := j + 1; i < simulated; i++ {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			l[i][j] = s / l[j][j]
		}
	}
	return l
}

// npvOf is the net present value with the inputs v.
func (c *Case) npvOf(v *vector) float64 {
	a := c.account(v)
	return finance.NPV(v[rate], c.planOf(v, &a, 1, &room{}).Flows(nil))
}

// meanNPV is the mean net present value over the first n draws, each changed
// by change where that is not nil.
func (c *Case) meanNPV(n int, change func(*vector)) float64 {
	_, npv := c.meanOf(n, change)
	return npv
}

// meanOf is the mean saving a year, and the mean net present value.
func (c *Case) meanOf(n int, change func(*vector)) (saved, npv float64) {
	var v vector // here, since change may keep it for all that the compiler knows
	for i := range n {
		v = c.drawn.row(&c.mean, i)
		if change != nil {
			change(&v)
		}
		a := c.account(&v)
		saved += a.total()
		npv += c.npvAt(i, &v, &a)
	}
	return saved / float64(n), npv / float64(n)
}
