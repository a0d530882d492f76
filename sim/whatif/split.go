package whatif

import (
	"math"
	"slices"

	"rollchange/sim"
	"rollchange/sim/estimate"
)

// leastSplit is how many periods a variance is split over at least, and muchLeft the
// shares of the variance between which what the sums leave makes it worth more periods:
// below the split is sharp, and above they have next to nothing to tell.
const leastSplit = 10

var muchLeft = [2]float64{0.25, 0.75}

// split is what each source adds to the variance of a figure, from the known means of
// the draws and without another simulation. What sources drew beyond their means, c,
// is not correlated between them (each draw hangs on earlier ones alone), so with the
// slopes b of the figure on the two sums of the controls, the weights w that good and
// waste metres give a source, V the variance of c (that of a draw times how many there
// are in the mean, Wald), and r what the sums leave,
//
//	share of a source = (b·w + cov(r, c)/V)² V / (sum of (b·w)² V + var r)
//
// less what chance adds to the square. Half widths are by the jackknife over the
// periods. left is the last of the divisor, as a share of it; at least leastSplit periods.
func split(y []float64, samples []*sim.Sample, shares []sim.Share, confidence float64) (sources []Source, rest Source, left float64) {
	s := newSplitting(y, samples, shares)
	all, left := s.parts(-1)
	half := s.halves(confidence)
	for k, key := range s.keys {
		if all[k] > 0 {
			sources = append(sources, Source{Key: key, Share: all[k], Half: half[k]})
		}
	}
	last := len(s.keys)
	return sources, Source{Share: min(1, max(0, all[last])), Half: half[last]}, left
}

// splitting is a figure in each period with what each source drew.
type splitting struct {
	y        []float64
	x        [][2]float64 // sums of the controls
	shares   []sim.Share
	drawn    [][]float64 // beyond the means, by share and period
	variance []float64   // of them, by share
	keys     []string    // of the sources
}

func newSplitting(y []float64, samples []*sim.Sample, shares []sim.Share) *splitting {
	s := &splitting{y: y, x: make([][2]float64, len(y)), shares: shares, drawn: make([][]float64, len(shares)), variance: make([]float64, len(shares))}
	for i, sample := range samples {
		s.x[i] = *sample.Controls
		for k := range shares {
			beyond, v := shares[k].Drawn(sample)
			s.drawn[k] = append(s.drawn[k], beyond)
			s.variance[k] += v / float64(len(y))
		}
	}
	for _, x := range shares {
		if !slices.Contains(s.keys, x.Source) {
			s.keys = append(s.keys, x.Source)
		}
	}
	slices.Sort(s.keys)
	return s
}

// parts are the shares of the variance by source, then the rest, one period left out (-1:
// none), and what the sums leave.
func (s *splitting) parts(without int) (part []float64, left float64) {
	on := slopes(s.y, s.x, without)
	part = make([]float64, len(s.keys))
	all, used := on.left, 0.0
	for k, share := range s.shares {
		if s.variance[k] == 0 {
			continue
		}
		w := on.b[0]*share.Good + on.b[1]*share.Waste
		all += w * w * s.variance[k]
		cov, count := s.covariance(k, &on, without)
		part[slices.Index(s.keys, share.Source)] += w*w*s.variance[k] + 2*w*cov + (cov*cov/s.variance[k] - on.left/count)
	}
	for k := range part {
		part[k] /= all
		used += part[k]
	}
	return append(part, 1-used), on.left / all
}

// covariance is that of what a share drew and what the sums leave, of so many periods.
func (s *splitting) covariance(share int, on *plane, without int) (cov, count float64) {
	for i, c := range s.drawn[share] {
		if i != without {
			count++
			cov += c * on.residual(s.y[i], s.x[i])
		}
	}
	return cov / count, count
}

// halves are the half widths of the parts.
func (s *splitting) halves(confidence float64) []float64 {
	n := len(s.y)
	less := make([][]float64, n)
	for i := range less {
		less[i], _ = s.parts(i)
	}
	half := make([]float64, len(s.keys)+1)
	for k := range half {
		var m estimate.Moments
		for i := range less {
			m.Add(less[i][k])
		}
		half[k] = estimate.StudentT(0.5+confidence/2, float64(n-1)) * m.SD() * float64(n-1) / math.Sqrt(float64(n))
	}
	return half
}

// plane is a figure as it goes with the two sums.
type plane struct {
	b, m [2]float64 // slopes on the sums, and their means
	mean float64
	left float64 // variance of what is left
}

// residual is what is left of the figure in one period.
func (p *plane) residual(y float64, x [2]float64) float64 {
	return y - p.mean - p.b[0]*(x[0]-p.m[0]) - p.b[1]*(x[1]-p.m[1])
}

// slopes are those of y on the two sums by least squares, the means, and the variance
// of what is left, one period left out.
func slopes(y []float64, x [][2]float64, without int) (p plane) {
	n := 0.0
	for i := range y {
		if i != without {
			n++
			p.mean += (y[i] - p.mean) / n
			p.m[0] += (x[i][0] - p.m[0]) / n
			p.m[1] += (x[i][1] - p.m[1]) / n
		}
	}
	var aa, bb, ab, ay, by, yy float64
	for i := range y {
		if i != without {
			u, v, w := x[i][0]-p.m[0], x[i][1]-p.m[1], y[i]-p.mean
			aa, bb, ab, ay, by, yy = aa+u*u, bb+v*v, ab+u*v, ay+u*w, by+v*w, yy+w*w
		}
	}
	columns := 2.0
	switch det := aa*bb - ab*ab; {
	case det > 1e-6*aa*bb:
		p.b = [2]float64{(ay*bb - by*ab) / det, (by*aa - ay*ab) / det}
	case aa > 0:
		p.b, columns = [2]float64{ay / aa, 0}, 1
	case bb > 0:
		p.b, columns = [2]float64{0, by / bb}, 1
	}
	p.left = max(0, yy-p.b[0]*ay-p.b[1]*by) / (n - 1 - columns)
	return p
}
