package replicate

import (
	"math"
	"slices"

	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
)

// JointMetrics are the metrics whose variation together is kept: what the
// money of a line hangs on.
var JointMetrics = []string{metric.GoodRate, metric.Waste, metric.SpliceRate}

// Joint is how the JointMetrics of all alternatives vary together from
// replication to replication, so that a figure made of several of them has the
// right half width. Row 3 i + k is metric k of alternative i.
type Joint struct {
	N   int
	Cov [][]float64 // covariance of one replication, divisor N-1; NaN below two replications
}

// joint gathers a Joint by the running form of the covariance (Welford,
// Technometrics 4 (1962) 419, for products).
type joint struct {
	at   []int // of the metrics in the samples of each alternative
	mean []float64
	sum  [][]float64
	n    int
	x, d []float64
}

// newJoint is nil, which gathers nothing, when an alternative lacks one of the metrics.
func newJoint(collectors []*collector) *joint {
	j := &joint{}
	for _, c := range collectors {
		for _, name := range JointMetrics {
			for i, m := range c.metrics {
				if m.Name == name {
					j.at = append(j.at, i)
				}
			}
		}
	}
	n := len(j.at)
	if n != len(JointMetrics)*len(collectors) {
		return nil
	}
	j.mean, j.x, j.d = make([]float64, n), make([]float64, n), make([]float64, n)
	j.sum = make([][]float64, n)
	for i := range j.sum {
		j.sum[i] = make([]float64, n)
	}
	return j
}

func (j *joint) add(samples []*sim.Sample) {
	if j == nil {
		return
	}
	j.n++
	for i, at := range j.at {
		x := samples[i/len(JointMetrics)].Figures[at].Num
		d := x - j.mean[i]
		j.mean[i] += d / float64(j.n)
		j.x[i], j.d[i] = x-j.mean[i], d
	}
	for i := range j.sum {
		for k := range i + 1 {
			j.sum[i][k] += j.d[i] * j.x[k]
		}
	}
}

func (j *joint) result() *Joint {
	if j == nil {
		return nil
	}
	r := &Joint{N: j.n, Cov: make([][]float64, len(j.at))}
	for i := range r.Cov {
		r.Cov[i] = make([]float64, len(j.at))
		for k := range i + 1 {
			c := math.NaN()
			if j.n > 1 {
				c = j.sum[i][k] / float64(j.n-1)
			}
			r.Cov[i][k], r.Cov[k][i] = c, c
		}
	}
	return r
}

// jointOf puts the covariances of means with controls in place of those without, when
// any has controls.
func jointOf(r *Joint, collectors []*collector, confidence float64) {
	var all []estimate.Pseudo
	used := false
	for _, c := range collectors {
		controls := c.controls()
		for _, name := range JointMetrics {
			i := slices.IndexFunc(c.metrics, func(m MetricName) bool { return m.Name == name })
			p := c.pseudo(i, controls, confidence)
			used = used || p != nil
			all = append(all, c.pseudoOrPlain(i, p))
		}
	}
	if !used {
		return
	}
	for i := range all {
		for k := range i + 1 {
			x := estimate.Covariance(all[i], all[k], r.N)
			r.Cov[i][k], r.Cov[k][i] = x, x
		}
	}
}
