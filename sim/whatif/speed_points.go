package whatif

import (
	"cmp"
	"math"
	"slices"
)

// speeding is the search for the speeds from which on limits do not hold. Every speed
// that is simulated is judged for every limit, and as many replications are simulated
// as show on which side of a limit it is: some of them, then all.
type speeding struct {
	*search          // with all replications
	part    *search  // with the first of them; nil: all are few
	limits  []*limit // that apply to the line
	now     float64
	low     float64 // the slowest that is tried
	top     float64 // the fastest
	exact   *limit  // the limit whose bracket was narrowed as far as an answer needs; may be nil
}

// limit is one limit and how far the search for its speed has come.
type limit struct {
	Bound
	first float64 // m/s, width of the first bracket; 0: there was none
	used  int     // simulations for its sake since then
}

const (
	// fewest replications of a speed, and their share of all, to see on which side of a
	// limit it is. Below leastWhole replications all are simulated at once.
	leastPart, partOf = 5, 0.2
	leastWhole        = 10
	// surely is how many half widths off the estimate of some replications must be, for
	// that of all to be on the same side.
	surely = 1.5
	// digitsShown is what the digits need that are shown of a speed, relative.
	digitsShown = 5e-4
	// narrow is the width of the bracket of an answer as a share of its interval, and
	// loose that of a limit that does not decide it, whose value is interpolated.
	narrow, loose = 1. / 20, 1. / 4
	// steep is how far the logarithm of a chance is followed on either side of its limit:
	// what is beyond a thousand times, or below a thousandth, is as good as that.
	steep = 7
)

func newSpeeding(q *search, bounds []Bound, here *Trial) *speeding {
	z := &speeding{search: q, now: here.X, low: here.X / farthest}
	for _, b := range bounds {
		if _, applies := b.Of(here.Metrics); applies {
			z.limits = append(z.limits, &limit{Bound: b})
		}
	}
	if n := here.Replications; n >= leastWhole {
		z.part = q.with(max(leastPart, int(math.Ceil(partOf*float64(n)))))
		z.part.less, q.less = q, z.part
	}
	return z
}

// points are the possible speeds that were simulated, in order, each with as many
// replications as it has.
func (z *speeding) points() []*Trial {
	var list []*Trial
	for _, t := range z.trials {
		list = append(list, t)
	}
	if z.part != nil {
		for x, t := range z.part.trials {
			if z.trials[x] == nil {
				list = append(list, t)
			}
		}
	}
	list = slices.DeleteFunc(list, func(t *Trial) bool { return !t.Possible })
	slices.SortFunc(list, func(a, b *Trial) int { return cmp.Compare(a.X, b.X) })
	return list
}

// whole says whether a speed was simulated with all replications.
func (z *speeding) whole(t *Trial) bool { return z.trials[t.X] == t }

// sure says whether the replications that a speed has show on which side of a limit it is.
func (z *speeding) sure(t *Trial, b Bound) bool {
	if z.whole(t) {
		return true
	}
	e, ok := b.Of(t.Metrics)
	switch {
	case !ok:
		return true
	case !e.Known():
		return false
	case e.Mean <= b.Most:
		return b.Most-e.Mean > surely*(e.High-e.Mean)
	}
	return e.Mean-b.Most > surely*(e.Mean-e.Low)
}

// look simulates a speed, with all replications where some do not show on which side of
// a limit it is that is looked for there.
func (z *speeding) look(x float64) error {
	if z.trials[x] != nil {
		return nil
	}
	if z.part != nil {
		t, err := z.part.at(x)
		if err != nil {
			return err
		}
		if !t.Possible || z.clear(t) {
			return nil
		}
	}
	_, err := z.at(x)
	return err
}

// clear says whether a speed is surely on one side of each limit that is looked for there.
func (z *speeding) clear(t *Trial) bool {
	for _, l := range z.limits {
		good, bad := z.bracket(l)
		wanted := true
		switch {
		case good != nil && bad != nil:
			wanted = good.X < t.X && t.X < bad.X
		case good != nil:
			wanted = t.X == z.top || !holds(l.Bound, 0)(t)
		}
		if wanted && !z.sure(t, l.Bound) {
			return false
		}
	}
	return true
}

// level is how far a trial is above a limit on a side, as a logarithm, within bounds.
func level(t *Trial, b Bound, side float64) float64 {
	return max(-steep, min(steep, excess(t, b, side)))
}

// bracket is the pair of speeds next to each other between which a limit begins not to
// hold: above the present speed where it holds there, else below. Without bad it holds
// wherever it was looked at, without good it does not below the present speed.
func (z *speeding) bracket(l *limit) (good, bad *Trial) {
	list := z.points()
	list = slices.DeleteFunc(list, func(t *Trial) bool { return !z.sure(t, l.Bound) })
	at := slices.IndexFunc(list, func(t *Trial) bool { return t.X == z.now })
	if at < 0 {
		return nil, nil
	}
	if ok := holds(l.Bound, 0); ok(list[at]) {
		for _, t := range list[at:] {
			if !ok(t) {
				return good, t
			}
			good = t
		}
		return good, nil
	} else {
		for i := at; i >= 0; i-- {
			if ok(list[i]) {
				return list[i], bad
			}
			bad = list[i]
		}
	}
	return nil, bad
}

