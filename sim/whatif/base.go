package whatif

import (
	"context"
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
	gathered *replicate.Gathering
	opt      replicate.Options
}

// newBase simulates the alternatives of a scenario.
func newBase(ctx context.Context, s *scenarios.Scenario, opt replicate.Options) (*base, error) {
	c, err := s.Again()
	if err != nil {
		return nil, err
	}
	b := &base{study: c.Study, opt: opt, outlines: replicate.OutlinesOf(&c.Study)}
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
	b.results, b.gathered = g.Results(), g
	b.metrics = b.results.Alternatives[len(b.outlines)-1].Metrics
	return b, nil
}

// changed is what a change came to.
type changed struct {
	metrics replicate.Metrics  // of the last alternative
	less    replicate.Metrics  // its paired differences from the base
	study   model.Study        // the alternatives of the base, then those changed
	results *replicate.Results // of all these
}

// variant is a change that is simulated beside the base, as far as it has to be.
type variant struct {
	base      *base
	study     model.Study // the alternatives as changed
	other     model.Study // those that the change does not leave as they are
	place     []int       // of them
	last, all *replicate.Gathering
	done      int // replications
}

// move makes a change of the alternatives, and simulates nothing yet.
func (b *base) move(s *scenarios.Scenario, over ...scenarios.Override) (*variant, error) {
	c, err := s.Again(over...)
	if err != nil {
		return nil, err
	}
	return b.variant(c.Study), nil
}

// variant is the change to a study whose alternatives are those of the base, changed.
func (b *base) variant(study model.Study) *variant {
	outlines := replicate.OutlinesOf(&study)
	n := len(outlines)
	m := &variant{base: b, study: study, other: study}
	m.last = replicate.NewGathering(b.run, []replicate.Outline{b.outlines[n-1], outlines[n-1]})
	m.all = replicate.NewGathering(b.run, append(append([]replicate.Outline{}, b.outlines...), outlines...))
	b.gathered.Lend(m.last, n-1)
	b.gathered.Lend(m.all, 0)
	// An alternative that the change leaves as it is needs no simulation.
	m.other.Alternatives = nil
	for i := range study.Alternatives {
		if !study.Alternatives[i].Line.Same(&b.study.Alternatives[i].Line) {
			m.other.Alternatives, m.place = append(m.other.Alternatives, study.Alternatives[i]), append(m.place, i)
		}
	}
	return m
}

// upTo simulates as many replications as there are to be, at most those of the base.
func (m *variant) upTo(ctx context.Context, n int) error {
	b := m.base
	n = min(n, b.run.Replications)
	fold := func(r int, some []*sim.Sample) error {
		m.done = r + 1
		x := slices.Clone(b.samples[r])
		for k, i := range m.place {
			x[i] = some[k]
		}
		if err := m.last.Add([]*sim.Sample{b.samples[r][len(x)-1], x[len(x)-1]}); err != nil {
			return err
		}
		return m.all.Add(append(append([]*sim.Sample{}, b.samples[r]...), x...))
	}
	if len(m.other.Alternatives) > 0 {
		return replicate.Each(ctx, &m.other, b.run.Only(m.place), m.done, n, b.opt, fold)
	}
	for r := m.done; r < n; r++ {
		if err := fold(r, nil); err != nil {
			return err
		}
	}
	return nil
}

// changed is what the change came to in the replications so far.
func (m *variant) changed() *changed {
	pair := m.last.Results()
	both := m.base.study
	both.Alternatives = append(append([]model.Alternative{}, m.base.study.Alternatives...), m.study.Alternatives...)
	return &changed{pair.Alternatives[1].Metrics, pair.Differences[1], both, m.all.Results()}
}

// beside simulates the alternatives with changes, in as many replications as the base
// has at most.
func (b *base) beside(ctx context.Context, s *scenarios.Scenario, replications int, over ...scenarios.Override) (*changed, error) {
	m, err := b.move(s, over...)
	if err != nil {
		return nil, err
	}
	if err := m.upTo(ctx, replications); err != nil {
		return nil, err
	}
	return m.changed(), nil
}
