package replicate

import (
	"context"

	"rollchange/model"
	"rollchange/sim"
)

// Shelf keeps the replications of the lines that were simulated last, so that a price
// that changes, or a line that comes back, is not simulated again. It changes no
// result. It is for one goroutine.
type Shelf struct {
	most  int         // lines
	lines []*lineKept // the last used first
	cuts  map[occasion]float64
}

// lineKept is what was simulated of one line.
type lineKept struct {
	print   string
	of      sim.Replication // the first
	samples []*sim.Sample   // by replication
	weights *sim.Weights    // of its controls; nil: it has none
	weighed bool            // they were looked for
}

// NewShelf keeps so many lines at most.
func NewShelf(most int) *Shelf { return &Shelf{most: most, cuts: map[occasion]float64{}} }

// line is the place of a line on the shelf, what is known of it there.
func (s *Shelf) line(first occasion) *lineKept {
	found := &lineKept{print: first.line, of: first.Replication}
	for i, l := range s.lines {
		if l.print == first.line && l.of == first.Replication {
			found = l
			s.lines = append(s.lines[:i], s.lines[i+1:]...)
			break
		}
	}
	s.lines = append([]*lineKept{found}, s.lines[:min(len(s.lines), s.most-1)]...)
	return found
}

// warmUp is the warm-up that the output of an alternative asks for, s.
func (s *Shelf) warmUp(ctx context.Context, study *model.Study, alternative int, print string) (float64, error) {
	r := study.Run
	what := occasion{print, sim.Replication{Seed: r.Seed, Number: min(mostPilots, r.Replications), Horizon: r.Horizon}}
	if cut, known := s.cuts[what]; known {
		return cut, nil
	}
	one := *study
	one.Alternatives = study.Alternatives[alternative : alternative+1]
	cut, err := autoWarmUp(ctx, &one)
	if err != nil {
		return 0, err
	}
	if len(s.cuts) >= s.most {
		clear(s.cuts)
	}
	s.cuts[what] = cut
	return cut, nil
}
