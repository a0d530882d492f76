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
	next    []float64 // of each line
	touched []int32   // lines in which something has changed
	crew    crew
	plans   bool              // stations may plan ahead: nobody looks at every event
	record  func(*Record)     // nil: no log
	watch   func(State) error // after every event of a line; may be nil
	names   []string          // of the holds, for the log
	events  int64

	prepared *Prepared // with which other replications share the line

	book   *orderBook      // nil: no list of orders
	idle   int             // lines that have nothing left to make
	over   bool            // all of them: the run ends
	stock  [][]float64     // m, part rolls of each stock
	stocks []int           // of each product
	orders func(*OrderRun) // told of each order that ends; may be nil
}

// simulate runs to the horizon. It returns the error of ctx when that ends
// first, and an error when the line makes no progress.
func (s *run) simulate(ctx context.Context) error {
	s.plans = s.record == nil && s.watch == nil
	if err := s.settled(); err != nil {
		return err
	}
	end := s.horizon
	if s.warmUp > 0 {
		end = s.warmUp
	}
	same := 0
	for n := 1; ; n++ {
		if s.crew.stale {
			s.crew.schedule()
		}
		t, who := s.crew.next, -1
		for i, next := range s.next {
			if next < t || (next == t && who < 0) {
				t, who = next, i
			}
		}
		if s.crew.waiting && t > s.now { // all else of this instant has happened
			s.crew.handOut()
			if err := s.settled(); err != nil {
				return err
			}
			continue
		}
		if s.over {
			if s.now < s.warmUp {
				return fmt.Errorf("the list of orders is done after %.6g s, before the warm-up of %.6g s is over", s.now, s.warmUp)
			}
			s.horizon = s.now
			s.stopAt(s.now)
			return s.books()
		}
		if !(t < end) {
			s.stopAt(end)
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
		if err := s.settled(); err != nil {
			return err
		}
		if n&1023 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
	}
}

// settled finds the next event of every line in which something has changed.
func (s *run) settled() error {
	for _, i := range s.touched {
		l := &s.lines[i]
		l.touched = false
		if l.stale {
			l.schedule()
		}
		s.next[i] = l.next
		if s.watch != nil {
			if err := s.watch(l.state()); err != nil {
				return err
			}
		}
	}
	s.touched = s.touched[:0]
	return nil
}

// touch brings a line to now before something changes in it.
func (s *run) touch(i int) *line {
	l := &s.lines[i]
	l.sync(s.now)
	if !l.touched {
		l.touched = true
		s.touched = append(s.touched, int32(i))
	}
	return l
}

// stopAt brings everything to the time end, without what happens at it.
func (s *run) stopAt(end float64) {
	for i := range s.lines {
		l := &s.lines[i]
		turn := l.turn
		l.turn = 0
		l.syncAll(end)
		l.turn = turn
	}
	s.crew.advance(end)
	s.now = end
}

// cutWarmUp keeps the tallies as they are at the end of the warm-up.
func (s *run) cutWarmUp() {
	for i := range s.lines {
		l := &s.lines[i]
		l.tally.processed = l.P
		l.warm = l.tally
		if l.order.on {
			l.order.cutWarmUp(l)
		}
		l.scrap.restart(l.P)
		for _, h := range l.low {
			if h != nil {
				h.clear()
			}
		}
	}
	s.crew.warmBusy = s.crew.busyTime
	if s.crew.groups != nil {
		s.crew.groups.cutWarmUp(s.now)
	}
	s.visit(func(_ int, p part) { p.src.sum, p.src.n = 0, 0 })
}

// workOf draws the time that a task will take.
func (s *run) workOf(l *line, k Task, which int) float64 {
	switch k {
	case TaskUnwindArm:
		return l.works[k].draw() + l.prepare.draw()
	case TaskRewindArm:
		core := l.works[k].draw()
		if !l.coreLoaded { // the first core has no full roll before it
			l.coreLoaded = true
			return core
		}
		return core + l.doff.draw()
	case TaskStop:
		return l.stops[which].repair.draw()
	case TaskDuty:
		return s.crew.duties[which].takes.draw()
	case TaskBreak:
		return l.breaks.repair.draw()
	case TaskChangeover:
		if l.order.on {
			return l.order.time
		}
		return l.job.changeover.draw()
	}
	return l.works[k].draw()
}
