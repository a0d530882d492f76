package savings

import (
	"math"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// FigureNames are the figures of a savings case that can be asked for by name:
// what is saved a year before tax, the net present value, both in the mean over
// the draws, and the simple payback, the median of the draws.
var FigureNames = []string{"savings", "npv", "payback"}

const figureCount = 3

// Figures are what a savings case comes to, without what tells why.
type Figures struct {
	Value [figureCount]float64            // by FigureNames; a payback is +Inf: never, NaN: nothing is invested, or Options.NoPayback
	grad  [figureCount][simulated]float64 // how each moves with the simulated figures
}

// figureDraws is how many draws the slopes of the figures are calculated from.
const figureDraws = 200

// Moved is one economic input that is moved, all its draws by a factor.
type Moved struct {
	Index  int // of AllInputs
	Factor float64
}

// Draws are those of economic inputs, made once for many figures of one study whose
// lines differ. Its zero value is ready.
type Draws struct {
	of    *Case
	drawn *table
}

// FiguresOf calculates the figures of alternative i against alternative from, with these
// draws; where they do not fit it makes others. Where more is sold and no price is given
// that counts as nothing, as it does in the draws of a case.
func (d *Draws) FiguresOf(study *model.Study, rs *replicate.Results, from, i int, opt Options) (Figures, error) {
	c, err := newCase(study, rs, from, i, opt)
	if err != nil {
		return Figures{}, err
	}
	if d.of == nil || !c.drawsLike(d.of) {
		d.of, d.drawn = c, c.sample()
	}
	c.drawn = d.drawn
	return c.Figures(), nil
}

// drawsLike says whether two cases have the same draws.
func (c *Case) drawsLike(d *Case) bool {
	certain := [simulated][simulated]float64{}
	if c.Run.Seed != d.Run.Seed || c.draws != d.draws || c.Alternative != d.Alternative || c.Against != d.Against || c.cov != certain || d.cov != certain {
		return false
	}
	for k := simulated; k < inputs; k++ {
		if c.in[k].Key != d.in[k].Key || !(c.in[k].Dist.IsConst() && d.in[k].Dist.IsConst()) && !sameDist(c.in[k].Dist, d.in[k].Dist) {
			return false
		}
	}
	return true
}

// Figures are those of the case, with some economic inputs moved.
func (c *Case) Figures(moved ...Moved) Figures {
	change := func(v *vector) {
		for _, m := range moved {
			c.put(v, index(m.Index), v[m.Index]*m.Factor)
		}
	}
	f := Figures{Value: c.movedValue(change, len(moved) > 0)}
	if c.Run.Replications < 2 {
		return f // no half width to be found from slopes
	}
	n := min(figureDraws, c.drawn.n)
	for k := range simulated {
		step := 1e-3 * math.Abs(c.mean[k])
		if step == 0 {
			continue
		}
		by := func(d float64) [figureCount]float64 {
			return c.valued(n, func(v *vector) {
				v[k] = within(k, v[k]+d, c.mean[k])
				change(v)
			})
		}
		up, down := by(step), by(-step)
		for m := range f.grad {
			if d := (up[m] - down[m]) / (2 * step); !math.IsNaN(d) && !math.IsInf(d, 0) {
				f.grad[m][k] = d
			}
		}
	}
	return f
}

// movedValue is the figures over all draws. What a move does to a mean is sure with far
// fewer, the same on both sides; a payback is a median and takes them all.
func (c *Case) movedValue(change func(*vector), moved bool) [figureCount]float64 {
	n := min(swingDraws, c.drawn.n)
	if !moved || !c.noPayback || n == c.drawn.n {
		return c.valued(c.drawn.n, change)
	}
	if c.still == nil {
		as := func(*vector) {}
		c.still = &[2][figureCount]float64{c.valued(c.drawn.n, as), c.valued(n, as)}
	}
	x := c.valued(n, change)
	for k := range x {
		x[k] += c.still[0][k] - c.still[1][k]
	}
	return x
}

// valued calculates the figures over the first n draws, each changed first.
func (c *Case) valued(n int, change func(*vector)) [figureCount]float64 {
	if c.noPayback {
		saved, npv := c.meanOf(n, change)
		return [figureCount]float64{saved, npv, math.NaN()}
	}
	var saved, npv float64
	var flows []float64
	room := &room{}
	paybacks := make([]float64, 0, n)
	for i := range n {
		v := c.drawn.row(&c.mean, i)
		change(&v)
		a := c.account(&v)
		p := c.planOf(&v, &a, 1, room)
		flows = p.Flows(flows)
		saved += a.total()
		npv += finance.NPV(v[rate], flows)
		if p.Spends() {
			paybacks = append(paybacks, finance.Payback(flows))
		}
	}
	middle := math.NaN()
	if len(paybacks) > 0 {
		middle = median(paybacks)
	}
	return [figureCount]float64{saved / float64(n), npv / float64(n), middle}
}

// HalfWidths are the half widths of the figures, of the simulation alone: how
// the simulated figures of both alternatives vary together is taken from the
// results. NaN with one replication.
func (f *Figures) HalfWidths(rs *replicate.Results, i int) [figureCount]float64 {
	return halves(rs, [][2]int{{0, i}}, f.grad)
}

// HalfWidthsFrom are the half widths of the differences from other figures,
// those of the alternatives at and beside in one set of results: rows of the
// first and the alternative of each.
func (f *Figures) HalfWidthsFrom(other *Figures, rs *replicate.Results, own, others [2]int) [figureCount]float64 {
	minus := other.grad
	for m := range minus {
		for k := range minus[m] {
			minus[m][k] = -minus[m][k]
		}
	}
	return halves(rs, [][2]int{others, own}, minus, f.grad)
}

// halves are Student t times sqrt(g' cov g) over the alternatives of pairs, each
// pair with its slopes.
func halves(rs *replicate.Results, pairs [][2]int, grads ...[figureCount][simulated]float64) [figureCount]float64 {
	var h [figureCount]float64
	j, k := rs.Joint, len(replicate.JointMetrics)
	if rs.Run.Replications < 2 || j == nil {
		for m := range h {
			h[m] = math.NaN()
		}
		return h
	}
	row := func(pair [2]int, a index) int { return pair[int(a)/k]*k + int(a)%k }
	t := estimate.StudentT(0.5+rs.Run.Confidence/2, float64(rs.Run.Replications-1))
	for m := range h {
		var v variance
		for p := range pairs {
			for q := range pairs {
				for a := range simulated {
					for b := range simulated {
						x, y := grads[p][m][a], grads[q][m][b]
						if x != 0 && y != 0 {
							v.add(x * y * j.Cov[row(pairs[p], a)][row(pairs[q], b)] / float64(j.N))
						}
					}
				}
			}
		}
		h[m] = t * v.root()
	}
	return h
}

// variance is a variance as the sum of terms that may cancel.
type variance struct{ sum, size float64 }

func (v *variance) add(x float64) {
	v.sum += x
	v.size += math.Abs(x)
}

// root is the standard deviation, 0 where no more is left than rounding leaves: of an
// input that moves all draws alike, by an investment.
func (v *variance) root() float64 {
	if v.sum < 1e-12*v.size {
		return 0
	}
	return math.Sqrt(v.sum)
}
