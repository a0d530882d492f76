package whatif

import "math"

// A target that waits for the next roll decide, or starts before the refill, is
// sized in another way than one that the dwell decides. How long a wait is hangs on
// what the crew does, and so on every trip before it: from one capacity to the next
// the replications soon are others, and what is simulated scatters by as much as its
// interval says. To narrow a bracket beyond that would be to narrow chance. So few
// capacities are simulated, with all replications that the target takes: one that is
// above the whole interval, where few waits are cut short by a trip, and those that it
// proposes until one meets the target.

// beyondDwell is how many times the closed form of the dwell a proposal is from which
// on more than the dwell decides.
const beyondDwell = 1.05

// nearly is the share of the interval's width within which two capacities are one:
// half a standard error.
const nearly = 1.0 / 8

// rooms are how many times the replications that just show a target if nothing is seen
// are simulated: so many that the limit of what is not seen leaves a quarter of the target
// to what is calculated; and where that is not enough, those that show it if one change is
// seen, as the limits of 1 and 0 seen are as 5.6 to 3.7.
var rooms = []float64{1.3, 1.6}

// beyondTop is how many times the largest need that was seen the first capacity is
// that is simulated with all replications.
const beyondTop = 1.5

// waits says whether more than the dwell decides, as the changes at a capacity tell.
func (z *sizing) waits(t *Trial) bool {
	if z.store.Slow || z.CountFailed || t.curve == nil {
		return false // a low storage slows the process: the way to another capacity is not known
	}
	root := t.curve.root(z.bound, 0, t.X, 1e-6, z.Most)
	return math.IsNaN(root) && !holds(z.bound, 0)(t) || root > beyondDwell*z.a.ClosedForm.Value
}

// byWaits finds the answer where waits decide. It returns false where it leaves that
// to find, good NaN where not even the largest capacity meets the target.
func (z *sizing) byWaits() (good float64, ok bool, err error) {
	top, err := z.at(z.Most)
	switch {
	case err != nil || !top.Possible:
		return 0, false, err
	case !holds(z.bound, 0)(top):
		return math.NaN(), true, nil
	}
	root := top.curve.root(z.bound, 0, z.Most, 1e-6, z.Most)
	if math.IsNaN(root) || root <= beyondDwell*z.a.ClosedForm.Value { // the dwell, after all
		return 0, false, nil
	}
	var q *search
	var w *waiting
	var n int
	var short *Short
	for _, room := range rooms {
		q, z.big = z.search, nil
		if n, short = z.needed(top, room); n > top.Replications {
			q = z.with(n)
			z.big = q
		}
		bad := 0.0
		if q == z.search { // the scenario's own capacity may be one that does not do
			here, err := z.at(z.store.Capacity)
			if err != nil {
				return 0, false, err
			}
			if here.Possible && !holds(z.bound, 0)(here) {
				bad = here.X
			}
		}
		from := 1.1 * top.curve.root(z.bound, 1, z.Most, root, z.Most)
		if !holds(z.bound, 1)(top) {
			from = beyondTop * max(root, top.curve.unseenFrom(z.bound, root, z.Most))
		}
		w = &waiting{search: q, b: z.bound, most: z.Most}
		if good, err = w.answer(min(z.Most, or(from, z.Most)), bad); err != nil {
			return 0, false, err
		}
		if short != nil || q == z.search || math.IsNaN(good) || holds(z.bound, 1)(w.above) {
			break
		}
	}
	if math.IsNaN(good) { // the records are no help
		z.big = nil
		return 0, false, nil
	}
	t := q.trials[good]
	z.a.Met, z.a.Value, z.a.Low, z.a.High = true, good, min(good, t.curve.root(z.bound, -1, good, good/100, good)), w.high(good)
	if oneReplication(t.Metrics[z.bound.Metric]) {
		z.a.Low, z.a.High = math.NaN(), math.NaN()
		z.a.Notes = append(z.a.Notes, OneReplication{})
		return good, true, nil
	}
	if short == nil && math.IsNaN(z.a.High) {
		short = z.shortOf(w.above, w.above.Metrics[z.bound.Metric], z.bound.share(w.above.Metrics))
	}
	if short != nil {
		z.notShown(good, short)
	} else if z.big != nil {
		z.a.Notes = append(z.a.Notes, TookMore{t.Metrics[z.bound.Metric].Trials, n, z.s.Study.Run.Replications})
	}
	return good, true, nil
}

