package plan

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// Target is what a better sequence has less of.
type Target string

// The targets: time that orders are late, added up; time of changeovers; the end of
// the last order.
const (
	Late       Target = "late"
	Changeover Target = "changeover"
	Done       Target = "done"
)

// Targets are all of them.
func Targets() []string { return []string{string(Late), string(Changeover), string(Done)} }

// value is what a sequence comes to, in s: the target, and what decides between
// sequences that are alike in it.
type value struct{ first, then float64 }

func (v value) below(w value) bool {
	const tiny = 1e-9
	if d := v.first - w.first; math.Abs(d) > tiny*(1+math.Abs(w.first)) {
		return d < 0
	}
	return v.then < w.then-tiny*(1+math.Abs(w.then))
}

// of puts together what is known of a sequence.
func (t Target) of(late, change, done float64) value {
	switch t {
	case Late:
		return value{late, done}
	case Changeover:
		return value{change, done}
	}
	return value{done, change}
}

// inSequence is a line whose list has another sequence.
func inSequence(line *model.Line, seq []int) *model.Line {
	l, o := *line, *line.Orders
	o.List, o.Shuffled = make([]model.Order, len(seq)), false
	for place, k := range seq {
		o.List[place] = line.Orders.List[k]
	}
	l.Orders = &o
	return &l
}

// simulated is what a sequence comes to in one replication. An order that the horizon
// cuts off is as late as the horizon, and ends there.
func (t Target) simulated(ctx context.Context, line *model.Line, seq []int, r sim.Replication) (value, error) {
	l := inSequence(line, seq)
	late, change, done, ended := 0.0, 0.0, 0.0, make([]bool, len(seq))
	at := changeoverOf(sim.CausesOfStops(line))
	err := sim.RunOrders(ctx, l, r, func(o *sim.OrderRun) {
		ended[o.Order] = true
		late += math.Max(0, o.End-l.Orders.List[o.Order].Due)
		change += o.StoppedBy[at]
		done = math.Max(done, o.End)
	})
	for k, yes := range ended {
		if !yes {
			done = r.Horizon
			late += math.Max(0, r.Horizon-l.Orders.List[k].Due)
		}
	}
	return t.of(late, change, done), err
}

// changeoverOf is the place of the changeover among the causes of stopped time.
func changeoverOf(causes []string) int { return slices.Index(causes, metric.HoldChangeover) }
