package whatif

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"strconv"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// search simulates one alternative with one key changed, each value once.
//
// The values are found by bracketing. Under common random numbers the n-th dwell,
// walk and web break are the same at every value, so a metric moves smoothly and in
// one direction with the key, as the storage's risk falls with its capacity, but for
// what late rolls and other rare events that are only counted add.
type search struct {
	ctx      context.Context
	s        *scenarios.Scenario
	opt      replicate.Options
	key      string
	text     func(x float64) string
	trials   map[float64]*Trial
	progress func(Progress)
	records  *curved            // the changes of every value are recorded, for its curve; nil: they are not
	against  *model.Alternative // every value is simulated beside this, on the same chance; may be nil

	own          *ownRun
	replications int // of each value; 0: those of the scenario
	most         int // replications that a rare target may take; 0: what so many events allow
	done         *int
	values       *int    // that there will be at most; 0: not known
	less         *search // with fewer replications, which this goes on from: the value is not counted again; may be nil
}

// newSearch keeps the one alternative of s, whose key is changed.
func newSearch(ctx context.Context, s *scenarios.Scenario, opt Options, key, unit string) *search {
	q := &search{ctx: ctx, s: s, key: key, trials: map[float64]*Trial{}, progress: opt.Progress, most: opt.Most, own: &ownRun{}, done: new(int), values: new(int)}
	q.opt = replicate.Options{Workers: opt.Workers, Progress: q.tell}
	q.text = func(x float64) string { return strconv.FormatFloat(x, 'g', 10, 64) + " " + unit }
	if unit == "" {
		q.text = func(x float64) string { return strconv.Itoa(int(math.Round(x))) }
	}
	return q
}

// ownRun is how the scenario itself is run: all values share what is found for it.
type ownRun struct {
	run   replicate.RunInfo
	known bool
}

func (o *ownRun) prepare(ctx context.Context, study *model.Study) (err error) {
	if !o.known && !study.Run.WarmUpAuto { // which each value has its own of
		o.run, err = replicate.Prepare(ctx, study)
		o.known = err == nil
	}
	return err
}

// Options are what a search may be told beside its question.
type Options struct {
	Workers  int
	Progress func(Progress) // called after each replication; may be nil
	Most     int            // replications that a rare target may take; 0: what some seconds allow
}

// with is the same search with so many replications of each value.
func (q *search) with(replications int) *search {
	p := *q
	p.replications, p.trials = replications, map[float64]*Trial{}
	return &p
}

// over are the overrides that make the line at x.
func (q *search) over(x float64, more ...scenarios.Override) []scenarios.Override {
	list := append([]scenarios.Override{{Key: q.key, Value: q.text(x)}}, more...)
	if q.replications > 0 {
		list = append(list, scenarios.Override{Key: "run.replications", Value: strconv.Itoa(q.replications)})
	}
	return list
}

// at simulates the line at x. A value that is no possible line is no error.
func (q *search) at(x float64) (*Trial, error) {
	if t := q.trials[x]; t != nil {
		return t, nil
	}
	t, err := q.simulate(x)
	if err != nil {
		return nil, err
	}
	q.trials[x] = t
	return t, nil
}

// simulate simulates the line at x, with other changes laid over it.
func (q *search) simulate(x float64, more ...scenarios.Override) (*Trial, error) {
	t := &Trial{X: x}
	var res *replicate.Results
	var cycles [][]*sim.Cycles
	c, err := q.s.Again(q.over(x, more...)...)
	if err == nil {
		if q.against != nil {
			c.Study.Alternatives = append([]model.Alternative{*q.against}, c.Study.Alternatives...)
		}
		res, cycles, err = q.run(q.ctx, &c.Study)
	}
	var impossible *scenarios.Errors
	switch {
	case errors.As(err, &impossible):
		t.Why = reason(impossible)
	case err != nil:
		return nil, err
	default:
		last := len(res.Alternatives) - 1
		t.Possible, t.Metrics, t.Less = true, res.Alternatives[last].Metrics, res.Differences[last]
		t.Replications, t.Events = res.Run.Replications, res.Alternatives[last].Events
		if q.records != nil {
			t.curve = q.curveOf(t, &c.Study, res.Run, cycles)
		}
	}
	if q.less != nil && q.less.trials[x] != nil && len(more) == 0 {
		return t, nil
	}
	*q.done++
	return t, nil
}

// tell tells how far the value that is simulated has come.
func (q *search) tell(done, most int) {
	if q.progress != nil {
		p := Progress{Done: done, Most: most, Value: *q.done + 1, Values: *q.values}
		if p.Value > p.Values { // that bracket is narrowed
			p.Values = 0
		}
		q.progress(p)
	}
}

// narrowing says that so many values more narrow a bracket at most; below 0: not known.
func (q *search) narrowing(more int) {
	*q.values = 0
	if more >= 0 {
		*q.values = *q.done + more
	}
}

// possible says whether the scenario allows x, without simulating it.
func (q *search) possible(x float64) (bool, string) {
	if t := q.trials[x]; t != nil {
		return t.Possible, t.Why
	}
	_, err := q.s.Again(q.over(x)...)
	var impossible *scenarios.Errors
	if errors.As(err, &impossible) {
		return false, reason(impossible)
	}
	return err == nil, ""
}

// evidence is what was simulated, in order of value.
func (q *search) evidence() []Trial {
	var list []Trial
	for _, t := range q.trials {
		list = append(list, *t)
	}
	slices.SortFunc(list, func(a, b Trial) int { return cmp.Compare(a.X, b.X) })
	return list
}

// merged is what was simulated, and in place of it what was with more replications.
func merged(list, more []Trial) []Trial {
	out := slices.Clone(more)
	for _, t := range list {
		if !slices.ContainsFunc(more, func(m Trial) bool { return m.X == t.X }) {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(a, b Trial) int { return cmp.Compare(a.X, b.X) })
	return out
}

// test says whether a value is on the good side.
type test func(t *Trial) bool

// bisect narrows an interval whose one end is good and whose other is bad until
// it is shorter than the relative tolerance, and returns both ends.
func (q *search) bisect(good, bad float64, ok test, tolerance float64) (float64, float64, error) {
	defer q.narrowing(-1)
	for math.Abs(good-bad) > tolerance*math.Abs(good) {
		q.narrowing(bisections(min(good, bad), max(good, bad), tolerance*min(math.Abs(good), math.Abs(bad))))
		mid := (good + bad) / 2
		t, err := q.at(mid)
		if err != nil {
			return good, bad, err
		}
		if ok(t) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good, bad, nil
}

// bisectWhole narrows two whole numbers, one good and one bad, until they are
// neighbours, and returns the good one.
func bisectWhole(good, bad int, ok func(n int) (bool, error)) (int, error) {
	for good-bad > 1 || bad-good > 1 {
		mid := (good + bad) / 2
		yes, err := ok(mid)
		if err != nil {
			return 0, err
		}
		if yes {
			good = mid
		} else {
			bad = mid
		}
	}
	return good, nil
}

// exact is the tolerance of a value, relative: far below what any line can be
// built to.
const exact = 2e-4

// holds is the test of a bound on the estimate, side 0, or on the lower (-1) or
// upper (1) end of its interval. Where so few events carry an estimate that it has
// no interval, its upper end holds no bound.
func holds(b Bound, side float64) test {
	return func(t *Trial) bool {
		if !t.Possible {
			return false
		}
		e, ok := b.Of(t.Metrics)
		switch {
		case !ok:
			return true
		case side > 0 && e.Why == estimate.TooFew && !e.Known():
			return false
		}
		return e.End(side) <= b.Most
	}
}
