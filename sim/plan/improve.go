package plan

import (
	"context"
	"fmt"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Proposal is a sequence of a list that is better for one alternative, as far as a
// search found one.
type Proposal struct {
	Alternative string
	Target      Target
	Sequence    []int             // places in the list, from 0
	Exact       bool              // no sequence has less of it, by mean changeovers
	Listed      estimate.Estimate // s, the target of the list as it is, on fresh chance
	Proposed    estimate.Estimate // s, that of the proposal, on the same
	Gain        estimate.Estimate // s, paired
	Tried       int               // sequences that were reckoned
	Simulated   int               // and of those, that were simulated
}

// Changed says whether the proposal is another sequence than the list.
func (p *Proposal) Changed() bool {
	for i, k := range p.Sequence {
		if i != k {
			return true
		}
	}
	return false
}

// Limits of a search.
const (
	mostTried     = 3_000_000 // steps through orders, of sequences that are reckoned
	mostSimulated = 150       // sequences
	looks         = 8         // replications of each
)

// Improve looks for a better sequence of the list of an alternative. a is the plan of
// the list as it is, from which it takes how long orders take. Orders of the names in
// keep stay at their places. What it finds is judged on chance that it was not found
// with.
func Improve(ctx context.Context, study *model.Study, a *Answer, alternative int, target Target, keep []string, workers int, progress func(done, total int)) (*Proposal, error) {
	line := &study.Alternatives[alternative].Line
	s, err := newSearch(line, &a.Alternatives[alternative], target, keep)
	if err != nil {
		return nil, err
	}
	s.ended = func() bool { return ctx.Err() != nil }
	n := len(line.Orders.List)
	listed := make([]int, n)
	for i := range listed {
		listed[i] = i
	}
	p := &Proposal{Alternative: study.Alternatives[alternative].Name, Target: target}
	if target == Changeover && s.lines == 1 && n <= mostExact {
		var least float64
		p.Sequence, least = s.leastChangeover(listed)
		if seq, v := s.best(listed, study.Run.Seed, mostTried/n); v.first <= least*(1+1e-9) { // of several, one that ends early
			p.Sequence = seq
		}
		p.Exact, p.Tried = true, s.tried
	} else {
		p.Sequence, _ = s.best(listed, study.Run.Seed, mostTried/max(1, n)*4)
		p.Tried = s.tried
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j := &judge{ctx, line, target, study.Run.Seed, study.Run.Horizon, workers}
	if !p.Exact {
		if p.Simulated, err = j.polish(p.Sequence, listed, s.places(n)); err != nil {
			return nil, err
		}
	}
	return p, j.against(p, listed, study.Run.Replications, study.Run.Confidence, progress)
}

func newSearch(line *model.Line, planned *Alternative, target Target, keep []string) (*search, error) {
	n, lines := len(line.Orders.List), max(1, line.Crew.Lines)
	s := &search{target: target, orders: line.Orders.List, takes: make([]float64, n), lines: lines, kept: make([]bool, n),
		free: make([]bool, n), until: make([]float64, lines), before: make([]int, lines)}
	for k := range s.takes {
		o := &planned.Orders[k]
		s.takes[k] = o.Running + o.Ramping + o.Slowed
		for c, t := range o.Stopped {
			if cause := planned.Causes[c]; cause != metric.HoldChangeover && cause != metric.HoldNoOrder {
				s.takes[k] += t
			}
		}
		if o.Ended == 0 {
			s.takes[k] = line.Orders.List[k].Length / line.Products[line.Orders.List[k].Product].Line.Process.Speed
		}
	}
	for from := range line.Products {
		row := make([]float64, len(line.Products))
		for to := range row {
			row[to] = line.Changeover.MeanTime(from, to)
		}
		s.change = append(s.change, row)
	}
	for _, name := range keep {
		found := false
		for k := range line.Orders.List {
			if line.Orders.List[k].Name == name {
				s.kept[k], found = true, true
			}
		}
		if !found {
			return nil, fmt.Errorf("no order %q in the list", name)
		}
	}
	return s, nil
}

// judge simulates sequences.
type judge struct {
	ctx     context.Context
	line    *model.Line
	target  Target
	seed    uint64
	horizon float64
	workers int
}

// fresh is the number of the first replication that no search has seen.
const fresh = 1 << 20

// values are those of a sequence in so many replications from a number on.
func (j *judge) values(seq []int, from, n int) ([]value, error) {
	x, errs := make([]value, n), make([]error, n)
	err := replicate.Spread(j.ctx, j.workers, n, func(i int) {
		x[i], errs[i] = j.target.simulated(j.ctx, j.line, seq, sim.Replication{Seed: j.seed, Number: from + i, Horizon: j.horizon})
	})
	for _, e := range errs {
		if err == nil {
			err = e
		}
	}
	return x, err
}

func (j *judge) mean(seq []int) (value, error) {
	x, err := j.values(seq, 0, looks)
	var m value
	for _, v := range x {
		m.first += v.first / looks
		m.then += v.then / looks
	}
	return m, err
}

// polish goes on from a sequence by simulation, with the same chance for all: what the
// means of orders do not tell, as late orders that are in time in the mean. The list
// itself stays where nothing found is better.
func (j *judge) polish(seq, listed, places []int) (simulated int, err error) {
	best, err := j.mean(seq)
	if err != nil {
		return 1, err
	}
	as, err := j.mean(listed)
	if err != nil {
		return 2, err
	}
	if simulated = 2; !best.below(as) {
		copy(seq, listed)
		best = as
	}
	try := make([]int, len(seq))
	for better := true; better; {
		better = false
		for span := 1; span < len(places); span++ {
			for from := 0; from+span < len(places); from++ {
				for _, way := range [][3]int{{from, from + span, 0}, {from, from + span, 1}, {from + span, from, 1}} {
					if simulated == mostSimulated {
						return simulated, nil
					}
					copy(try, seq)
					if way[2] == 1 && span == 1 || !move(try, places, way[0], way[1], way[2]) {
						continue
					}
					v, err := j.mean(try)
					if err != nil {
						return simulated, err
					}
					if simulated++; v.below(best) {
						best, better = v, true
						copy(seq, try)
					}
				}
			}
		}
	}
	return simulated, nil
}

// against compares the proposal with the list on fresh chance.
func (j *judge) against(p *Proposal, listed []int, n int, confidence float64, progress func(done, total int)) error {
	before, err := j.values(listed, fresh, n)
	if err != nil {
		return err
	}
	if progress != nil {
		progress(1, 2)
	}
	after, err := j.values(p.Sequence, fresh, n)
	if err != nil {
		return err
	}
	if progress != nil {
		progress(2, 2)
	}
	var x, y, d estimate.Moments
	for i := range before {
		x.Add(before[i].first)
		y.Add(after[i].first)
		d.Add(before[i].first - after[i].first)
	}
	p.Listed, p.Proposed, p.Gain = estimate.Mean(&x, confidence), estimate.Mean(&y, confidence), estimate.Difference(&d, confidence)
	if !(p.Gain.Mean > 0) && !p.Exact { // what was found does not hold on fresh chance
		copy(p.Sequence, listed)
		p.Proposed, p.Gain = p.Listed, estimate.Estimate{Why: estimate.Same}
	}
	return nil
}
