package whatif

import (
	"context"
	"reflect"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/replicate"
)

// base is what the alternatives of a study are, simulated once; changes of them
// are held against it replication by replication, on the same chance. The last
// alternative is the one that is looked at; where money is asked for the first
// is the one that it is compared with.
type base struct {
	run      replicate.RunInfo
	study    model.Study
	outlines []replicate.Outline
	samples  [][]*sim.Sample    // by replication, then by alternative
	metrics  replicate.Metrics  // of the last alternative
	results  *replicate.Results // of all
	opt      replicate.Options
}

// newBase simulates the alternatives of a scenario.
func newBase(ctx context.Context, s *scenarios.Scenario, opt Options) (*base, error) {
	c, err := s.Again()
	if err != nil {
		return nil, err
	}
	b := &base{study: c.Study, opt: replicate.Options{Workers: opt.Workers}, outlines: replicate.OutlinesOf(&c.Study)}
	if b.run, err = replicate.Prepare(ctx, &c.Study); err != nil {
		return nil, err
	}
	g := replicate.NewGathering(b.run, b.outlines)
	err = replicate.Each(ctx, &c.Study, b.run, 0, b.run.Replications, b.opt, func(_ int, x []*sim.Sample) error {
		b.samples = append(b.samples, x)
		return g.Add(x)
	})
	if err != nil {
		return nil, err
	}
	b.results = g.Results()
	b.metrics = b.results.Alternatives[len(b.outlines)-1].Metrics
	return b, nil
}

// replicate simulates what differs from the base, which may be nothing.
func (b *base) replicate(ctx context.Context, study *model.Study, fold func(int, []*sim.Sample) error) error {
	if len(study.Alternatives) > 0 {
		return replicate.Each(ctx, study, b.run, 0, b.run.Replications, b.opt, fold)
	}
	for r := range b.samples {
		if err := fold(r, nil); err != nil {
			return err
		}
	}
	return nil
}

// changed is what a change came to.
type changed struct {
	metrics replicate.Metrics  // of the last alternative
	less    replicate.Metrics  // its paired differences from the base
	study   model.Study        // the alternatives of the base, then those changed
	results *replicate.Results // of all these
}

// beside simulates the alternatives with changes.
func (b *base) beside(ctx context.Context, s *scenarios.Scenario, over ...scenarios.Override) (*changed, error) {
	c, err := s.Again(over...)
	if err != nil {
		return nil, err
	}
	outlines := replicate.OutlinesOf(&c.Study)
	n := len(outlines)
	last := replicate.NewGathering(b.run, []replicate.Outline{b.outlines[n-1], outlines[n-1]})
	all := replicate.NewGathering(b.run, append(append([]replicate.Outline{}, b.outlines...), outlines...))
	// An alternative that the change leaves as it is needs no simulation.
	other, place := c.Study, []int{}
	other.Alternatives = nil
	for i := range c.Study.Alternatives {
		if !reflect.DeepEqual(c.Study.Alternatives[i].Line, b.study.Alternatives[i].Line) {
			other.Alternatives, place = append(other.Alternatives, c.Study.Alternatives[i]), append(place, i)
		}
	}
	err = b.replicate(ctx, &other, func(r int, some []*sim.Sample) error {
		x := slices.Clone(b.samples[r])
		for k, i := range place {
			x[i] = some[k]
		}
		if err := last.Add([]*sim.Sample{b.samples[r][n-1], x[n-1]}); err != nil {
			return err
		}
		return all.Add(append(append([]*sim.Sample{}, b.samples[r]...), x...))
	})
	if err != nil {
		return nil, err
	}
	pair := last.Results()
	both := b.study
	both.Alternatives = append(append([]model.Alternative{}, b.study.Alternatives...), c.Study.Alternatives...)
	return &changed{pair.Alternatives[1].Metrics, pair.Differences[1], both, all.Results()}, nil
}