// within is how narrow a bracket has to be, m/s: a share of the interval that the
// estimate has there, by the slope of its logarithm, and no less than is shown.
func (z *speeding) within(l *limit, good, bad *Trial, share float64) float64 {
	least := digitsShown * bad.X
	if jumps(l, good, bad) {
		return least
	}
	slope := z.slope(l, good, bad)
	for _, t := range []*Trial{good, bad} {
		if e, _ := l.Of(t.Metrics); z.whole(t) && e.Known() {
			y := level(t, l.Bound, 0)
			half := min(level(t, l.Bound, 1)-y, y-level(t, l.Bound, -1))
			return max(least, share*2*half/slope)
		}
	}
	return least
}

// jumps says whether a chance changes so much within a bracket that nothing is to be
// interpolated.
func jumps(l *limit, good, bad *Trial) bool {
	return level(bad, l.Bound, 0)-level(good, l.Bound, 0) > 2
}

// slope is that of the logarithm about a bracket, s/m, between the speeds farthest from
// each other that are near enough: between near ones a number of events only steps.
func (z *speeding) slope(l *limit, good, bad *Trial) float64 {
	for _, t := range z.points() {
		if y := level(t, l.Bound, 0); z.whole(t) && math.Abs(y) < 1 {
			if y <= 0 && t.X < good.X {
				good = t
			}
			if y > 0 && t.X > bad.X {
				bad = t
			}
		}
	}
	return (level(bad, l.Bound, 0) - level(good, l.Bound, 0)) / (bad.X - good.X)
}

// root is where a limit begins not to hold, between the ends of its bracket.
func root(l *limit, good, bad *Trial) float64 {
	a, b := level(good, l.Bound, 0), level(bad, l.Bound, 0)
	return good.X + (bad.X-good.X)*max(0, min(1, -a/(b-a)))
}

// find narrows the brackets of all limits, that of the lowest speed first, and the
// bracket of the limit that binds first as far as an answer needs.
func (z *speeding) find() error {
	for {
		l, x := z.next()
		if l == nil {
			return nil
		}
		l.used++
		look := z.look
		if z.part != nil && z.part.trials[x] != nil { // all replications of a speed that has some
			look = z.full
		}
		if err := look(x); err != nil {
			return err
		}
	}
}

// again judges all speeds that were simulated since the brackets were found: where a
// limit does not hold that holds at both ends of the range, it has a bracket after all.
func (z *speeding) again() error {
	for _, t := range z.points() {
		if !z.clear(t) {
			if err := z.full(t.X); err != nil {
				return err
			}
		}
	}
	return z.find()
}

// full simulates a speed with all replications.
func (z *speeding) full(x float64) error {
	_, err := z.at(x)
	return err
}

// next is the limit that asks for a simulation most urgently, and the speed.
func (z *speeding) next() (*limit, float64) {
	var urgent, lowest *limit
	at, x, first := math.Inf(1), 0.0, math.Inf(1)
	for _, l := range z.limits {
		good, bad := z.bracket(l)
		if good == nil || bad == nil {
			continue
		}
		if v, open := z.step(l, good, bad, loose); open && bad.X < at {
			urgent, at, x = l, bad.X, v
		}
		if r := root(l, good, bad); r < first {
			lowest, first = l, r
		}
	}
	if urgent != nil || lowest == nil {
		return urgent, x
	}
	good, bad := z.bracket(lowest)
	if v, open := z.step(lowest, good, bad, narrow); open {
		return lowest, v
	}
	z.exact = lowest
	return nil, 0
}

// meets says whether an estimate of all replications meets its limit to a small share of
// its interval: what a narrower bracket would find beyond that is chance.
func (z *speeding) meets(l *limit, t *Trial) bool {
	y := level(t, l.Bound, 0)
	return z.whole(t) && y <= 0 && -y <= narrow*(level(t, l.Bound, 1)-level(t, l.Bound, -1))
}

// step is the next speed to narrow a bracket with, and whether there is need of one.
func (z *speeding) step(l *limit, good, bad *Trial, share float64) (float64, bool) {
	width := math.Abs(bad.X - good.X)
	if share == narrow && z.meets(l, good) && z.whole(bad) && width <= z.within(l, good, bad, loose) {
		return 0, false
	}
	within := z.within(l, good, bad, share)
	if width <= within {
		for _, t := range []*Trial{good, bad} { // the ends are those of all replications
			if !z.whole(t) && (share == narrow || !jumps(l, good, bad)) { // but where chance has next to no part
				return t.X, true
			}
		}
		return 0, false
	}
	if l.first == 0 {
		l.first = width
	}
	p := newITP(good.X, bad.X, min(-1e-12, level(good, l.Bound, 0)), max(1e-12, level(bad, l.Bound, 0)), within)
	p.k1, p.least, p.left = 0.2/l.first, 0.45*within, max(1, bisections(l.first, 0, within)+slack-l.used)
	z.narrowing(p.left)
	x := p.next()
	if z.trials[x] != nil { // no possible line, or the end of what numbers can tell apart
		return 0, false
	}
	return x, true
}
