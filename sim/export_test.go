package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// What tests outside of the package look at.
var CauseNames, TaskSources = causeNames, taskSources

// LogOf runs one replication of a line and returns its records.
func LogOf(t testing.TB, l model.Line, run model.Run) []Record {
	t.Helper()
	var records []Record
	require.NoError(t, Trace(context.Background(), &l, run, 0, run.Horizon, func(r *Record) { records = append(records, *r) }))
	return records
}

// OffOf is how many changes are not as they are reckoned from their record, and of
// how many.
func OffOf(c *Cycles) (off, all float64) {
	for i := range c.list {
		if x := &c.list[i]; x.off != (parts{}) {
			off += x.n
		}
	}
	return off, c.made
}

// Recorded is how many changes are kept one by one.
func Recorded(c *Cycles) int { return len(c.list) }

// Ledger is what a run with orders came to, by line.
type Ledger struct {
	End, Returned, Stock float64 // s; m in all that went to stock, and is there
	Reused               float64 // rolls
	Lines                []LineLedger
}

// LineLedger is what a line came to, and the sums over its products.
type LineLedger struct {
	Over                                   bool // its orders are done
	Stuck                                  bool // it stands, and nothing is ever to come
	Time, Processed, Good, Scrap, Residual float64
	Finished, Changes                      float64
	Mounted, Returned, Unwound             float64 // m, of rolls that are over
	Of                                     [7]float64
	Products                               [][7]float64 // time, processed, good, scrap, residual, finished rolls, roll changes
}

// LedgerOf runs one replication of a line with orders.
func LedgerOf(spec *model.Line, r Replication, sink func(*OrderRun), watch func(State) error) (Ledger, error) {
	s := newRunOf(spec, streams{seed: r.Seed, replication: r.Number}, r.Horizon, r.WarmUp, nil)
	s.orders, s.watch = sink, watch
	if err := s.simulate(context.Background()); err != nil {
		return Ledger{}, err
	}
	x := Ledger{End: s.now}
	for _, rolls := range s.stock {
		for _, m := range rolls {
			x.Stock += m
		}
	}
	for i := range s.lines {
		l := &s.lines[i]
		t := l.tally.since(&l.warm)
		scrap, good := l.scrap.until(l.P)
		y := LineLedger{Over: l.order.over, Stuck: s.stuck(i), Mounted: l.tally.mounted.value, Returned: l.tally.returned.value, Unwound: l.side[0].from}
		lost := 0.0
		for _, m := range scrap {
			lost += m
		}
		until := s.now
		if l.order.over {
			until = l.order.mark.time
		}
		y.Of = [7]float64{until - s.warmUp, l.P - l.warm.processed, good, lost, t.residual.value, t.finished, t.side[0].made}
		for _, p := range l.order.produced(l) {
			y.Products = append(y.Products, [7]float64{p.time, p.processed, p.good, p.scrap, p.residual, p.finished, p.rolls})
		}
		y.Residual = l.tally.residual.value
		x.Returned += l.tally.returned.value
		x.Reused += l.tally.reused
		x.Lines = append(x.Lines, y)
	}
	return x, nil
}

// StandsForEver says whether a line stands at the horizon with nothing ever to come.
func StandsForEver(spec *model.Line, r Replication) (bool, error) {
	s := newRunOf(spec, streams{seed: r.Seed, replication: r.Number}, r.Horizon, 0, nil)
	if err := s.simulate(context.Background()); err != nil {
		return false, err
	}
	for i := range s.lines {
		if s.stuck(i) {
			return true, nil
		}
	}
	return false, nil
}

// stuck says whether a line that has orders left stands with nothing ever to come.
func (s *run) stuck(i int) bool {
	l, c := &s.lines[i], &s.crew
	if l.order.over || !l.resting || l.next < never || c.away > 0 {
		return false
	}
	for _, g := range s.spec.Crew.Groups { // it comes back
		if !g.Always() {
			return false
		}
	}
	for k := range c.people {
		if p := &c.people[k]; p.state == coming || p.state == working || p.state == sure || p.state == there && c.tasks[p.task].line != i {
			return false
		}
	}
	for k := range s.lines { // another may free an operator
		if s.next[k] < never && (len(c.queue) > 0 || c.groups != nil) {
			return false
		}
	}
	return true
}
