package whatif

import (
	"context"

	"rollchange/scenarios"
	"rollchange/sim"
)

// base is one alternative as it is, simulated once; changes of it are held
// against it replication by replication, on the same chance.
type base struct {
	run     sim.RunInfo
	outline sim.Outline
	samples []*sim.Sample
	metrics sim.Metrics
	opt     sim.Options
}

// newBase simulates the first alternative of a scenario.
func newBase(ctx context.Context, s *scenarios.Scenario, opt Options) (*base, error) {
	c, err := s.Again()
	if err != nil {
		return nil, err
	}
	c.Study.Alternatives = c.Study.Alternatives[:1]
	b := &base{opt: sim.Options{Workers: opt.Workers}, outline: sim.OutlinesOf(&c.Study)[0]}
	if b.run, err = sim.Prepare(ctx, &c.Study); err != nil {
		return nil, err
	}
	g := sim.NewGathering(b.run, []sim.Outline{b.outline})
	err = sim.Replicate(ctx, &c.Study, b.run, 0, b.run.Replications, b.opt, func(_ int, x []*sim.Sample) error {
		b.samples = append(b.samples, x[0])
		return g.Add(x)
	})
	if err != nil {
		return nil, err
	}
	b.metrics = g.Results().Alternatives[0].Metrics
	return b, nil
}

// beside simulates the alternative with changes: alternative 1 of the results,
// with its differences from the base.
func (b *base) beside(ctx context.Context, s *scenarios.Scenario, over ...scenarios.Override) (*sim.Results, error) {
	c, err := s.Again(over...)
	if err != nil {
		return nil, err
	}
	c.Study.Alternatives = c.Study.Alternatives[:1]
	g := sim.NewGathering(b.run, []sim.Outline{b.outline, sim.OutlinesOf(&c.Study)[0]})
	err = sim.Replicate(ctx, &c.Study, b.run, 0, b.run.Replications, b.opt, func(r int, x []*sim.Sample) error {
		return g.Add([]*sim.Sample{b.samples[r], x[0]})
	})
	if err != nil {
		return nil, err
	}
	return g.Results(), nil
}
