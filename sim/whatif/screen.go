package whatif

import (
	"cmp"
	"slices"
	"strconv"

	"rollchange/scenarios"
)

// screenEvents is how many events of a line show which inputs move it most: a screen is
// no longer than that takes.
const screenEvents = 5000

// leastBar is the share of the largest bar of a picture below which another is hardly
// seen beside it.
const leastBar = 0.02

// largest leaves the inputs that move some metric most in a screen: so many of each
// metric as were asked for. A screen is one replication, with the same chance at every
// end, and no longer than it has to be.
func (e *evaluation) largest(inputs []movedInput) ([]*tried, error) {
	events := int64(1)
	for _, x := range e.base.samples[0] {
		events = max(events, x.Events)
	}
	run := e.base.run
	shorter := min(1, screenEvents/float64(events))
	text := func(s float64) string { return strconv.FormatFloat(s, 'g', -1, 64) + " s" }
	over := []scenarios.Override{{Key: "run.replications", Value: "1"}, {Key: "run.horizon", Value: text(run.WarmUp + shorter*(run.Horizon-run.WarmUp))}, {Key: "run.warm_up", Value: text(run.WarmUp)}}
	few, err := e.s.Again(over...)
	if err != nil {
		return nil, err
	}
	e.meter.begin(screenStage, e.meter.left[screenStage])
	s := *e
	s.s = few
	s.out = &Sensitivities{Swings: map[string][]Swing{}, Simulations: e.out.Simulations}
	if s.base, err = newBase(e.ctx, few, e.base.opt); err != nil {
		return nil, err
	}
	if e.stakes != nil {
		if s.stakes, err = newStakes(s.base, nil); err != nil {
			return nil, err
		}
	}
	seen, err := s.tried(inputs)
	if err != nil {
		return nil, err
	}
	if err := s.simulate(seen, 1, func(*tried, int) bool { return true }); err != nil {
		return nil, err
	}
	e.out.Simulations, e.out.Skipped = s.out.Simulations, append(e.out.Skipped, s.out.Skipped...)
	kept := map[string]bool{}
	for _, metric := range e.q.Metrics {
		var swings []Swing
		for _, t := range seen {
			if w := s.swing(t, metric); w.Key != "" {
				swings = append(swings, w)
			}
		}
		slices.SortStableFunc(swings, func(x, y Swing) int { return cmp.Compare(y.way(), x.way()) })
		for _, w := range swings[:min(e.q.Most, len(swings))] {
			if w.way() > leastBar*swings[0].way() {
				kept[w.Key] = true
			}
		}
	}
	var list []*tried
	for _, t := range seen {
		if !kept[t.key] {
			continue
		}
		full := &tried{movedInput: t.movedInput, of: t.of}
		for k, m := range t.moved {
			if m != nil {
				full.moved[k] = e.base.variant(m.study)
			}
		}
		list = append(list, full)
	}
	return list, nil
}
