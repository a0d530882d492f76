package whatif

import (
	"math"

	"rollchange/model/portable"
)

// How flat a risk is over the capacity: half the storage comes to no more than so
// many times the target, so that the storage decides next to nothing.
const flatter = 1.25

// notMet tells of the best that can be had when no storage meets the target: how
// low the chance gets, from where on more storage gains next to nothing, what
// stops it, and what would have to change.
func (z *sizing) notMet() error {
	a := z.a
	t, err := z.at(z.Most)
	if err != nil {
		return err
	}
	a.Value, a.Low, a.High = math.NaN(), math.NaN(), math.NaN()
	if !t.Possible {
		a.Why = []Note{Impossible{z.Most, t.Why}}
		a.Evidence = z.evidence()
		return nil
	}
	by := mainCause(t.Metrics, z.whole, z.CountFailed)
	a.LimitedBy.By = by
	e := t.Metrics[z.bound.Metric]
	a.Why = []Note{EvenMost{ChanceAt{z.Most, e}, by}}
	at := z.Most
	if by != LongDwell {
		if at, err = z.enough(e.Mean); err != nil {
			return err
		}
		a.Notes = append(a.Notes, MoreGainsLittle{at})
	}
	if err := z.mend(at, by); err != nil {
		return err
	}
	a.Evidence = z.evidence()
	return nil
}

// enough is the capacity from which on more storage, up to the largest, takes less
// than a tenth off the chance that the largest has.
func (z *sizing) enough(least float64) (float64, error) {
	near := func(t *Trial) bool { return t.Possible && t.Metrics[z.bound.Metric].Mean*0.9 <= least }
	if top := z.trials[z.Most]; top.curve != nil && !z.store.Slow {
		x := z.Most
		for lower := x / 1.5; lower > 1e-6 && near(top.curve.at(lower)); lower /= 1.5 {
			x = lower
		}
		low := x / 1.5
		for x-low > 0.01*x {
			if mid := (low + x) / 2; near(top.curve.at(mid)) {
				x = mid
			} else {
				low = mid
			}
		}
		if t, err := z.at(x); err != nil || near(t) {
			return x, err
		}
	}
	good, bad := z.Most, 0.0
	for _, t := range z.evidence() {
		if near(&t) {
			good = min(good, t.X)
		}
	}
	for _, t := range z.evidence() {
		if t.X < good {
			bad = max(bad, t.X)
		}
	}
	good, _, err := z.bisect(good, bad, near, 0.01)
	return good, err
}

// flat says whether the chance hardly hangs on the capacity at the target, found
// at good. Then no capacity is given: the answer says what it is instead.
func (z *sizing) flat(good float64) (bool, error) {
	a := z.a
	t, err := z.best(good)
	if err != nil {
		return false, err
	}
	if flat, err := z.halfIsFlat(t, z.bound); err != nil || !flat {
		return false, err
	}
	half := z.trials[good/2]
	most, err := z.at(z.Most)
	if err != nil {
		return false, err
	}
	by := mainCause(t.Metrics, z.whole, z.CountFailed)
	a.Met = false
	a.Flat, a.Value, a.Low, a.High = true, math.NaN(), math.NaN(), math.NaN()
	a.LimitedBy.By = by
	at := func(t *Trial) ChanceAt { return ChanceAt{t.X, t.Metrics[z.bound.Metric]} }
	why := NotTheStorage{by, []ChanceAt{at(half), at(t)}}
	if most.Possible && good < z.Most {
		why.At = append(why.At, at(most))
	}
	a.Why = []Note{why}
	if err := z.mend(z.store.Capacity, by); err != nil {
		return false, err
	}
	a.Evidence = z.evidence()
	return true, nil
}

// halfIsFlat says whether half the storage comes to nearly the same as a bound as
// what just holds it. It is not simulated where the changes there say by far that it does not.
func (z *sizing) halfIsFlat(t *Trial, b Bound) (bool, error) {
	if t.curve != nil && excess(t.curve.at(t.X/2), b, 0) > portable.Log(2*flatter) {
		return false, nil
	}
	half, err := z.at(t.X / 2)
	return err == nil && z.isFlat(half, b), err
}

// isFlat says whether half the storage comes to nearly the same as a bound.
func (z *sizing) isFlat(half *Trial, b Bound) bool {
	if !half.Possible {
		return false
	}
	e, _ := b.Of(half.Metrics)
	return e.Mean <= flatter*b.Most
}

// mend notes what would have to change for the target to be met at a capacity.
func (z *sizing) mend(at float64, by Cause) error {
	if by == LongDwell {
		if form := z.a.ClosedForm.Value; finite(form) && form > z.Most {
			z.a.Notes = append(z.a.Notes, DwellBeyond{form, z.Most})
		}
		return nil
	}
	t := z.trials[at]
	if t == nil && z.pilot != nil {
		t = z.pilot.trials[at]
	}
	l := z.lever(z.end, by, t, z.bound)
	tried, err := z.try(at, z.bound, l)
	if err == nil && tried != nil {
		z.a.Notes = append(z.a.Notes, *tried)
	}
	return err
}
