package sim

import (
	"context"
	"fmt"

	"rollchange/model"
)

// run is one replication of one alternative: its lines, their crew, the clock.
type run struct {
	spec    *model.Line
	now     float64
	warmUp  float64
	horizon float64
	lines   []line
	crew    crew
	record  func(*Record)     // nil: no log
	watch   func(State) error // after every event of a line; may be nil
	names   []string          // of the holds, for the log
	events  int64
}

// simulate runs to the horizon. It returns the error of ctx when that ends
// first, and an error when the line makes no progress.
func (s *run) simulate(ctx context.Context) error {
	end := s.horizon
	if s.warmUp > 0 {
		end = s.warmUp
	}
	same := 0
	for n := 1; ; n++ {
		t, who := s.crew.next, -1
		for i := range s.lines {
			if next := s.lines[i].next; next < t || (next == t && who < 0) {
				t, who = next, i
			}
		}
		if s.crew.waiting && t > s.now { // all else of this instant has happened
			s.crew.handOut()
			continue
		}
		if !(t < end) {
			for i := range s.lines {
				s.lines[i].advance(end)
			}
			s.crew.advance(end)
			s.now = end
			if end == s.horizon {
				return s.books()
			}
			s.cutWarmUp()
			end = s.horizon
			continue
		}
		if t > s.now {
			s.crew.advance(t)
			s.now, same = t, 0
		} else if same++; same > 100000 {
			return fmt.Errorf("the line makes no progress at %.6g s: a roll, an order or a stop takes no time and no web", t)
		}
		s.events++
		if who >= 0 {
			s.touch(who).fire()
		} else {
			s.crew.fire()
		}
		for i := range s.lines {
			if l := &s.lines[i]; l.touched {
				l.touched = false
				l.settle()
				if s.watch != nil {
					if err := s.watch(l.state()); err != nil {
						return err
					}
				}
			}
		}
		if n&1023 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
	}
}

// touch brings a line to now before something changes in it.
func (s *run) touch(i int) *line {
	l := &s.lines[i]
	l.advance(s.now)
	l.now = s.now
	l.touched = true
	return l
}

// cutWarmUp keeps the tallies as they are at the end of the warm-up.
func (s *run) cutWarmUp() {
	for i := range s.lines {
		l := &s.lines[i]
		l.tally.processed = l.P
		l.warm = l.tally
		l.scrap.restart(l.P)
		for _, h := range l.low {
			if h != nil {
				h.clear()
			}
		}
	}
	s.crew.warmBusy = s.crew.busyTime
}

// workOf draws the time that a task will take.
func (s *run) workOf(l *line, k taskKind, which int) float64 {
	switch k {
	case taskUnwindArm:
		return l.works[k].draw() + l.prepare.draw()
	case taskRewindArm:
		core := l.works[k].draw()
		if !l.coreLoaded { // the first core has no full roll before it
			l.coreLoaded = true
			return core
		}
		return core + l.doff.draw()
	case taskStop:
		return l.stops[which].repair.draw()
	case taskDuty:
		return s.crew.duties[which].takes.draw()
	case taskBreak:
		return l.breaks.repair.draw()
	case taskChangeover:
		return l.job.changeover.draw()
	}
	return l.works[k].draw()
}