// needed is how many replications it takes to show the target, told by what was
// simulated at the largest capacity, with so much room; or what it would take, where that
// is too many.
func (z *sizing) needed(top *Trial, room float64) (n int, short *Short) {
	e, share := top.Metrics[z.bound.Metric], z.bound.share(top.Metrics)
	if oneReplication(e) || holds(z.bound, 1)(top) {
		return top.Replications, nil
	}
	s := z.shortOf(top, e, share)
	want := room * e.Unseen * float64(top.Replications) / share
	if e.Unseen == 0 {
		want = 1.5 * s.Enough
	}
	most := float64(z.limit(top))
	if !(s.Enough <= most) {
		return top.Replications, s
	}
	return int(min(most, max(want, s.Enough))), nil
}

// unseenFrom is from where on, between low and high, the records know of no change
// that only counting tells of and that would use the storage up.
func (c *curve) unseenFrom(b Bound, low, high float64) float64 {
	for x := low; x < high; x *= 1.05 {
		if c.at(x).Metrics[b.Metric].Unseen > 0 {
			return x
		}
	}
	return high
}

// waiting is the search for an answer that waits decide.
type waiting struct {
	*search
	b     Bound
	most  float64
	above *Trial // above the whole interval
}

// agreeing is how far, of the way to the upper end of a simulated estimate, the records
// of another capacity may be above it.
const agreeing = 0.75

// chanceFrom is from which simulation on it is taken for chance that no two agree.
const chanceFrom = 4

// answer is a capacity at which the bound holds by a simulation, and a little below
// which it does not, by a simulation too or by the records of the one there. One at bad,
// at which it does not hold, is known.
func (w *waiting) answer(from, bad float64) (good float64, err error) {
	for x := from; ; x = min(w.most, 2*x) {
		if w.above, err = w.at(x); err != nil {
			return 0, err
		}
		if holds(w.b, 1)(w.above) || x >= w.most {
			break
		}
	}
	good, t := w.above.X, w.above
	if !holds(w.b, 0)(t) {
		return good, nil // it held there with fewer replications
	}
	x, wrong := or(t.curve.root(w.b, 0, good, 1e-6, good), good), 0.0
	near := w.near(t, x)
	for k := 1; ; k++ {
		if x += near / 2; wrong != 0 && bad > 0 && k < chanceFrom {
			// The records of two on one side told too little: what lies beyond a trip hangs
			// on what the crew does after it. A line between what was simulated tells more.
			x = min(max(x, w.between(bad, good)), good)
			if wrong > 0 {
				x = w.between(bad, good)
			}
		}
		if x <= bad || x >= good || k >= chanceFrom {
			x = (good + bad) / 2
		}
		if k == chanceFrom { // how far two of them differ is chance
			near *= 2
		}
		last := t
		if t, err = w.at(x); err != nil {
			return 0, err
		}
		if t.Replications == w.s.Study.Run.Replications && !w.agrees(last, t) { // of a rare target too few are seen to tell
			return math.NaN(), nil
		}
		if !holds(w.b, 0)(t) {
			bad, x, wrong = x, or(t.curve.root(w.b, 0, x, x, good), x), min(wrong, 0)-1
		} else {
			if good = x; holds(w.b, 1)(t) {
				w.above = t
			}
			x, wrong = or(t.curve.root(w.b, 0, x, max(bad, x/100), x), max(bad, x/100)), max(wrong, 0)+1
			near = max(near, w.near(t, x))
			if good-x <= near {
				return good, nil
			}
		}
		if good-bad <= near {
			return good, nil
		}
	}
}

// agrees says whether the records of a capacity are no more off at another than chance
// explains. Where a crew that is behind is saved by the trips of a small storage, those
// of a larger one, which it is not, tell of far too many depletions.
func (w *waiting) agrees(from, t *Trial) bool {
	e, _ := w.b.Of(t.Metrics)
	r, _ := w.b.Of(from.curve.at(t.X).Metrics)
	return !(r.Mean > e.Mean+agreeing*(e.High-e.Mean))
}

// between is where a line between two simulated capacities, in the logarithm of the
// chance, meets the bound. A chance far off counts as one not so far.
func (w *waiting) between(bad, good float64) float64 {
	y, z := min(3, excess(w.trials[bad], w.b, 0)), max(-3, excess(w.trials[good], w.b, 0))
	return bad + (good-bad)*y/(y-z)
}

// near is a part of the width of the interval of x, as the records of a capacity tell.
func (w *waiting) near(t *Trial, x float64) float64 {
	high, low := t.curve.root(w.b, 1, t.X, x, t.X), t.curve.root(w.b, -1, x, x/100, x)
	return max(exact*x, nearly*(max(x, or(high, t.X))-or(low, x)))
}

// high is where the upper end of the estimate meets the bound, from x on, by the
// records of the capacity above; NaN when that is too little.
func (w *waiting) high(x float64) float64 {
	t := w.above
	if !holds(w.b, 1)(t) {
		return math.NaN()
	}
	return max(x, or(t.curve.root(w.b, 1, t.X, x, t.X), x))
}
