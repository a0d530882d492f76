package plan

import (
	"context"
	"fmt"

	"rollchange/model"
	"rollchange/sim"
)

// Steps plan a list one replication at a time. After as many as the study asks for the
// answer is that of Of, to the last bit.
type Steps struct {
	study *model.Study
	lines []*planned
}

// Shelf keeps the replications of the lines that were planned last. It is for one
// goroutine.
type Shelf struct {
	most  int
	lines []*planned // the last used first
}

// planned is what was simulated of one line.
type planned struct {
	print   string
	seed    uint64
	horizon float64 // s
	runs    []*run
}

// NewShelf keeps so many lines at most.
func NewShelf(most int) *Shelf { return &Shelf{most: most} }

// line is the place of a line on the shelf, with what is known of it.
func (s *Shelf) line(print string, r *model.Run) *planned {
	found := &planned{print: print, seed: r.Seed, horizon: r.Horizon}
	for i, x := range s.lines {
		if x.print == found.print && x.seed == r.Seed && x.horizon == r.Horizon {
			found = x
			s.lines = append(s.lines[:i], s.lines[i+1:]...)
			break
		}
	}
	s.lines = append([]*planned{found}, s.lines[:min(len(s.lines), s.most-1)]...)
	return found
}

// NewSteps begins to plan the list of a study, with what a shelf holds of its lines, whose
// fingerprints are given (replicate.Fingerprint).
func NewSteps(study *model.Study, prints []string, shelf *Shelf) (*Steps, error) {
	if _, err := asked(study); err != nil {
		return nil, err
	}
	s := &Steps{study: study}
	for i := range study.Alternatives {
		s.lines = append(s.lines, shelf.line(prints[i], &study.Run))
	}
	return s, nil
}

// Done is how many replications there are of every alternative.
func (s *Steps) Done() int {
	n := s.study.Run.Replications
	for _, l := range s.lines {
		n = min(n, len(l.runs))
	}
	return n
}

// Step simulates the next replication of every alternative that lacks it, up to as many
// as the study asks for.
func (s *Steps) Step(ctx context.Context) error {
	k := s.Done()
	for i, l := range s.lines {
		if len(l.runs) > k || k >= s.study.Run.Replications {
			continue
		}
		a := &s.study.Alternatives[i]
		x, err := once(ctx, &a.Line, sim.Replication{Seed: s.study.Run.Seed, Number: k, Horizon: s.study.Run.Horizon})
		if err != nil {
			return fmt.Errorf("alternative %q, replication %d: %w", a.Name, k+1, err)
		}
		l.runs = append(l.runs, &x)
	}
	return nil
}

// Answer is the plan of so many of the replications, of which there are as many.
func (s *Steps) Answer(replications int) *Answer {
	a, err := asked(s.study)
	if err != nil {
		panic(err) // NewSteps has refused it
	}
	a.Replications = replications
	all := make([]gather, len(s.lines))
	for i, l := range s.lines {
		all[i].start(&s.study.Alternatives[i].Line, replications)
		for _, x := range l.runs[:replications] {
			all[i].add(x)
		}
	}
	a.put(s.study, all)
	return a
}
