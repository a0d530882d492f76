package sim_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync/atomic"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
)

// Laws of lines that make orders. A mix is also run as a list that is made from it: the
// order of a list tells more.

// lists counts the lists that were run, those that were done, and those on which a part
// roll was put on again, another web ran through, an order waited for its time, and an
// order of good web had scrap.
var lists struct{ run, done, reused, other, waited, good atomic.Int64 }

// rare lists what was never tried on so many lists.
func rare() (list []string) {
	n := lists.run.Load()
	for name, x := range map[string]*atomic.Int64{"done": &lists.done, "a part roll is reused": &lists.reused, "another web": &lists.other, "an order waits": &lists.waited, "good web": &lists.good} {
		if n > 50 && x.Load() == 0 {
			list = append(list, name)
		}
	}
	if n > 50 && lists.done.Load() < n/2 {
		list = append(list, fmt.Sprintf("%d of %d lists are done", lists.done.Load(), n))
	}
	return list
}

// listOf makes a list from the mix of a line: lengths and products as of the mix, some
// orders not before a time, some for one line.
func listOf(base *model.Line, seed uint64) model.Line {
	r := rand.New(rand.NewPCG(seed, 78))
	l := *base
	if len(base.Orders.List) > 0 { // it has one
		return l
	}
	o := model.Orders{Good: base.Orders.Good, Shuffled: r.Float64() < 0.3, Repeat: r.Float64() < 0.2}
	early := r.Float64() < 0.5
	for i := range 2 + r.IntN(9) {
		x := model.Order{Name: fmt.Sprint(i), Product: r.IntN(len(l.Products)), Due: model.NotDue}
		p := &l.Products[x.Product]
		x.Length = max(1e-3, p.OrderLength.Quantile(r.Float64()))
		if r.Float64() < 0.05 {
			x.Length *= 1e-3
		}
		if early && r.Float64() < 0.4 {
			x.Earliest = r.Float64() * 6 * p.OrderLength.Mean() / p.Line.Process.Speed
		}
		if r.Float64() < 0.2 {
			x.Line = 1 + r.IntN(max(1, l.Crew.Lines))
		}
		o.List = append(o.List, x)
	}
	l.Orders = &o
	return l
}

// ordersHold: the laws of a list, on one replication of each alternative to its end.
func ordersHold(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil || study.Alternatives[0].Line.Orders == nil {
		return nil
	}
	for i := range study.Alternatives {
		l := listOf(&study.Alternatives[i].Line, s.Seed+uint64(i))
		r := sim.Replication{Seed: study.Run.Seed, Horizon: study.Run.Horizon}
		if !l.Orders.Repeat {
			for _, o := range l.Orders.List {
				r.Horizon += o.Earliest
			}
			r.Horizon += 20 * l.Timely()
		}
		most := 20 * mostEvents(study) * int64(1+r.Horizon/study.Run.Horizon)
		var runs []sim.OrderRun
		ledger, err := sim.LedgerOf(&l, r, func(o *sim.OrderRun) { runs = append(runs, *o) }, func(x sim.State) error {
			if x.Events > most {
				return breaks("events without end", "%d events by %g s", x.Events, x.Time)
			}
			return nil
		})
		if err != nil {
			return fmt.Errorf("a list: %w", err)
		}
		if err := listHolds(&l, runs, &ledger); err != nil {
			return err
		}
		// The mix itself, with a warm-up.
		r = sim.Replication{Seed: study.Run.Seed, Horizon: study.Run.Horizon, WarmUp: study.Run.WarmUp}
		ledger, err = sim.LedgerOf(&study.Alternatives[i].Line, r, nil, nil)
		if err != nil {
			return err
		}
		if err := sumsHold(&ledger); err != nil {
			return err
		}
	}
	return nil
}

