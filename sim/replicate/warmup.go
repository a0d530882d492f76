package replicate

import (
	"context"
	"fmt"
	"strconv"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
)

// mostPilots is how many replications the warm-up is found from at most.
const mostPilots = 5

// autoWarmUp finds the warm-up of a study by MSER-5 on the output of a pilot:
// the processed length of each alternative in equal periods, averaged over a
// few replications. It returns the longest of the alternatives' cuts, so that
// all are cut alike.
func autoWarmUp(ctx context.Context, study *model.Study) (float64, error) {
	const periods = 1000
	cut := 0.0
	for i := range study.Alternatives {
		facts := FactsOf(ctx, &study.Alternatives[i].Line)
		what := fmt.Sprint("warm-up ", study.Run.Seed, min(mostPilots, study.Run.Replications), study.Run.Horizon)
		if known, err := strconv.Atoi(string(facts.Find(what))); err == nil {
			cut = max(cut, study.Run.Horizon*float64(known)/periods)
			continue
		}
		mean := make([]float64, periods)
		for r := range min(mostPilots, study.Run.Replications) {
			x, err := sim.Processed(ctx, &study.Alternatives[i].Line, sim.Replication{Seed: study.Run.Seed, Number: r, Horizon: study.Run.Horizon}, periods)
			if err != nil {
				return 0, err
			}
			for k := range x {
				mean[k] += x[k]
			}
		}
		found := estimate.MSER5(mean)
		facts.Keep(what, []byte(strconv.Itoa(found)))
		cut = max(cut, study.Run.Horizon*float64(found)/periods)
	}
	return cut, nil
}
