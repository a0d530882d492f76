package replicate

import (
	"context"
	"fmt"
	"slices"

	"rollchange/model"
	"rollchange/sim"
)

// Steps simulates a study one replication at a time, so that whoever asks may look at
// what there is so far, and stop. After as many as the study asks for, and after any
// number from ten on, the results are those of Simulate of so many, to the last bit.
type Steps struct {
	study    *model.Study
	run      RunInfo
	outlines []Outline
	prepared []*sim.Prepared
	lines    []*lineKept
	results  *Results // of as many as there were; nil: not asked for yet
}

// NewSteps begins a study with what a shelf holds of its lines.
func NewSteps(ctx context.Context, study *model.Study, shelf *Shelf) (*Steps, error) {
	run, err := settled(study)
	if err != nil {
		return nil, err
	}
	s := &Steps{study: study, run: run, outlines: OutlinesOf(study)}
	for i := range study.Alternatives {
		line := &study.Alternatives[i].Line
		print := Fingerprint(*line)
		if run.WarmUpFound {
			cut, err := shelf.warmUp(ctx, study, i, print)
			if err != nil {
				return nil, err
			}
			s.run.WarmUp = max(s.run.WarmUp, cut)
		}
		s.prepared = append(s.prepared, sim.Prepare(line))
		s.lines = append(s.lines, &lineKept{print: print})
	}
	for i, l := range s.lines {
		s.lines[i] = shelf.line(occasion{l.print, s.replication(0)})
	}
	return s, nil
}

// replication is the replication of a number of this study.
func (s *Steps) replication(number int) sim.Replication {
	return sim.Replication{Seed: s.run.Seed, Number: number, Horizon: s.run.Horizon, WarmUp: s.run.WarmUp}
}

// Need is how many replications the study asks for.
func (s *Steps) Need() int { return s.study.Run.Replications }

// Prints are the fingerprints of the lines, by alternative.
func (s *Steps) Prints() []string {
	var list []string
	for _, l := range s.lines {
		list = append(list, l.print)
	}
	return list
}

// Done is how many replications there are of every alternative, Need at most.
func (s *Steps) Done() int {
	n := s.Need()
	for _, l := range s.lines {
		n = min(n, len(l.samples))
	}
	if s.weighs() && n >= fewReplications && !s.weighed() {
		n = fewReplications - 1 // more are of use once the controls are known
	}
	return n
}

// Step simulates the next replication of every alternative that lacks it. It does
// nothing when there are as many as the study asks for.
func (s *Steps) Step(ctx context.Context) error {
	k := s.Done()
	if k >= s.Need() {
		return nil
	}
	for i, l := range s.lines {
		spec := &s.study.Alternatives[i].Line
		if k == fewReplications-1 && s.weighs() && !l.weighed {
			w, err := sim.Weigh(ctx, spec, s.replication(-1))
			if err != nil {
				return err
			}
			l.weights, l.weighed = w, true
		}
		if len(l.samples) > k {
			continue
		}
		x, err := s.prepared[i].Run(ctx, s.replication(k), nil)
		if err != nil {
			return fmt.Errorf("alternative %q, replication %d: %w", s.study.Alternatives[i].Name, k+1, err)
		}
		l.samples = append(l.samples, x)
	}
	return nil
}

// weighs says whether the study uses controls.
func (s *Steps) weighs() bool { return weighs(s.study) }

func (s *Steps) weighed() bool {
	return !slices.ContainsFunc(s.lines, func(l *lineKept) bool { return !l.weighed })
}

// Results turns the replications so far into estimates and paired differences. It is an
// error to ask for them before there is one. They are only read.
func (s *Steps) Results() (*Results, error) {
	n := s.Done()
	if n == 0 {
		return nil, fmt.Errorf("nothing was simulated yet")
	}
	if s.results != nil && s.results.Run.Replications == n {
		return s.results, nil
	}
	run := s.run
	if n >= fewReplications && s.weighs() {
		run.weights = weightsOf(s.lines)
	}
	g := NewGathering(run, s.outlines)
	samples := make([]*sim.Sample, len(s.lines))
	for k := range n {
		for i, l := range s.lines {
			samples[i] = l.samples[k]
		}
		if err := g.Add(run.controlled(samples)); err != nil {
			return nil, err
		}
	}
	s.results = g.Results()
	return s.results, nil
}

// weightsOf are those of all lines, nil when one has none; see settle.
func weightsOf(lines []*lineKept) []*sim.Weights {
	var list []*sim.Weights
	for _, l := range lines {
		list = append(list, l.weights)
	}
	if slices.Contains(list, nil) {
		return nil
	}
	return list
}