// listHolds says whether a list was run as it must be.
func listHolds(l *model.Line, runs []sim.OrderRun, ledger *sim.Ledger) error {
	if err := sumsHold(ledger); err != nil {
		return err
	}
	over := true
	for i := range ledger.Lines {
		over = over && ledger.Lines[i].Over
	}
	if lists.run.Add(1); over {
		lists.done.Add(1)
	}
	count := func(x *atomic.Int64, happened bool) {
		if happened {
			x.Add(1)
		}
	}
	count(&lists.reused, ledger.Reused > 0)
	times := make([]int, len(l.Orders.List))
	last := make([]*sim.OrderRun, len(ledger.Lines))
	for k := range runs {
		r := &runs[k]
		o := &l.Orders.List[r.Order]
		times[r.Order]++
		near := 1e-6 + 1e-12*r.End
		if r.Product != o.Product || o.Line > 0 && r.Line != o.Line-1 {
			return breaks("an order is run as another product, or on another line", "%+v as %+v", *o, *r)
		}
		from := 0.0
		if last[r.Line] != nil {
			from = last[r.Line].End
		}
		if r.From != from {
			return breaks("a gap between two orders of a line", "from %.9g s, %.9g s", from, r.From)
		}
		if !(r.Begin >= r.From-near && r.End >= r.Begin-near && r.Begin >= o.Earliest) {
			return breaks("an order begins before it may", "%+v as %+v", *o, *r)
		}
		sum := r.Running + r.Ramping + r.Slowed
		for _, x := range r.StoppedBy {
			if x < -near {
				return breaks("an order stood for less than no time", "%g s", x)
			}
			sum += x
		}
		if math.Abs(sum-(r.End-r.From)) > near {
			return breaks("seconds of an order without a cause", "%g s of %g s", sum, r.End-r.From)
		}
		count(&lists.other, last[r.Line] != nil && !l.Products[last[r.Line].Product].SameStock(&l.Products[o.Product]))
		count(&lists.waited, o.Earliest > 0 && r.Begin == o.Earliest)
		count(&lists.good, l.Orders.Good && r.Scrap > 0)
		if err := lengthHolds(l, o, r, last[r.Line]); err != nil {
			return err
		}
		last[r.Line] = r
	}
	for i, n := range times {
		switch {
		case l.Orders.Repeat:
			if len(ledger.Lines) == 1 && (n > times[0]+1 || n < times[0]-1) {
				return breaks("an order of a list that is repeated is run more often than others", "%d times, %d times", n, times[0])
			}
		case n > 1 || over && n == 0:
			return breaks("an order is run twice, or not at all", "order %d, %d times", i, n)
		}
	}
	if l.Orders.Repeat && over && len(ledger.Lines) == 1 {
		return breaks("a list that is repeated comes to an end", "at %g s", ledger.End)
	}
	return nil
}

// lengthHolds: an order has its length, after the old web that ran through before it. A
// stop ends within a millimetre of where it should.
func lengthHolds(l *model.Line, o *model.Order, r, before *sim.OrderRun) error {
	p := l.Products[o.Product].Line
	near := model.LeastLength + 1e-6 + 1e-11*(r.Good+r.Scrap) + 3*clock(l, r.End)
	first := before == nil && o.Earliest == 0 && o.Length < p.Process.Speed*p.Process.Speed/(2*p.Process.Decel)+near
	if w := &p.Rewind; l.Rewind.EndWithOrder && w.Change != model.None && w.MaxSplices < 0 && w.MinLength == 0 && r.FinishedRolls < 1 && r.Good+r.Scrap > 2*near {
		return breaks("an order ends without a finished roll", "%g m", r.Good+r.Scrap)
	}
	if l.Orders.Good {
		if r.Good < o.Length-near || r.Good > o.Length+near && !first {
			return breaks("an order has not its good web", "%.9g m of %.9g m", r.Good, o.Length)
		}
		return nil
	}
	lead := 0.0
	if before != nil && !l.Products[before.Product].SameStock(&l.Products[o.Product]) {
		if lead = p.Process.Path; p.Unwind.Change.Stores() {
			lead += l.Unwind.Storage.RunLevel
		}
	}
	if web := r.Good + r.Scrap - o.Length; l.Unwind.SpliceIn && l.Unwind.Change != model.Manual && web >= -near && web <= lead+near {
		return nil // the other web was spliced in early, as far as the roll before it had run
	}
	if x := r.Good + r.Scrap - lead - o.Length; (x < -near || x > near) && !(first && x > 0) {
		return breaks("the web of an order is not its length", "%.9g m and %.9g m of old web for %.9g m", r.Good+r.Scrap, lead, o.Length)
	}
	return nil
}

var parts = [7]string{"time", "processed web", "good web", "scrap", "residual", "finished rolls", "roll changes"}

// sumsHold: what the products came to is what the lines came to, and rolls put on are
// what was unwound, left and taken back.
func sumsHold(x *sim.Ledger) error {
	for i := range x.Lines {
		y := &x.Lines[i]
		if y.Stuck {
			return breaks("a line stands for ever", "at %g s", x.End)
		}
		var sum [7]float64
		for _, p := range y.Products {
			for k, v := range p {
				sum[k] += v
				if v < -1e-6-1e-11*y.Of[1] {
					return breaks("a product has less than no "+parts[k], "%g", v)
				}
			}
		}
		for k := range sum {
			if d := sum[k] - y.Of[k]; math.Abs(d) > 1e-6+1e-11*(y.Of[1]+x.End) {
				return breaks("the sums over products miss "+parts[k], "%.12g of %.12g", sum[k], y.Of[k])
			}
		}
		if d := y.Mounted - y.Unwound - y.Residual - y.Returned; math.Abs(d) > 1e-6+1e-12*y.Mounted {
			return breaks("rolls put on are not what was unwound, left and taken back", "%g m", d)
		}
	}
	if x.Stock > x.Returned+1e-6 || x.Reused == 0 && x.Stock > 0 && math.Abs(x.Stock-x.Returned) > 1e-6+1e-12*x.Returned {
		return breaks("part rolls in stock are not those that went there", "%g m of %g m", x.Stock, x.Returned)
	}
	return nil
}
