package plan

import (
	"context"
	"fmt"
	"math"
	"sync"
	"time"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// Answer is when the orders of a list are made.
type Answer struct {
	Orders       []model.Order // of the list, as listed; their products are those of the first alternative
	Products     []string
	Begin        time.Time // of the list, on the clock of the plant; zero when not given
	Replications int
	Seed         uint64
	Horizon      float64 // s, that no replication is longer than
	Confidence   float64
	Alternatives []Alternative
}

// Alternative is what one of them makes of the list.
type Alternative struct {
	Name   string
	Causes []string // of stopped time, in the order of Order.Stopped
	Orders []Order  // as listed

	Done      Times             // s, the last order ends; of the replications that came to the end of the list
	OnTime    estimate.Estimate // orders that are not late, of those with a due time
	Late      estimate.Estimate // s, by how much orders are late, added up
	Change    estimate.Estimate // s, of changeovers, added up
	Unended   float64           // share of replications that the horizon ended
	SoonerBy  estimate.Estimate // s, by which it is done before the first alternative
	MoreTimed estimate.Estimate // orders on time beyond those of the first
	LessLate  estimate.Estimate // s, less late than with the first
}

// Times is a time over the replications, s.
type Times struct {
	Mean, Low, High float64 // the mean, and what 5 % and 95 % of the replications are below
}

// Order is what an alternative makes of one order: means over the replications in which
// it ended.
type Order struct {
	Line       int // that makes it, from 1; 0: not the same one in every replication
	Begin, End Times
	Late       estimate.Estimate // chance that it ends after it is due; of N 0 without a due time
	LateBy     float64           // s, in the mean, 0 where it is in time
	Ended      float64           // share of replications in which it did

	Running, Ramping, Slowed   float64   // s
	Stopped                    []float64 // s, by cause, from the end of the order before
	Good, Scrap, Residual      float64   // m
	FinishedRolls, RollChanges float64
	Tape                       float64 // m
}

// Of runs the list of a study. progress is told how many replications are done, and
// may be nil.
func Of(ctx context.Context, study *model.Study, workers int, progress func(done, total int)) (*Answer, error) {
	a, err := asked(study)
	if err != nil {
		return nil, err
	}
	r := &study.Run
	all := make([]gather, len(study.Alternatives))
	for i := range all {
		all[i].start(&study.Alternatives[i].Line, r.Replications)
	}
	fold := folder{alternatives: all, kept: map[int]*run{}, progress: progress, total: len(all) * r.Replications}
	fold.moves.L = &fold.lock
	defer context.AfterFunc(ctx, fold.wake)()
	errs := make([]error, len(all)*r.Replications)
	err = replicate.Spread(ctx, workers, len(errs), func(i int) {
		k := i % len(all)
		fold.await(ctx, i)
		x, err := once(ctx, &study.Alternatives[k].Line, sim.Replication{Seed: r.Seed, Number: i / len(all), Horizon: r.Horizon})
		errs[i] = err
		fold.add(i, x)
	})
	if err != nil {
		return nil, err
	}
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("alternative %q, replication %d: %w", study.Alternatives[i%len(all)].Name, i/len(all)+1, err)
		}
	}
	a.put(study, all)
	return a, nil
}

// asked is the answer to a study as far as nothing has to be simulated for it.
func asked(study *model.Study) (*Answer, error) {
	r := &study.Run
	first := &study.Alternatives[0].Line
	if first.Orders == nil || len(first.Orders.List) == 0 {
		return nil, fmt.Errorf("the scenario has no list of orders: [orders] needs a file or a list")
	}
	if first.Orders.Repeat {
		return nil, fmt.Errorf("the list of orders is repeated without end: a plan needs repeat = false")
	}
	a := &Answer{Orders: first.Orders.List, Begin: first.Orders.Begin, Replications: r.Replications, Seed: r.Seed, Horizon: r.Horizon, Confidence: r.Confidence}
	for i := range first.Products {
		a.Products = append(a.Products, first.Products[i].Name)
	}
	return a, nil
}

// put writes what was gathered of each alternative into the answer.
func (a *Answer) put(study *model.Study, all []gather) {
	for i := range all {
		a.Alternatives = append(a.Alternatives, all[i].result(study.Alternatives[i].Name, a.Confidence))
	}
	for i := range a.Alternatives {
		compare(&a.Alternatives[i], &all[i], &all[0], a.Confidence)
	}
}

