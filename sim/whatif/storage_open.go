package whatif

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
)

// openEvents is how many events all draws of the records may take where each is simulated.
const openEvents = 6e7 // some seconds

// seenAt is how many changes each draw sees at the target, so that the capacity at which it
// meets that is told.
const seenAt = 4

// openByWaits is the storage that holds the risk with the confidence of the run over what
// all records leave open, where waits for rolls, refills or the crew decide: every draw of
// all records is simulated at one capacity, above the answer so that few waits are cut short
// by a trip, on the same chance as the line as it is written, and the capacities that meet
// the target there are told by the changes that were recorded. The answer moves as the
// quantile of the draws does from the line as it is written (percentile bootstrap). What
// chance the draws do not share makes it larger. NaN where nothing was recorded, and where
// so rare a target would take too many events.
func openByWaits(ctx context.Context, s *scenarios.Scenario, q StorageQuestion, a *Answer, records replicate.Records, opt Options) (value float64, draws int, err error) {
	nan := math.NaN()
	z, err := newSizing(ctx, s, q, opt)
	at := slices.IndexFunc(a.Evidence, func(t Trial) bool { return t.X == a.Value && t.Possible })
	if err != nil || records == nil || at < 0 {
		return nan, 0, err
	}
	t := &a.Evidence[at]
	n := float64(t.Replications)
	each := z.bound.share(t.Metrics) * t.Metrics[z.bound.Metric].Trials / n // seen in a replication at the target
	r := max(minOpen, math.Ceil(seenAt/each))
	draws = drawsFor(s.Study.Run.Confidence, openEvents/(r*float64(t.Events)/n))
	if draws == 0 {
		return nan, 0, nil
	}
	z.search = z.with(int(r))
	above := 1.5 * a.Value
	if finite(a.High) {
		above = max(above, a.High)
	}
	above = min(above, q.Most)
	c, err := z.s.Again(z.over(above)...)
	if err != nil { // no possible line
		return nan, 0, nil
	}
	*z.values = draws + 1
	root := func(study *model.Study) (float64, error) {
		res, cycles, err := z.run(ctx, study)
		if err != nil {
			return 0, err
		}
		*z.done++
		x := &Trial{X: above, Possible: true, Metrics: res.Alternatives[0].Metrics, Replications: res.Run.Replications, Events: res.Alternatives[0].Events}
		x.curve = z.curveOf(x, study, res.Run, cycles)
		root := x.curve.root(z.bound, 0, a.Value, a.Value/100, q.Most)
		if math.IsNaN(root) && excess(x.curve.at(a.Value), z.bound, 0) > 0 {
			return math.Inf(1), nil
		}
		return root, nil
	}
	base, err := root(&c.Study)
	if err != nil || !finite(base) {
		return nan, 0, err
	}
	var by []float64
	for k := range draws {
		study := c.Study
		study.Alternatives, _ = records.Draw(k)
		storage := *storageOf(&c.Study.Alternatives[0].Line, z.records.which)
		*storageOf(&study.Alternatives[0].Line, z.records.which) = storage
		x, err := root(&study)
		if err != nil {
			return nan, 0, err
		}
		if math.IsNaN(x) { // however small
			x = 0
		}
		by = append(by, x/base)
	}
	slices.Sort(by)
	k := int(math.Ceil(s.Study.Run.Confidence*float64(draws+1)-1e-9)) - 1
	return a.Value * max(1, by[min(k, draws-1)]), draws, nil
}

// minOpen is how many replications of each draw are simulated at least.
const minOpen = 2

// drawsFor are so many draws that one of them, in order, is their quantile at a confidence:
// twice the fewest, or the fewest where no more can be simulated beside the line as it is
// written; 0: not even they.
func drawsFor(confidence, most float64) int {
	few := math.Ceil(1/(1-confidence) - 1e-9)
	for _, n := range []float64{2 * few, few} {
		if n <= min(200, most) {
			return int(n) - 1
		}
	}
	return 0
}
