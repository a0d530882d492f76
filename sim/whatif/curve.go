package whatif

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// curve is the chance that a storage runs out against its capacity, reckoned from
// the recorded changes of one simulated capacity (sim.Cycles). The estimates are of
// the same kind and from the same replications as the metrics of a run.
type curve struct {
	of         *Trial
	line       model.Line // as simulated
	other      model.Line // the same with another capacity: levels move in proportion
	which      int
	names      [2]string // metrics of all changes, and of those that do not fail
	unseen     [2]float64
	confidence float64
	cycles     [][]*sim.Cycles // by replication; nil: what was simulated came from a store, without
	condensed  bool            // they are told by fewer
	known      map[float64]*Trial
	told       *told
	part       *curve // of the first of them, which tells nearly the same
}

// curved is what a search keeps of every value that it simulates.
type curved struct{ which int }

// run simulates a study; where the changes are recorded it returns those of each
// replication of the last alternative.
func (q *search) run(ctx context.Context, study *model.Study) (*replicate.Results, [][]*sim.Cycles, error) {
	opt := q.opt
	if err := q.own.prepare(ctx, &q.s.Study); err != nil {
		return nil, nil, err
	}
	opt.Like = &q.own.run
	if q.records == nil {
		res, err := replicate.Simulate(ctx, study, opt)
		return res, nil, err
	}
	run, err := replicate.PrepareLike(ctx, study, opt.Like)
	if err != nil {
		return nil, nil, err
	}
	opt.Cycles, opt.Stored = true, true
	g := replicate.NewGathering(run, replicate.OutlinesOf(study))
	var cycles [][]*sim.Cycles
	whole := true
	err = replicate.Each(ctx, study, run, 0, run.Replications, opt, func(_ int, x []*sim.Sample) error {
		c := x[len(x)-1].Cycles[q.records.which]
		cycles, whole = append(cycles, c), whole && c != nil
		return g.Add(x)
	})
	if err != nil {
		return nil, nil, err
	}
	if !whole {
		cycles = nil
	}
	return g.Results(), cycles, nil
}

// storageOf is the storage of the unwind, 0, or the rewind, 1.
func storageOf(l *model.Line, which int) *model.Storage {
	if which == 1 {
		return &l.Rewind.Storage
	}
	return &l.Unwind.Storage
}

// curveOf is the curve of a simulated capacity.
func (q *search) curveOf(t *Trial, study *model.Study, run replicate.RunInfo, cycles [][]*sim.Cycles) *curve {
	which := q.records.which
	c := &curve{of: t, line: study.Alternatives[len(study.Alternatives)-1].Line, which: which, confidence: study.Run.Confidence, cycles: cycles, known: map[float64]*Trial{}}
	c.told = q.toldOf(&c.line, run)
	c.other = c.line
	for _, factor := range []float64{1.01, 1.1, 2, 0.99, 0.9} {
		if s, err := q.s.Again(q.over(factor * t.X)...); err == nil {
			c.other = s.Study.Alternatives[len(s.Study.Alternatives)-1].Line
			break
		}
	}
	c.names = [2]string{metric.Depletion, metric.DepletionNotFailed}
	if which == 1 {
		c.names = [2]string{metric.Overfill, metric.OverfillNotFailed}
	}
	for _, g := range sim.GaugesOf(&c.line) {
		for i, name := range c.names {
			if g.Name == name {
				c.unseen[i] = g.Unseen
			}
		}
	}
	return c
}

// lineAt is the line with another capacity.
func (c *curve) lineAt(x float64) *model.Line {
	l := c.line
	a, b, to := *storageOf(&c.line, c.which), storageOf(&c.other, c.which), storageOf(&l, c.which)
	if b.Capacity == a.Capacity {
		return &l
	}
	f := (x - a.Capacity) / (b.Capacity - a.Capacity)
	at := func(p, q float64) float64 { return p + f*(q-p) }
	to.Capacity, to.RunLevel, to.Reserve, to.SlowLevel = x, at(a.RunLevel, b.RunLevel), at(a.Reserve, b.Reserve), at(a.SlowLevel, b.SlowLevel)
	return &l
}

// at is what the recorded changes say of the line with another capacity. It has the
// metrics that hang on it; how often a roll is changed is as it was.
func (c *curve) at(x float64) *Trial {
	if t := c.known[x]; t != nil {
		return t
	}
	t := &Trial{X: x, Possible: true, Metrics: maps.Clone(c.of.Metrics), Replications: c.of.Replications, Events: c.of.Events}
	for m, e := range c.estimates(x) {
		if delete(t.Metrics, c.names[m]); !math.IsNaN(e.Mean) {
			t.Metrics[c.names[m]] = e
		}
	}
	c.known[x] = t
	return t
}

// reckoned are the estimates of the two metrics with another capacity.
func (c *curve) reckoned(line *model.Line) (list [2]estimate.Estimate) {
	k := sim.ReckoningOf(&c.line, c.which)
	c.condense(k)
	var figures [2][]estimate.Figure
	for i, cycles := range c.cycles {
		var f [2]estimate.Figure
		f[0], f[1] = k.At(line, cycles)
		for m := range figures {
			if g := i % replicate.Groups; g == len(figures[m]) {
				figures[m] = append(figures[m], f[m])
			} else {
				figures[m][g].Add(f[m])
			}
		}
	}
	for m := range list {
		list[m] = estimate.Share(figures[m], len(c.cycles), c.unseen[m], c.confidence)
		list[m].Unit = "1"
	}
	return list
}