// run is one replication of one alternative: its orders in the order of the list,
// with End 0 of one that did not end.
type run struct{ orders []sim.OrderRun }

func once(ctx context.Context, line *model.Line, r sim.Replication) (run, error) {
	x := run{make([]sim.OrderRun, len(line.Orders.List))}
	err := sim.RunOrders(ctx, line, r, func(o *sim.OrderRun) { x.orders[o.Order] = *o })
	return x, err
}

// folder takes replications in their order, whatever order they end in: sums of
// figures are then the same with any number of workers.
type folder struct {
	alternatives []gather
	lock         sync.Mutex
	kept         map[int]*run // done, and waiting for one before
	next, total  int
	moves        sync.Cond // next has moved on
	progress     func(done, total int)
}

// mostAhead is how many replications may be kept for one that is not there yet: a worker
// that the machine holds up would else have the others fill the memory.
const mostAhead = 4

// await waits until a replication is near to the next one. All before it have begun, or
// will never: a worker that finds ctx ended begins none, so nobody waits then.
func (f *folder) await(ctx context.Context, i int) {
	f.lock.Lock()
	defer f.lock.Unlock()
	for i > f.next+mostAhead && ctx.Err() == nil {
		f.moves.Wait()
	}
}

// wake has those that wait look again.
func (f *folder) wake() {
	f.lock.Lock()
	defer f.lock.Unlock()
	f.moves.Broadcast()
}

func (f *folder) add(i int, x run) {
	f.lock.Lock()
	defer f.lock.Unlock()
	f.kept[i] = &x
	for ; f.kept[f.next] != nil; f.next++ {
		f.alternatives[f.next%len(f.alternatives)].add(f.kept[f.next])
		delete(f.kept, f.next)
		if f.progress != nil {
			f.progress(f.next+1, f.total)
		}
	}
	f.moves.Broadcast()
}

// gather adds up what an alternative makes of the list.
type gather struct {
	line   *model.Line
	orders []sums
	done   []float64 // s, by replication; NaN: not done
	timely []float64 // orders on time
	late   []float64 // s
	change []float64 // s
	causes []string
	hold   int // the changeover
}

// sums are those of one order.
type sums struct {
	Order
	begins, ends []float64
	lates        float64
}

func (g *gather) start(line *model.Line, replications int) {
	g.line, g.orders = line, make([]sums, len(line.Orders.List))
	g.causes = sim.CausesOfStops(line)
	g.hold = changeoverOf(g.causes)
	times := make([]float64, 2*replications*len(g.orders))
	for i := range g.orders {
		at := 2 * replications * i
		g.orders[i].begins = times[at : at : at+replications]
		g.orders[i].ends = times[at+replications : at+replications : at+2*replications]
		g.orders[i].Stopped = make([]float64, len(g.causes))
	}
}

func (g *gather) add(x *run) {
	done, timely, late, change := 0.0, 0.0, 0.0, 0.0
	for i := range x.orders {
		o, s := &x.orders[i], &g.orders[i]
		due := g.line.Orders.List[i].Due
		if o.End == 0 {
			done = math.NaN()
			continue
		}
		done = math.Max(done, o.End) // NaN stays
		if s.Line == 0 && len(s.ends) == 0 {
			s.Line = o.Line + 1
		} else if s.Line != o.Line+1 {
			s.Line = 0
		}
		s.begins, s.ends = append(s.begins, o.Begin), append(s.ends, o.End)
		switch {
		case math.IsInf(due, 1):
		case o.End > due:
			s.lates++
			s.LateBy += o.End - due
			late += o.End - due
		default:
			timely++
		}
		s.Running += o.Running
		s.Ramping += o.Ramping
		s.Slowed += o.Slowed
		for h, t := range o.StoppedBy {
			s.Stopped[h] += t
		}
		change += o.StoppedBy[g.hold]
		s.Good += o.Good
		s.Scrap += o.Scrap
		s.Residual += o.Residual
		s.FinishedRolls += o.FinishedRolls
		s.RollChanges += o.RollChanges
		s.Tape += o.RollChanges * g.line.Products[o.Product].Line.Unwind.TapePerSplice
	}
	g.done, g.timely, g.late, g.change = append(g.done, done), append(g.timely, timely), append(g.late, late), append(g.change, change)
}
