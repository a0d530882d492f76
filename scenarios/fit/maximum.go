package fit

import (
	"math"

	"rollchange/model"
	"rollchange/model/portable"
)

// maximum finds the parameters of the greatest likelihood by Newton's method on
// numerical derivatives, from a place to start. It is false where there is none
// within the widths that a law may have. A step that gained as little as s.gain was the
// last: the parameters were off by sqrt(2 gain) standard errors before it, and by the
// square of that, in relation, after.
func (s *sample) maximum(law model.Law, start point) (p point, best float64, ok bool) {
	low, high := widths(law)
	dim := free(law)
	if dim == 2 {
		start[1] = min(max(start[1], low+0.1), high-0.1)
	}
	at := func(p point) float64 {
		if dim == 2 && (p[1] < low || p[1] > high) || math.Abs(p[0]-start[0]) > mostMove {
			return math.Inf(-1)
		}
		f := s.likelihood(curveAt(law, p))
		if math.IsNaN(f) || math.IsInf(f, 1) {
			return math.Inf(-1)
		}
		return f
	}
	p, best = start, at(start)
	if math.IsInf(best, 0) {
		return p, best, false
	}
	for range 100 {
		step := newton(at, p, best, dim)
		if math.IsNaN(step[0]) || math.IsNaN(step[1]) {
			return p, best, false
		}
		gained := math.Inf(1)
		for i := range 40 { // Invariant: best is the likelihood at p, the greatest so far.
			next := point{p[0] + step[0], p[1] + step[1]}
			if f := at(next); f >= best-1e-12*math.Abs(best) {
				if i == 0 && math.Abs(step[0])+math.Abs(step[1]) < 0.1 {
					gained = f - best
				}
				p, best = next, f
				break
			}
			step[0], step[1] = step[0]/2, step[1]/2
		}
		if math.Abs(step[0])+math.Abs(step[1]) < 1e-6 || gained < s.gain {
			inside := math.Abs(p[0]-start[0]) < mostMove-edge && (dim == 1 || p[1] > low+edge && p[1] < high-edge)
			return p, best, inside
		}
	}
	return p, best, false
}

const (
	mostMove = 12   // of ln mean from where the search begins
	edge     = 1e-3 // a maximum so near to an end is none
	small    = 1e-4 // step of the derivatives: a slope is then off by some 1e-9 of the curvature
)

// newton is the step to the top of the parabola that f is like at p; uphill where it
// has no top.
func newton(f func(point) float64, p point, at float64, dim int) point {
	shift := func(a, b float64) float64 { return f(point{p[0] + a*small, p[1] + b*small}) }
	up, down := shift(1, 0), shift(-1, 0)
	g := point{(up - down) / (2 * small)}
	h := [2]float64{(up - 2*at + down) / (small * small)}
	if dim == 1 {
		if h[0] < 0 {
			return point{short(-g[0] / h[0])}
		}
		return point{short(math.Copysign(0.5, g[0]))}
	}
	right, left := shift(0, 1), shift(0, -1)
	g[1] = (right - left) / (2 * small)
	h[1] = (right - 2*at + left) / (small * small)
	cross := (shift(1, 1) + shift(-1, -1) - up - down - right - left + 2*at) / (2 * small * small)
	if det := h[0]*h[1] - cross*cross; h[0] < 0 && det > 0 {
		return point{short(-(h[1]*g[0] - cross*g[1]) / det), short(-(h[0]*g[1] - cross*g[0]) / det)}
	}
	length := portable.Hypot(g[0], g[1])
	return point{0.5 * g[0] / length, 0.5 * g[1] / length}
}

// short keeps a step within what the parabola is good for.
func short(x float64) float64 { return min(max(x, -1.5), 1.5) }
