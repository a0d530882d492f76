package estimate

import "math"

// MSER5 is the number of leading observations to cut by the marginal standard
// error rule on means of batches of five: the cut d that makes
//
//	sum over i > d of (y_i - mean)² / (n - d)²
//
// least, not beyond half of the series (White, Simulation 69 (1997) 323).
func MSER5(x []float64) int {
	var y []float64
	for i := 0; i+5 <= len(x); i += 5 {
		y = append(y, (x[i]+x[i+1]+x[i+2]+x[i+3]+x[i+4])/5)
	}
	best, cut := math.Inf(1), 0
	var sum, squares float64
	for d := len(y) - 1; d >= 0; d-- {
		sum += y[d]
		squares += y[d] * y[d]
		if d > len(y)/2 {
			continue
		}
		n := float64(len(y) - d)
		spread := squares - sum*sum/n
		if spread < 1e-14*n*squares { // no more than rounding
			spread = 0
		}
		if score := spread / (n * n); score <= best {
			best, cut = score, d
		}
	}
	return 5 * cut
}
