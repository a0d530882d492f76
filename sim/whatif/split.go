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
	n := len(y)
	x := make([][2]float64, n)
	drawn := make([][]float64, len(shares))
	variance := make([]float64, len(shares))
	for i, s := range samples {
		x[i] = *s.Controls
		for k := range shares {
			beyond, v := shares[k].Drawn(s)
			drawn[k] = append(drawn[k], beyond)
			variance[k] += v / float64(n)
		}
	}
	var keys []string
	for _, s := range shares {
		if !slices.Contains(keys, s.Source) {
			keys = append(keys, s.Source)
		}
	}
	slices.Sort(keys)
	of := func(without int) (part []float64, left float64) {
		b, mean, m, left := slopes(y, x, without)
		part = make([]float64, len(keys))
		all, used := left, 0.0
		for k, s := range shares {
			w := b[0]*s.Good + b[1]*s.Waste
			if variance[k] == 0 {
				continue
			}
			all += w * w * variance[k]
			cov, count := 0.0, 0.0
			for i, c := range drawn[k] {
				if i != without {
					count++
					cov += c * (y[i] - mean - b[0]*(x[i][0]-m[0]) - b[1]*(x[i][1]-m[1]))
				}
			}
			cov /= count
			v := w*w*variance[k] + 2*w*cov + (cov*cov/variance[k] - left/count)
			part[slices.Index(keys, s.Source)] += v
		}
		for k := range part {
			part[k] /= all
			used += part[k]
		}
		return append(part, 1-used), left / all
	}
	all, left := of(-1)
	half := make([]float64, len(all))
	less := make([][]float64, n)
	for i := range less {
		less[i], _ = of(i)
	}
	for k := range half {
		var m estimate.Moments
		for i := range less {
			m.Add(less[i][k])
		}
		half[k] = estimate.StudentT(0.5+confidence/2, float64(n-1)) * m.SD() * float64(n-1) / math.Sqrt(float64(n))
	}
	for k, key := range keys {
		if all[k] > 0 {
			sources = append(sources, Source{Key: key, Share: all[k], Half: half[k]})
		}
	}
	return sources, Source{Share: min(1, max(0, all[len(keys)])), Half: half[len(keys)]}, left
}

// slopes are those of y on the two sums by least squares, the means, and the variance
// of what is left, one period left out.
func slopes(y []float64, x [][2]float64, without int) (b [2]float64, mean float64, m [2]float64, left float64) {
	n := 0.0
	for i := range y {
		if i != without {
			n++
			mean += (y[i] - mean) / n
			m[0] += (x[i][0] - m[0]) / n
			m[1] += (x[i][1] - m[1]) / n
		}
	}
	var aa, bb, ab, ay, by, yy float64
	for i := range y {
		if i != without {
			u, v, w := x[i][0]-m[0], x[i][1]-m[1], y[i]-mean
			aa, bb, ab, ay, by, yy = aa+u*u, bb+v*v, ab+u*v, ay+u*w, by+v*w, yy+w*w
		}
	}
	columns := 2.0
	switch det := aa*bb - ab*ab; {
	case det > 1e-6*aa*bb:
		b = [2]float64{(ay*bb - by*ab) / det, (by*aa - ay*ab) / det}
	case aa > 0:
		b, columns = [2]float64{ay / aa, 0}, 1
	case bb > 0:
		b, columns = [2]float64{0, by / bb}, 1
	}
	return b, mean, m, max(0, yy-b[0]*ay-b[1]*by) / (n - 1 - columns)
}
