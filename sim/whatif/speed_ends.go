package whatif

import (
	"math"
	"slices"

	"rollchange/model/portable"
	"rollchange/sim/metric"
)

// farthestApart are speeds above the present one that are simulated in any case.
const farthestApart = 1.45

// bracketAll simulates the ends of the range and finds the brackets of all limits
// between them; the closed form of one splice, where there is one, is a first value.
func (z *speeding) bracketAll(form *ClosedForm) error {
	if err := z.look(z.top); err != nil {
		return err
	}
	// What binds between them, where what is beyond stops the line so often that it binds
	// no more.
	n := math.Ceil(portable.Log(z.top/z.now) / portable.Log(farthestApart))
	for i := 1.0; i < n; i++ {
		if err := z.look(z.now * portable.Pow(z.top/z.now, i/n)); err != nil {
			return err
		}
	}
	for x := z.now / 1.25; z.below(); x /= 1.5 {
		x = max(x, z.low)
		if ok, _ := z.possible(x); !ok {
			break
		}
		if err := z.look(x); err != nil {
			return err
		}
		if x == z.low {
			break
		}
	}
	if form != nil && z.asked(form.Value) {
		if err := z.look(form.Value); err != nil {
			return err
		}
	}
	return z.find()
}

// below says whether the present speed is too fast, and none that holds a limit is known.
func (z *speeding) below() bool {
	return slices.ContainsFunc(z.limits, func(l *limit) bool {
		good, _ := z.bracket(l)
		return good == nil
	})
}

// asked says whether a speed lies in the bracket of a limit on depletion, or overfill.
func (z *speeding) asked(x float64) bool {
	for _, l := range z.limits {
		if whole, _, _ := metric.RiskOf(l.Metric); whole == "" {
			continue
		}
		if good, bad := z.bracket(l); good != nil && bad != nil && good.X < x && x < bad.X {
			return true
		}
	}
	return false
}

// binds is the speed from which on a limit does not hold, with its interval.
func (z *speeding) binds(l *limit) (Binding, error) {
	nan := math.NaN()
	x := Binding{Constraint: Constraint{By: ALimit, Bound: l.Bound}, Value: nan, Low: nan, High: nan}
	good, bad := z.bracket(l)
	switch {
	case bad == nil:
		return x, nil // holds as far as the line is possible
	case good == nil:
		x.Value, x.Never = bad.X, true
		return x, z.full(bad.X)
	}
	x.Value = root(l, good, bad)
	if l == z.exact {
		x.Value = good.X
	}
	e, _ := l.Of(good.Metrics)
	var err error
	switch {
	case oneReplication(e):
		return x, nil
	case jumps(l, good, bad), e.Known() && e.High-e.Low <= 2e-9*math.Abs(e.Mean): // no chance is in it
		x.Low, x.High = good.X, bad.X
		return x, nil
	}
	if x.High, err = z.end(l, x.Value, -1); err != nil || z.shown(l.Bound, good.X) != nil {
		return x, err // where not enough was simulated to show it, its lower end is not known
	}
	x.Low, err = z.end(l, x.Value, 1)
	x.Low, x.High = min(x.Low, x.Value), max(x.High, x.Value)
	return x, err
}

// mostEnds is how many simulations an end of an interval takes at most.
const mostEnds = 4

// end is where an end of the estimate's interval meets a limit that the estimate meets
// at value: the upper end, side 1, below it, the lower one above it. It is interpolated
// in the logarithm between speeds that were simulated with all replications, and one is
// simulated where those are too far from each other. NaN: not found; the fastest speed
// where the limit is not shown to be broken there.
func (z *speeding) end(l *limit, value, side float64) (float64, error) {
	for looked := 0; ; looked++ {
		good, bad := z.across(l, value, side)
		var x float64
		switch {
		case good == nil && (value <= z.low || looked == 2*mostEnds):
			return math.NaN(), nil
		case good == nil && side > 0: // farther down
			if x = z.farther(l, value, side, 1/1.15); x == z.low && z.trials[x] != nil {
				return math.NaN(), nil
			}
		case bad == nil: // farther up
			if x = z.farther(l, value, side, 1.15); x == z.top && z.trials[x] != nil {
				return z.top, nil
			}
		default:
			a, b := level(good, l.Bound, side), level(bad, l.Bound, side)
			x = good.X + (bad.X-good.X)*max(0, min(1, -a/(b-a)))
			wide := bad.X - good.X
			far := wide > max(4*math.Abs(x-value), 2*digitsShown*value)
			if !far || looked >= mostEnds || min(x-good.X, bad.X-x) < digitsShown*value/4 {
				return x, nil
			}
		}
		if z.trials[x] != nil {
			return x, nil
		}
		if err := z.full(x); err != nil {
			return 0, err
		}
	}
}

