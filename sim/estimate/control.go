package estimate

import (
	"math"

	"rollchange/model/portable"
)

// Controls are two sums of mean 0 that go with the figures of each replication, or
// group of them: what a figure owes to them, by least squares, is taken off it
// (control variates; Lavenberg and Welch, Management Science 27 (1981) 322).
type Controls struct {
	x       [][2]float64 // means of the groups
	weight  []float64    // replications in each
	all     float64      // replications
	mean    [2]float64
	inverse [2][2]float64 // of the sums of squares and products about the mean
	columns int           // that are used
}

// least is how many replications controls need: with fewer the slopes cost more
// than they bring.
const least = 10

// alone is the leverage beyond which one group would carry the fit.
const alone = 0.9

// far is how many of its standard errors the mean of the sums may be from 0. Of ten groups
// it is further in one of 280,000 sets (Student's t). A sum whose rare part happened in no
// group stands at what it lacks by that, and varies in little else, even in its last digit
// alone: slopes would lead from there to 0 over a thousand times as far as they are known.
const far = 10

// NewControls prepares controls from the sums of each group and the replications in
// it. It is nil where they cannot be used: too few groups, sums that do not vary, that
// one group alone makes, or that are further from 0 than chance goes.
func NewControls(sums [][2]float64, replications []int) *Controls {
	if len(sums) < least {
		return nil
	}
	c := &Controls{x: make([][2]float64, len(sums)), weight: make([]float64, len(sums))}
	for g, s := range sums {
		n := float64(replications[g])
		c.weight[g] = n
		c.all += n
		for k := range s {
			c.x[g][k] = s[k] / n
			c.mean[k] += s[k]
		}
	}
	for k := range c.mean {
		c.mean[k] /= c.all
	}
	var a, b, ab float64
	for g, x := range c.x {
		u, v := x[0]-c.mean[0], x[1]-c.mean[1]
		a, b, ab = a+c.weight[g]*u*u, b+c.weight[g]*v*v, ab+c.weight[g]*u*v
	}
	const apart = 1e-6 // of the square of the correlation from 1
	det := a*b - ab*ab
	switch {
	case a > 0 && b > 0 && det > apart*a*b && c.use(2, [2][2]float64{{b / det, -ab / det}, {-ab / det, a / det}}):
	case a > 0 && c.use(1, [2][2]float64{{1 / a, 0}, {0, 0}}):
	case b > 0 && c.use(1, [2][2]float64{{0, 0}, {0, 1 / b}}):
	default:
		return nil
	}
	for g := range c.x {
		if _, leverage := c.pull(g); leverage > alone {
			return nil
		}
	}
	return c
}

// use takes so many columns with their inverse; false where the means of the sums are
// too far from 0 for them: Hotelling's T², of one column the square of Student's t.
func (c *Controls) use(columns int, inverse [2][2]float64) bool {
	c.columns, c.inverse = columns, inverse
	d := c.solve(c.mean)
	return (c.mean[0]*d[0]+c.mean[1]*d[1])*c.all*float64(len(c.x)-1) <= far*far
}

// solve is the inverse times a vector.
func (c *Controls) solve(x [2]float64) [2]float64 {
	return [2]float64{c.inverse[0][0]*x[0] + c.inverse[0][1]*x[1], c.inverse[1][0]*x[0] + c.inverse[1][1]*x[1]}
}

// pull is what group g weighs in the fitted value at sums of 0, and its leverage.
func (c *Controls) pull(g int) (at0, leverage float64) {
	d := c.solve([2]float64{c.x[g][0] - c.mean[0], c.x[g][1] - c.mean[1]})
	at0 = c.weight[g] * (1/c.all - c.mean[0]*d[0] - c.mean[1]*d[1])
	leverage = c.weight[g] * (1/c.all + (c.x[g][0]-c.mean[0])*d[0] + (c.x[g][1]-c.mean[1])*d[1])
	return at0, leverage
}

