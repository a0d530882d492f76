package sim

import (
	"context"
	"sync"
	"sync/atomic"

	"rollchange/model"
)

// Prepared is a line that is ready to be run: what all its replications share and takes
// as long to find as a short one. Many goroutines may run it.
type Prepared struct {
	spec     *model.Line
	gauges   []Gauge
	laws     []laws                    // of the changes out of a storage, of the line and of its products
	outfits  []int                     // of each product; 0: it is run as the line is
	patterns []atomic.Pointer[pattern] // of each line, found by the first replication
	reckons  [2]func() *Reckoning      // of the changes of the unwind and of the rewind, found when one is asked for
	kept     [2]atomic.Int64           // how many records of changes the last replication kept of a line: about as many as the next
}

// Prepare prepares a line, which is not to change any more.
func Prepare(spec *model.Line) *Prepared {
	p := prepare(spec)
	p.gauges = GaugesOf(spec)
	for which := range p.reckons {
		p.reckons[which] = sync.OnceValue(func() *Reckoning { return ReckoningOf(spec, which) })
	}
	return p
}

// prepare is Prepare of a line that is run but not measured.
func prepare(spec *model.Line) *Prepared {
	p := &Prepared{spec: spec}
	p.learn(spec)
	if spec.Orders != nil {
		p.outfits = outfitsOf(spec)
		p.patterns = make([]atomic.Pointer[pattern], max(1, spec.Crew.Lines))
		for i := range spec.Products {
			p.learn(spec.Products[i].Line)
		}
	}
	return p
}

// learn finds the laws of the changes of a line.
func (p *Prepared) learn(l *model.Line) {
	if l.Unwind.Change.Stores() {
		p.laws = append(p.laws, p.lawsOf(l.Unwind.Dwell, l.Unwind.Recover))
	}
	if l.Rewind.Change.Stores() {
		p.laws = append(p.laws, p.lawsOf(l.Rewind.Dwell, l.Rewind.Recover))
	}
}

// lawsOf are the laws of changes with such a dwell and such work by hand.
func (p *Prepared) lawsOf(dwell, hand model.Dist) laws {
	for i := range p.laws {
		if w := &p.laws[i]; w.dwell.Same(&dwell) && w.hand.Same(&hand) {
			return *w
		}
	}
	return lawsOf(dwell, hand)
}

// reckoning is one for a single run.
func (p *Prepared) reckoning(which int) *Reckoning { return p.reckons[which]().own() }

// Run runs one replication of the line and measures it by its gauges, GaugesOf the
// line. watch is called after every event, and an error of it ends the run; it may
// be nil. Run returns the error of ctx when that ends first, and an error when the
// line makes no progress or its books do not balance.
func (p *Prepared) Run(ctx context.Context, r Replication, watch func(State) error) (*Sample, error) {
	s := p.newRun(streams{seed: r.Seed, replication: r.Number, anew: r.Anew}, r.Horizon, r.WarmUp, nil)
	s.watch = watch
	if r.Cycles {
		s.recordCycles()
	}
	if err := s.simulate(ctx); err != nil {
		return nil, err
	}
	x := &Sample{Balance: s.balance(), Events: s.events, Figures: make([]figure, len(p.gauges)), excess: s.excess()}
	m := s.measure()
	for i := range p.gauges {
		x.Figures[i] = p.gauges[i].of(m)
	}
	if r.Cycles {
		x.Cycles = s.cycles()
	}
	for i := range s.lines {
		l := &s.lines[i]
		for k, h := range l.low {
			switch {
			case h == nil:
			case x.Low[k] == nil:
				x.Low[k] = h
			default:
				x.Low[k].Merge(h, false)
			}
		}
	}
	return x, nil
}
