package whatif

import "math"

// interval finds the values at which the ends of the estimate's interval meet
// the bound, beside the value good at which the estimate does. The larger the
// value the less the risk (up: the other way round). An end that is not found is
// +Inf or NaN.
func interval(q *search, b Bound, good, bad, most float64, up bool) (low, high float64, err error) {
	e, _ := b.Of(q.trials[good].Metrics)
	switch {
	case oneReplication(e):
		return math.NaN(), math.NaN(), nil
	case e.Known() && e.High-e.Low <= 2e-9*math.Abs(e.Mean):
		return min(good, bad), max(good, bad), nil
	}
	safe, err := walk(q, good, most, holds(b, 1), up, false)
	if err != nil {
		return 0, 0, err
	}
	bold, err := walk(q, good, most, holds(b, -1), up, true)
	if err != nil {
		return 0, 0, err
	}
	if up {
		safe, bold = bold, safe
	}
	return bold, safe, nil
}

// walk goes from x to the border of a test: to the safe side until the test
// holds, or to the bold side (onward) until it does not. Where the range ends
// before that it returns +Inf, or NaN at the lower end of it.
func walk(q *search, x, most float64, ok test, up, onward bool) (float64, error) {
	grow := up == onward // safer is larger, or smaller
	step, at := 1.01, x
	for range 60 {
		next := at * step
		if !grow {
			next = at / step
		}
		if !up && next > most {
			next = most
		}
		t, err := q.at(next)
		if err != nil {
			return 0, err
		}
		if ok(t) != onward {
			good, bad := next, at
			if onward {
				good, bad = at, next
			}
			good, _, err = q.bisect(good, bad, ok, 5*exact)
			return good, err
		}
		if next == most && !up {
			return math.Inf(1), nil
		}
		if !grow && (!t.Possible || next < x/100) {
			break
		}
		at, step = next, min(2, step*step)
	}
	return math.NaN(), nil
}
