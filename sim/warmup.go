package sim

import (
	"context"

	"rollchange/model"
)

// autoWarmUp finds the warm-up of a study by MSER-5 on the output of a pilot:
// the processed length of each alternative in equal periods, averaged over a
// few replications. It returns the longest of the alternatives' cuts, so that
// all are cut alike.
func autoWarmUp(ctx context.Context, study *model.Study) (float64, error) {
	const periods, most = 1000, 5
	cut := 0.0
	for i := range study.Alternatives {
		mean := make([]float64, periods)
		for r := range min(most, study.Run.Replications) {
			s := newRun(&study.Alternatives[i].Line, study.Run.Seed, r, study.Run.Horizon, 0, nil)
			last := 0.0
			for k := range periods {
				s.horizon = study.Run.Horizon * float64(k+1) / periods
				if err := s.simulate(ctx); err != nil {
					return 0, err
				}
				sum := 0.0
				for j := range s.lines {
					sum += s.lines[j].P
				}
				mean[k] += sum - last
				last = sum
			}
		}
		cut = max(cut, study.Run.Horizon*float64(mser5(mean))/periods)
	}
	return cut, nil
}

// mser5 is the number of leading observations to cut by the marginal standard
// error rule on means of batches of five: the cut d that makes
//
//	sum over i > d of (y_i - mean)² / (n - d)²
//
// least, not beyond half of the series (White, Simulation 69 (1997) 323).
func mser5(x []float64) int {
	var y []float64
	for i := 0; i+5 <= len(x); i += 5 {
		y = append(y, (x[i]+x[i+1]+x[i+2]+x[i+3]+x[i+4])/5)
	}
	best, cut := never, 0
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
