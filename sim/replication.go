package sim

import (
	"context"

	"rollchange/model"
)

// Replication says which replication of a line is meant and how long it is; with
// the line it makes the same Sample again.
type Replication struct {
	Seed    uint64
	Number  int     // 0 is the first
	Anew    string  // a source of chance (SourcesOf) that is drawn anew, all others staying; "": none
	Horizon float64 // s
	WarmUp  float64 // s; the sample counts from here
	Cycles  bool    // the changes out of storage are kept with the sample
}

// Processed runs one replication of a line, all of it without a warm-up, and returns
// the web that its lines processed in each of so many equal periods of the horizon, m.
func Processed(ctx context.Context, spec *model.Line, r Replication, periods int) ([]float64, error) {
	s := newRunOf(spec, streams{seed: r.Seed, replication: r.Number, anew: r.Anew}, r.Horizon, 0, nil)
	x := make([]float64, periods)
	last := 0.0
	for k := range x {
		s.horizon = r.Horizon * float64(k+1) / float64(periods)
		if err := s.simulate(ctx); err != nil {
			return nil, err
		}
		sum := 0.0
		for i := range s.lines {
			sum += s.lines[i].P
		}
		x[k], last = sum-last, sum
	}
	return x, nil
}

// Trace runs one replication (0 is the first) of a line and hands every record
// of its log to sink, up to the time until (s). The records are the sink's to keep.
func Trace(ctx context.Context, spec *model.Line, run model.Run, replication int, until float64, sink func(*Record)) error {
	s := newRun(spec, run.Seed, replication, min(until, run.Horizon), 0, sink)
	return s.simulate(ctx)
}

// RunOrders runs one replication of a line with orders, until its list is done or to
// the horizon, and hands over each order when it ends.
func RunOrders(ctx context.Context, spec *model.Line, r Replication, sink func(*OrderRun)) error {
	s := newRunOf(spec, streams{seed: r.Seed, replication: r.Number, anew: r.Anew}, r.Horizon, 0, nil)
	s.orders = sink
	return s.simulate(ctx)
}