// condense tells the changes by fewer, once.
func (c *curve) condense(k *sim.Reckoning) {
	if c.condensed {
		return
	}
	all := make([][]*sim.Cycles, len(c.cycles)) // a memory has those that were recorded
	for i, lines := range c.cycles {
		for _, x := range lines {
			all[i] = append(all[i], k.Condensed(x))
		}
	}
	c.cycles, c.condensed = all, true
}

// excess is how far a trial is above a bound, on the estimate (side 0) or an end of
// its interval, as a logarithm: below or at 0 where it holds.
func excess(t *Trial, b Bound, side float64) float64 {
	const most = 50
	ok := holds(b, side)(t)
	if !t.Possible {
		return most
	}
	e, known := b.Of(t.Metrics)
	if !known {
		return -most
	}
	y := portable.Log(e.End(side) / b.Most)
	switch {
	case math.IsNaN(y):
		y = -most
	case ok:
		y = min(0, y)
	default:
		y = max(1e-12, y)
	}
	return max(-most, min(most, y))
}

// rootWithin is how near a root is found, relative: a twentieth of what an answer is.
const rootWithin = exact / 20

// root is where a bound begins to hold, near from: above from where it does not hold
// there, else below. NaN where that is not between low and high.
func (c *curve) root(b Bound, side, from, low, high float64) float64 {
	f := func(x float64) float64 { return excess(c.at(x), b, side) }
	if few := c.few(); side == 0 && few != c {
		from = or(few.root(b, side, from, low, high), from)
	}
	x := max(low, min(high, from))
	y := f(x)
	good := y <= 0
	for step := 1.02; ; step = min(2, step*step) {
		next := min(high, x*step)
		if good {
			next = max(low, x/step)
		}
		if next == x {
			return math.NaN()
		}
		z := f(next)
		if (z <= 0) != good {
			if y == 0 {
				y = -1e-12
			}
			if z == 0 {
				z = -1e-12
			}
			p := newITP(x, next, y, z, rootWithin*x)
			for !p.done() {
				at := p.next()
				v := f(at)
				if v == 0 {
					v = -1e-12
				}
				p.put(at, v)
			}
			if p.fa <= 0 { // where the chance rises with the capacity
				return p.a
			}
			return p.b
		}
		x, y = next, z
	}
}

// leastFew is how many replications, and fewOf which share of all, tell about where to look.
const leastFew, fewOf = 10, 1. / 8

// fewReplications are the first few of so many, or all where these are not far more.
func fewReplications(all int) int {
	if n := max(leastFew, int(fewOf*float64(all))); n <= all/2 {
		return n
	}
	return all
}

// few is the curve of the first few replications, where they are far less than all.
func (c *curve) few() *curve {
	n := fewReplications(c.told.run.Replications)
	if n == c.told.run.Replications {
		return c
	}
	if c.part == nil {
		part, told := *c, *c.told
		told.run.Replications = n
		part.told, part.known = &told, map[float64]*Trial{}
		if c.cycles != nil {
			c.condense(sim.ReckoningOf(&c.line, c.which))
			part.condensed = true
			part.cycles = c.cycles[:n]
		}
		c.part = &part
	}
	return c.part
}

// crossings are where a function of the capacity changes its sign between low and high.
func crossings(f func(x float64) float64, low, high float64) (list []float64) {
	const step = 1.1
	for x, y := low, f(low); x < high; {
		next := min(high, x*step)
		z := f(next)
		if (y > 0) != (z > 0) {
			p := newITP(x, next, y, z, 1e-6*x)
			for !p.done() {
				at := p.next()
				p.put(at, f(at))
			}
			list = append(list, (p.a+p.b)/2)
		}
		x, y = next, z
	}
	return list
}

// CurvePoint is the chance that a storage runs out, of the changes, at one capacity.
type CurvePoint struct {
	X         float64 // m
	Chance    estimate.Estimate
	Simulated bool // else reckoned from the changes recorded at the answer
}

// How far about an answer, as a share of it, and at how many places its curve is told:
// as far as the tests hold it to simulation.
const (
	curveReach  = 0.1
	curvePlaces = 20
)

// curveAbout is the curve about an answer, with all that was simulated.
func curveAbout(t *Trial, metric string, evidence []Trial) (list []CurvePoint) {
	for _, e := range evidence {
		if e.Possible {
			list = append(list, CurvePoint{e.X, e.Metrics[metric], true})
		}
	}
	for i := range curvePlaces + 1 {
		x := t.X * (1 - curveReach + 2*curveReach*float64(i)/curvePlaces)
		if !slices.ContainsFunc(list, func(p CurvePoint) bool { return math.Abs(p.X-x) < 1e-6*x }) {
			list = append(list, CurvePoint{x, t.curve.at(x).Metrics[metric], false})
		}
	}
	slices.SortFunc(list, func(a, b CurvePoint) int { return cmp.Compare(a.X, b.X) })
	return list
}

// again are capacities above the answer from which on the bound does not hold any
// more, or holds anew: where the records say so and a simulation between them too.
func (z *sizing) again(t *Trial) ([]float64, error) {
	var list []float64
	for _, c := range []*curve{t.curve.few(), t.curve} { // few replications mostly tell that there are none
		if list = crossings(func(x float64) float64 { return excess(c.at(x), z.bound, 0) }, 1.01*t.X, z.Most); len(list) == 0 {
			return nil, nil
		}
	}
	end := z.Most
	if len(list) > 1 {
		end = list[1]
	}
	mid, err := z.at(math.Sqrt(list[0] * end))
	if err != nil || !mid.Possible || holds(z.bound, -1)(mid) {
		return nil, err
	}
	return list, nil
}
