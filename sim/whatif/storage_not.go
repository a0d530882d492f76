package whatif

import (
	"fmt"
	"math"
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
		a.Why = fmt.Sprintf("%s is not a possible line: %s", z.in(z.Most), t.Why)
		a.Evidence = z.evidence()
		return nil
	}
	by := mainCause(t.Metrics, z.whole, z.CountFailed)
	a.LimitedBy = by.words(z.end)
	e := t.Metrics[z.bound.Metric]
	a.Why = fmt.Sprintf("even %s gives %s of the %s, most of it because of %s", z.in(z.Most), chanceWords(e), changesOf(z.end), a.LimitedBy)
	at := z.Most
	if by != byDwell {
		if at, err = z.enough(e.Mean); err != nil {
			return err
		}
		a.Notes = append(a.Notes, fmt.Sprintf("above %s, more storage cuts that by less than a tenth", z.in(at)))
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
	if flat, err := z.halfIsFlat(good, z.bound); err != nil || !flat {
		return false, err
	}
	half := z.trials[good/2]
	most, err := z.at(z.Most)
	if err != nil {
		return false, err
	}
	t := z.trials[good]
	by := mainCause(t.Metrics, z.whole, z.CountFailed)
	a.Flat, a.Value, a.Low, a.High = true, math.NaN(), math.NaN(), math.NaN()
	a.LimitedBy = by.words(z.end)
	at := func(t *Trial) string {
		return fmt.Sprintf("%s at %s", chanceWords(t.Metrics[z.bound.Metric]), z.in(t.X))
	}
	a.Why = fmt.Sprintf("the storage is not what limits it: %s. The chance is %s and %s", a.LimitedBy, at(half), at(t))
	if most.Possible && good < z.Most {
		a.Why = fmt.Sprintf("the storage is not what limits it: %s. The chance is %s, %s, and %s", a.LimitedBy, at(half), at(t), at(most))
	}
	if err := z.mend(z.store.Capacity, by); err != nil {
		return false, err
	}
	a.Evidence = z.evidence()
	return true, nil
}

// halfIsFlat says whether half the storage comes to nearly the same as a bound at
// good. It is not simulated where the changes at good say by far that it does not.
func (z *sizing) halfIsFlat(good float64, b Bound) (bool, error) {
	if t := z.trials[good]; t.curve != nil && excess(t.curve.at(good/2), b, 0) > math.Log(4*flatter) {
		return false, nil
	}
	half, err := z.at(good / 2)
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
func (z *sizing) mend(at float64, by cause) error {
	if by == byDwell {
		if form := z.a.ClosedForm.Value; finite(form) && form > z.Most {
			z.a.Notes = append(z.a.Notes, fmt.Sprintf("a long dwell alone needs the %s of the closed form; --most is %s", z.in(form), z.in(z.Most)))
		}
		return nil
	}
	l := z.lever(z.end, by, z.trials[at], z.bound)
	says, err := z.try(at, z.bound, l)
	if err == nil && says != "" {
		z.a.Notes = append(z.a.Notes, says)
	}
	return err
}
