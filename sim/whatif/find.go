package whatif

import (
	"errors"
	"math"

	"rollchange/model/portable"
)

// loosely is the tolerance, relative, of what stands beside an answer and hangs on
// what was only counted.
const loosely = 1e-2

// nextTo is how far beyond a proposal its side of the bracket is looked for, as a share of
// the tolerance.
const nextTo = 0.2

// finding is the search for the capacity from which on a bound holds. The curve of
// the last value that was simulated proposes the next one; what is simulated decides
// that the answer is good. That a little less is not, is simulated or told by the changes
// that were recorded at the answer itself.
type finding struct {
	*search
	b       Bound
	side    float64 // 0 the estimate, -1 and 1 the ends of its interval
	most    float64 // m, the largest that is considered
	within  float64 // relative, of the bracket
	loose   float64 // the same where the curve is no help
	good    float64 // NaN until there is one
	bad     float64
	last    *Trial
	looked  int
	push    float64 // relative, how far beyond the proposal the other side is looked for
	widths  []float64
	bracket *itp
}

// find finds a capacity at which the bound holds and one below, no farther than within,
// or than loose where the curve is no help, at which it does not, from a value to
// begin with. good is NaN when not even the largest does.
func (q *search) find(b Bound, side, from, most, within, loose float64) (good, bad float64, err error) {
	f := &finding{search: q, b: b, side: side, most: most, within: within, loose: loose, good: math.NaN(), bad: math.NaN(), push: nextTo * within}
	defer q.narrowing(-1)
	for x := min(from, most); ; {
		if err := f.look(x); err != nil {
			return 0, 0, err
		}
		switch {
		case f.bad >= most:
			return math.NaN(), f.bad, nil
		case math.Abs(f.good-f.bad) <= within*f.good, f.bracket != nil && f.bracket.done():
			return f.good, f.bad, nil
		}
		if x, err = f.next(); err != nil {
			return 0, 0, err
		}
		if f.bracket != nil {
			q.narrowing(max(1, f.bracket.left))
		}
	}
}

// look simulates a value.
func (f *finding) look(x float64) error {
	t, err := f.at(x)
	if err != nil {
		return err
	}
	if t.Possible {
		f.last = t
	}
	f.looked++
	y := excess(t, f.b, f.side)
	if y <= 0 {
		f.good = x
	} else {
		f.bad = x
	}
	switch {
	case f.bracket != nil:
		f.bracket.put(x, y)
	case f.good == x && t.curve != nil && excess(t.curve.at(f.less(x)), f.b, f.side) > 0:
		f.bad = f.less(x)
	case f.both():
		f.widths = append(f.widths, math.Abs(f.good-f.bad))
	}
	return nil
}

// less is so little less that the two are within the tolerance.
func (f *finding) less(x float64) float64 { return x * (1 - 0.9*f.within) }

func (f *finding) both() bool { return !math.IsNaN(f.good) && !math.IsNaN(f.bad) }

// stalls says that two proposals have not halved the bracket.
func (f *finding) stalls() bool {
	n := len(f.widths)
	return n > 2 && f.widths[n-1] > f.widths[n-3]/2
}

// next is the value to simulate next.
func (f *finding) next() (float64, error) {
	if f.bracket == nil && f.stalls() {
		f.bracket = f.narrows()
	}
	if f.bracket != nil {
		return f.bracket.next(), nil
	}
	low, high := 1e-6, f.most
	if !math.IsNaN(f.bad) {
		low = f.bad
	}
	if !math.IsNaN(f.good) {
		high = f.good
	}
	root := math.NaN()
	if f.last != nil && f.last.curve != nil {
		root = f.last.curve.root(f.b, f.side, f.last.X, min(low, high), max(low, high))
	}
	switch {
	case math.IsNaN(root) && f.both():
		f.bracket = f.narrows()
		return f.bracket.next(), nil
	case math.IsNaN(root) && math.IsNaN(f.good):
		return f.most, nil
	case math.IsNaN(root):
		return f.least()
	case !f.both():
		return f.beyond(root), nil
	}
	// The looser side of the bracket is brought to the proposal.
	x := root * (1 - nextTo*f.within)
	if math.Abs(f.good-root) > math.Abs(root-f.bad) {
		x = root * (1 + nextTo*f.within)
	}
	if x <= min(f.good, f.bad) || x >= max(f.good, f.bad) {
		x = (f.good + f.bad) / 2
	}
	return x, nil
}

// beyond is just beyond a proposal, on the side that is not known yet; farther at
// each attempt.
func (f *finding) beyond(root float64) float64 {
	if f.looked == 1 { // the first proposal may be far off: a value that is good is worth most
		return min(f.most, root*(1+f.push))
	}
	push := f.push
	f.push *= 4
	if math.IsNaN(f.good) {
		return min(f.most, max(root, f.bad)*(1+push))
	}
	if x := root * (1 + push); x < f.good {
		return x
	}
	return min(root, f.good) * (1 - push)
}

// least is the smallest capacity that the scenario allows, where the curve knows of
// none that is not good.
func (f *finding) least() (float64, error) {
	good, bad := f.good, f.good
	for step := 1.5; ; {
		if bad /= step; bad < 1e-6 {
			return 0, errors.New("any storage is enough: nothing ever draws on it")
		}
		if ok, _ := f.possible(bad); !ok {
			break
		}
		good = bad
	}
	for good-bad > f.within/4*good {
		if ok, _ := f.possible((good + bad) / 2); ok {
			good = (good + bad) / 2
		} else {
			bad = (good + bad) / 2
		}
	}
	if good >= f.good { // it is the value itself
		return bad, nil
	}
	return good, nil
}

// narrows begins to narrow the bracket by itself.
func (f *finding) narrows() *itp {
	of := func(x float64) float64 {
		if t := f.trials[x]; t.Possible || x == f.good {
			return excess(t, f.b, f.side)
		}
		return portable.Log(2) // how far an impossible value is off is not known
	}
	return newITP(f.bad, f.good, max(1e-12, of(f.bad)), min(-1e-12, of(f.good)), f.loose*f.good)
}

// ends finds where the ends of the estimate's interval meet a bound, beside the
// value good at which the estimate does: from the curve of what was simulated there
// where the records can be trusted with it, else by simulation. An end that is not
// found is +Inf or NaN.
func (q *search) ends(b Bound, good, bad, most float64, trusted bool) (low, high float64, err error) {
	t := q.trials[good]
	e, _ := b.Of(t.Metrics)
	switch {
	case oneReplication(e):
		return math.NaN(), math.NaN(), nil
	case e.Known() && e.High-e.Low <= 2e-9*math.Abs(e.Mean):
		return min(good, bad), max(good, bad), nil
	}
	low, high = good, good
	if holds(b, -1)(t) {
		low = t.curve.root(b, -1, good, good/100, good)
		if !trusted {
			if low, _, err = q.find(b, -1, or(low, good), good, loosely, loosely); err != nil {
				return 0, 0, err
			}
		}
	}
	if !holds(b, 1)(t) {
		high = t.curve.root(b, 1, good, good, most)
		if !trusted {
			if high, _, err = q.find(b, 1, or(high, good), most, loosely, loosely); err != nil {
				return 0, 0, err
			}
		}
		if math.IsNaN(high) {
			high = math.Inf(1)
		}
	}
	return low, high, nil
}

// or is x, or y where there is no x.
func or(x, y float64) float64 {
	if math.IsNaN(x) {
		return y
	}
	return x
}
