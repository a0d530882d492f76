package whatif

import (
	"math"

	"rollchange/sim/estimate"
)

// barely is the share of a target that the limit of what was not seen may take:
// the rest is for what is calculated.
const barely = 0.9

// restOfTarget is how many times the replications are simulated whose limit of what was
// not seen is the target: so many that it leaves 4/9 of the target to what is calculated.
const restOfTarget = 1.8

// mostEvents is how many events a value is simulated for at most, to show a rare
// target, unless the replications are given: some seconds of work.
const mostEvents = 10e6

// Short says that too few changes were simulated to show a target.
type Short struct {
	X         float64 // value at which the fewest are needed
	Target    float64 // of the changes
	Needed    float64 // changes that it takes; +Inf: not known
	Simulated float64 // changes
	Low, High float64 // what is known of the chance so far
	Seen      bool    // causes that only counting can tell of were seen
	Most      int     // replications that were allowed
	Enough    float64 // replications that it takes; +Inf: not known
}

// oneReplication says that an estimate has no limits for want of a second one.
func oneReplication(e estimate.Estimate) bool { return e.Why == estimate.OneReplication }

// finite says whether a value is a number.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// limit is how many replications a value may take.
func (q *search) limit(t *Trial) int {
	if q.most > 0 {
		return max(q.most, t.Replications)
	}
	return int(max(float64(t.Replications), min(MostReplications, mostEvents*float64(t.Replications)/max(1, float64(t.Events)))))
}

// shortOf says what it takes to show that the estimate of a share is below the
// target, with so many replications at most.
func (q *search) shortOf(t *Trial, e estimate.Estimate, target float64) *Short {
	x := &Short{X: t.X, Target: target, Needed: e.TrialsFor(target), Simulated: e.Trials, Low: e.Low, High: e.High, Seen: e.Unseen == 0, Most: q.limit(t)}
	if e.Unseen > barely*target {
		x.Needed = e.Trials * e.Unseen / (barely * target)
	}
	x.Enough = math.Ceil(x.Needed / max(1, e.Trials) * float64(t.Replications))
	return x
}

// shown is nil where enough was simulated for a limit to be shown at x.
func (q *search) shown(b Bound, x float64) *Short {
	t := q.trials[x]
	e := t.Metrics[b.Metric]
	if share := b.share(t.Metrics); e.Unseen > barely*share {
		return q.shortOf(t, e, share)
	}
	return nil
}

// easiest is what it takes to show the target where that takes least: at good, or
// at a larger capacity that was simulated.
func (z *sizing) easiest(good, share float64) *Short {
	var best *Short
	for _, t := range z.search.evidence() {
		if !t.Possible || t.X < good {
			continue
		}
		if x := z.shortOf(&t, t.Metrics[z.bound.Metric], share); best == nil || x.Needed < best.Needed {
			best = x
		}
	}
	return best
}

// more shows with more replications that the upper end of the estimate meets the
// target at some capacity, and finds the answer anew where they say otherwise.
// good is the answer so far, share the target of the changes.
func (z *sizing) more(good, share float64) error {
	t := z.trials[good]
	e := t.Metrics[z.bound.Metric]
	most := z.limit(t)
	floor := e.Unseen * float64(t.Replications) // falls as one over the replications
	want := restOfTarget * floor / share
	easiest := z.easiest(good, share)
	if e.Unseen == 0 {
		want = 1.5 * easiest.Enough
	}
	if floor > barely*share*float64(most) || e.Unseen == 0 && easiest.Enough > float64(most) {
		z.notShown(good, easiest)
		return nil
	}
	n := min(most, int(min(float64(most), max(want, float64(t.Replications))))+1)
	big := z.with(n)
	z.big = big
	if mainCause(t.Metrics, z.whole, false) == LongDwell && !z.store.Slow {
		// What the dwell alone needs the records tell as a simulation does.
		u, err := big.at(good)
		if err != nil {
			return err
		}
		if high := u.curve.root(z.bound, 1, good, good, z.Most); holds(z.bound, 0)(u) && finite(high) {
			z.a.Low, z.a.High = min(z.a.Low, good), high*(1+1e-6)
			z.a.Notes = append(z.a.Notes, TookMore{u.Metrics[z.bound.Metric].Trials, n, z.s.Study.Run.Replications})
			return nil
		}
	}
	// What is calculated must leave room for the limit of what is not seen.
	room := z.bound
	room.Most *= barely * (1 - floor/float64(n)/share)
	x := easiest.X
	if e.Unseen > 0 {
		x = good
		if !holds(room, 0)(t) {
			x = t.curve.root(room, 0, good, good, z.Most)
		}
		if math.IsNaN(x) {
			x = z.Most
		}
	}
	var err error
	for range 8 {
		if t, err = big.at(x); err != nil {
			return err
		}
		if holds(z.bound, 1)(t) || x == z.Most {
			break
		}
		if more := t.curve.root(z.bound, 1, x, x, z.Most); more > x {
			x = min(z.Most, 1.001*more)
		} else {
			x = min(z.Most, 1.2*x)
		}
	}
	at := t // where the upper end is thought to hold
	if t, err = big.at(good); err != nil {
		return err
	}
	if !holds(z.bound, 0)(t) && holds(z.bound, 0)(at) {
		if good, _, err = big.find(z.bound, 0, good, x, 5*exact, 5*exact); err != nil {
			return err
		}
		t = big.trials[good]
	}
	if less := z.a.Low; finite(less) && less < good && z.bound.end(t, 0) < 0.95*z.bound.Most { // less is enough, now that more is known
		if l, err := big.at(less); err != nil {
			return err
		} else if !holds(z.bound, 0)(l) {
			if good, _, err = big.find(z.bound, 0, good, z.Most, 5*exact, 5*exact); err != nil {
				return err
			}
			t = big.trials[good]
		}
	}
	z.a.Low = min(z.a.Low, good)
	if !holds(z.bound, 1)(at) {
		e := at.Metrics[z.bound.Metric]
		z.notShown(good, z.shortOf(at, e, share))
		return nil
	}
	if mid := math.Sqrt(good * x); x > 1.5*good { // less may be enough for it too
		if x, _, err = big.find(z.bound, 1, mid, x, loosely, 5*loosely); err != nil {
			return err
		}
	}
	z.a.Value, z.a.High = good, x
	e = t.Metrics[z.bound.Metric]
	z.a.Notes = append(z.a.Notes, TookMore{e.Trials, n, z.s.Study.Run.Replications})
	return nil
}

// notShown says that the value is the best that is known, and what it would take
// to show that it meets the target.
func (z *sizing) notShown(good float64, x *Short) {
	z.a.Met, z.a.Value, z.a.High, z.a.Short = false, good, math.NaN(), x
	z.a.Why = []Note{Unshown{Short: x}}
	z.a.Notes = append(z.a.Notes, ByEstimate{good})
}
