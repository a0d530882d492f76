package savings

import (
	"math"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim"
)

// table is all that is drawn: a column for each input that varies, nil for the others.
type table struct {
	n   int
	col [inputs][]float64
	npv []float64 // of each draw, once valued
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
		switch {
		case k >= investment1:
			name += " " + c.Alternative
		case k >= investment0:
			name += " " + c.Against
		}
		t.col[k] = sim.Draws(in.Dist, c.Run.Seed, name, t.n)
	}
	if n := c.Run.Replications; n > 1 {
		c.sampleSimulated(t, float64(n-1))
	}
	return t
}

// sampleSimulated draws the simulated means: x = mean + L z sqrt(nu / chi²), a
// multivariate Student t of nu degrees of freedom, L L' their covariance. Every
// sum of them then has the interval of Student's t.
func (c *Case) sampleSimulated(t *table, nu float64) {
	l := cholesky(c.cov)
	normal := model.Dist{Law: model.Normal, B: 1, Signed: true}
	var z [simulated][]float64
	for k := range simulated {
		z[k] = sim.Draws(normal, c.Run.Seed, "savings.simulated "+c.in[k].Label, t.n)
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
			x = c.mean[k] + x*math.Sqrt(nu/chi[i])
			switch k { // no rate or share leaves its range
			case waste0, waste1:
				x = min(max(0, x), 0.999)
			case good0, good1:
				x = max(x, 1e-3*c.mean[k])
			default:
				x = max(0, x)
			}
			col[i] = x
		}
		t.col[k] = col
	}
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

// meanNPV is the mean net present value over the draws, with input key fixed
// at x where key is not negative.
func (c *Case) meanNPV(key index, x float64) float64 {
	sum := 0.0
	var flows []float64
	for i := range c.drawn.n {
		v := c.drawn.row(&c.mean, i)
		if key >= 0 {
			v[key] = x
		}
		a := c.account(&v)
		flows = planOf(&v, a.total()).Flows(flows)
		sum += finance.NPV(v[rate], flows)
	}
	return sum / float64(c.drawn.n)
}
