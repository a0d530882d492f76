package whatif

import (
	"cmp"
	"slices"
	"strconv"

	"rollchange/scenarios"
)

// trial is how many replications tell which inputs move a metric most. The
// same chance is on both sides of each difference, so that few do.
const trial = 1

// largest leaves the inputs that move some metric most in a trial: so many of
// each metric as were asked for.
func (e *evaluation) largest(inputs []movedInput) ([]movedInput, error) {
	few, err := e.s.Again(scenarios.Override{Key: "run.replications", Value: strconv.Itoa(trial)})
	if err != nil {
		return nil, err
	}
	tried := *e
	tried.s = few
	tried.out = &Sensitivities{Swings: map[string][]Swing{}, Simulations: e.out.Simulations}
	if tried.base, err = newBase(e.ctx, few, e.opt); err != nil {
		return nil, err
	}
	if e.stakes != nil {
		if tried.stakes, err = newStakes(tried.base); err != nil {
			return nil, err
		}
	}
	for _, in := range inputs {
		if err := tried.swing(in); err != nil {
			return nil, err
		}
	}
	e.out.Simulations = tried.out.Simulations
	kept := map[string]bool{}
	for _, metric := range e.q.Metrics {
		list := tried.out.Swings[metric]
		slices.SortStableFunc(list, func(x, y Swing) int { return cmp.Compare(y.way(), x.way()) })
		for _, w := range list[:min(e.q.Most, len(list))] {
			if w.way() > 0 {
				kept[w.Key] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(inputs), func(in movedInput) bool { return !kept[in.key] }), nil
}

// way is how far an input moves the metric, the larger way, whether that is shown
// or not.
func (s Swing) way() float64 { return s.farthest(func(int) bool { return true }) }