// Pseudo is the mean of a figure at sums of 0, with what each group adds to it, by
// the delete-one jackknife (closed: the fit without a group differs by its residual
// over one less its leverage). sums are those of the figure in each group. The
// values are stretched about the mean so that Student's t with one degree of freedom
// less than groups allows for those that the slopes take.
func (c *Controls) Pseudo(sums []float64, confidence float64) Pseudo {
	mean, slope := c.fit(sums)
	n := float64(len(sums))
	stretch := StudentT(0.5+confidence/2, n-1-float64(c.columns)) / StudentT(0.5+confidence/2, n-1)
	p := Pseudo{All: mean - slope[0]*c.mean[0] - slope[1]*c.mean[1], Values: make([]float64, len(sums))}
	for g, s := range sums {
		residual := s/c.weight[g] - mean - slope[0]*(c.x[g][0]-c.mean[0]) - slope[1]*(c.x[g][1]-c.mean[1])
		at0, leverage := c.pull(g)
		p.Values[g] = p.All + stretch*(n-1)*at0*residual/(1-leverage)
	}
	return p
}

// fit is the mean of a figure and its slopes on the sums.
func (c *Controls) fit(sums []float64) (mean float64, slope [2]float64) {
	for _, s := range sums {
		mean += s
	}
	mean /= c.all
	var products [2]float64
	for g, s := range sums {
		y := s - c.weight[g]*mean
		products[0] += (c.x[g][0] - c.mean[0]) * y
		products[1] += (c.x[g][1] - c.mean[1]) * y
	}
	return mean, c.solve(products)
}

// Slope is that of a figure on the sums, for replications that are too few to find
// their own (SlopedPseudo).
func (c *Controls) Slope(sums []float64) [2]float64 {
	_, slope := c.fit(sums)
	return slope
}

// SlopedPseudo is the mean of a figure, with what each group adds to it, at sums of 0 by
// slopes that come from other replications.
func SlopedPseudo(sums []float64, controls [][2]float64, replications []int, slope [2]float64) Pseudo {
	less := make([]float64, len(sums))
	for g, s := range sums {
		less[g] = s - slope[0]*controls[g][0] - slope[1]*controls[g][1]
	}
	return PlainPseudo(less, replications)
}

// PlainPseudo is the mean of a figure with what each group adds to it.
func PlainPseudo(sums []float64, replications []int) Pseudo {
	p := Pseudo{Values: make([]float64, len(sums))}
	all := 0
	for g, s := range sums {
		p.All += s
		all += replications[g]
		p.Values[g] = s / float64(replications[g])
	}
	p.All /= float64(all)
	return p
}

// Controlled is the estimate of a mean from its pseudo-values; plain is that without
// controls, whose spread and replications it keeps.
func Controlled(p Pseudo, plain Estimate, confidence float64) Estimate {
	return controlled(p, plain, Mean, confidence)
}

// ControlledDifference is the estimate of the difference of two means, paired.
func ControlledDifference(p, q Pseudo, plain Estimate, confidence float64) Estimate {
	return controlled(p.Minus(q), plain, Difference, confidence)
}

func controlled(p Pseudo, plain Estimate, of func(*Moments, float64) Estimate, confidence float64) Estimate {
	e := of(p.moments(), confidence)
	if !e.Known() && plain.Known() && plain.Why != Same {
		// What few events are left carry it now: the plain limits hold still, about a mean
		// that varies less, and so do those of as many such events as there may be.
		reach := mostEvents(confidence) * e.SD / math.Sqrt(float64(len(p.Values)))
		if !(e.Why == TooFew && reach > 0) {
			reach = math.Inf(1)
		}
		off := e.Mean - plain.Mean
		e = between(e.Mean, plain.SD, plain.N, math.Max(plain.Low+off, e.Mean-reach), math.Min(plain.High+off, e.Mean+reach))
	}
	e.SD, e.N = plain.SD, plain.N
	return e
}

// mostEvents is how many more events there may be than one that was seen, the upper limit
// of a Poisson mean. One event in all replications makes one standard error; of several
// that were seen the limit is nearer, in standard errors.
func mostEvents(confidence float64) float64 {
	return portable.GammaQuantile(2, 0.5+confidence/2) - 1
}

// Covariance is that of two means, times the replications: with the covariance of one
// replication as it would be had they no controls.
func Covariance(p, q Pseudo, replications int) float64 {
	n := len(p.Values)
	if n < 2 {
		return math.NaN()
	}
	var a, b, sum float64
	for g := range p.Values {
		a, b = a+p.Values[g]/float64(n), b+q.Values[g]/float64(n)
	}
	for g := range p.Values {
		sum += (p.Values[g] - a) * (q.Values[g] - b)
	}
	return sum / float64(n-1) * float64(replications) / float64(n)
}