// across are the speeds simulated with all replications between which an end of the
// estimate meets a limit, the nearest to value on the end's side of it.
func (z *speeding) across(l *limit, value, side float64) (good, bad *Trial) {
	var list []*Trial
	for _, t := range z.points() {
		if z.whole(t) {
			list = append(list, t)
		}
	}
	// Where an estimate is a number of events its end may meet the limit more than once:
	// the farthest counts, as far as it is near.
	const near = 1.25
	ok := holds(l.Bound, side)
	if side > 0 {
		for i := len(list) - 2; i >= 0 && (good == nil || list[i].X > value/near); i-- {
			if list[i].X <= value*(1+digitsShown) && ok(list[i]) && !ok(list[i+1]) {
				good, bad = list[i], list[i+1]
			}
		}
		return good, bad
	}
	for i := 1; i < len(list) && (bad == nil || list[i].X < value*near); i++ {
		if list[i].X >= value*(1-digitsShown) && !ok(list[i]) && ok(list[i-1]) {
			good, bad = list[i-1], list[i]
		}
	}
	return good, bad
}

// farther is beyond what was simulated with all replications, on the side of value
// where an end is looked for: just beyond where the slope there has it, else the next
// speed that some replications were simulated of, where it is not far off.
func (z *speeding) farther(l *limit, value, side, step float64) float64 {
	x, next := value, value*step
	beyond := func(v, w float64) bool { return (v < w) == (side > 0) && v != w }
	for _, t := range z.points() {
		if z.whole(t) && beyond(t.X, x) {
			x = t.X
		}
	}
	good, bad := z.bracket(l)
	t := z.trials[good.X]
	if v := value - 1.2*(level(t, l.Bound, side)-level(t, l.Bound, 0))/z.slope(l, good, bad); beyond(v, x) && !beyond(v, next) {
		return max(z.low, min(z.top, v))
	}
	next = x * step
	for _, t := range z.points() {
		if !z.whole(t) && beyond(t.X, x) && beyond(next, t.X) {
			next = t.X
		}
	}
	return max(z.low, min(z.top, next))
}

// evidence is what was simulated, each speed with as many replications as it has.
func (z *speeding) evidence() []Trial {
	list := z.search.evidence()
	if z.part != nil {
		list = merged(z.part.evidence(), list)
	}
	return list
}

// holdsAgain are speeds above the answer from which on every limit holds anew, or does
// not any more: as far as simulated speeds show them, to a hundredth.
func (z *speeding) holdsAgain(value float64) ([]float64, error) {
	worst := func(t *Trial) float64 {
		y := float64(-steep)
		for _, l := range z.limits {
			y = max(y, level(t, l.Bound, 0))
		}
		return y
	}
	var list []*Trial
	for _, t := range z.points() {
		if t.X > value && z.shows(t, worst(t) <= 0) {
			list = append(list, t)
		}
	}
	var again []float64
	for i := 1; i < len(list); i++ {
		a, b := worst(list[i-1]), worst(list[i])
		if (a > 0) == (b > 0) {
			continue
		}
		p := newITP(list[i-1].X, list[i].X, sided(a), sided(b), loosely*list[i].X)
		for !p.done() {
			x := p.next()
			t, err := z.at(x)
			if err != nil {
				return nil, err
			}
			y := float64(steep)
			if t.Possible {
				y = worst(t)
			}
			p.put(x, sided(y))
		}
		x := p.b // every limit held there
		if p.fa <= 0 {
			x = p.a
		}
		if len(again) > 0 || a > 0 {
			again = append(again, x)
		}
	}
	return again, nil
}

// shows says whether the interval of an estimate shows that every limit holds at a
// speed, or else that one does not: what is near a limit wavers by chance.
func (z *speeding) shows(t *Trial, good bool) bool {
	broken := func(l *limit) bool { return !holds(l.Bound, -1)(t) }
	if good {
		broken = func(l *limit) bool { return !holds(l.Bound, 1)(t) }
	}
	return slices.ContainsFunc(z.limits, broken) != good
}

// sided is a level that is on a side: at a limit it holds.
func sided(y float64) float64 {
	if y <= 0 {
		return min(-1e-12, y)
	}
	return y
}
