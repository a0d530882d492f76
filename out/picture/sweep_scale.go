package picture

import (
	"math"

	"rollchange/out/words"
)

// limits finds the limits of the vertical scale. On one of ratios, what is
// none gets a row of its own below it for each line that needs one.
func (g *sweepGraph) limits() {
	g.y = scale{low: math.Inf(1), high: math.Inf(-1), log: g.read.Log}
	most, least := math.Inf(-1), math.Inf(1)
	for _, l := range g.lines {
		for _, e := range l.at {
			if !math.IsNaN(e.Mean) {
				most, least = max(most, e.Mean), min(least, e.Mean)
			}
		}
	}
	for _, l := range g.lines {
		for _, e := range l.at {
			half := e.HalfWidth
			if !words.Finite(half) || g.y.log {
				half = 0
			}
			switch {
			case math.IsNaN(e.Mean):
			case g.y.log && e.Mean <= g.read.Floor(most):
				if l.row < 0 {
					l.row, g.rows = g.rows, g.rows+1
				}
			default:
				g.y.low, g.y.high = min(g.y.low, e.Mean-half), max(g.y.high, e.Mean+half)
			}
		}
	}
	for _, v := range g.goals {
		if !g.y.log {
			g.y.low, g.y.high, most = min(g.y.low, v), max(g.y.high, v), max(most, v)
		} else if v > 0 { // clear of the edges
			g.y.low, g.y.high = min(g.y.low, v/1.5), max(g.y.high, v*1.5)
		}
	}
	if g.y.log {
		g.y.low, g.y.high = roundLog(g.y.low, g.y.high)
		return
	}
	if g.y.high == 0 && g.y.low == 0 {
		g.y.high = 1
	}
	span := max(g.y.high-g.y.low, 0.02*math.Abs(g.y.high), 1e-9)
	low, high := g.y.low-0.08*span, g.y.high+0.08*span
	if least >= 0 {
		low = max(0, low)
		if low < 0.4*high {
			low = 0
		}
	}
	if g.read.Share && most <= 100 {
		high = min(high, 100)
	}
	if low > 0 {
		g.says += words.NotFromZero
	}
	g.y.low, g.y.high = low, high
}

// roundLog widens a scale of ratios to round figures: powers of ten, or 1, 2 and
// 5 of them where it is short.
func roundLog(low, high float64) (float64, float64) {
	steps := []float64{1}
	if high < 30*low {
		steps = []float64{1, 2, 5}
	}
	a, b := 0.0, math.Inf(1)
	for k := math.Floor(math.Log10(low)) - 1; k <= math.Ceil(math.Log10(high))+1; k++ {
		for _, f := range steps {
			v := f * math.Pow(10, k)
			if v <= low*(1+1e-9) {
				a = max(a, v)
			}
			if v >= high*(1-1e-9) {
				b = min(b, v)
			}
		}
	}
	if a == b {
		a, b = a/2, b*2
	}
	return a, b
}
