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

// proof is the search, with more replications, for a capacity at which the upper end
// of the estimate meets the target.
type proof struct {
	*sizing
	good    float64 // the answer so far
	share   float64 // target of the changes
	few     *Trial  // at the first answer, with the replications that found it
	floor   float64 // limit of what was not seen, of the changes, times the replications
	easiest *Short
	n       int     // replications
	x       float64 // capacity at which the upper end is thought to hold
	upper   *Trial  // there
}

// more shows with more replications that the upper end of the estimate meets the
// target at some capacity, and finds the answer anew where they say otherwise.
// good is the answer so far, share the target of the changes.
func (z *sizing) more(good, share float64) error {
	p := &proof{sizing: z, good: good, share: share, few: z.trials[good], easiest: z.easiest(good, share)}
	if !p.allowed() {
		z.notShown(good, p.easiest)
		return nil
	}
	z.big = z.with(p.n)
	if told, err := p.byRecords(); told || err != nil {
		return err
	}
	if err := p.raise(); err != nil {
		return err
	}
	if err := p.revise(); err != nil {
		return err
	}
	z.a.Low = min(z.a.Low, p.good)
	if !holds(z.bound, 1)(p.upper) {
		z.notShown(p.good, z.shortOf(p.upper, p.upper.Metrics[z.bound.Metric], share))
		return nil
	}
	if mid := math.Sqrt(p.good * p.x); p.x > 1.5*p.good { // less may be enough for it too
		var err error
		if p.x, _, err = z.big.find(z.bound, 1, mid, p.x, loosely, 5*loosely); err != nil {
			return err
		}
	}
	z.a.Value = p.good
	p.proven(z.big.trials[p.good], p.x)
	return nil
}

// allowed sets how many replications it takes, and says whether they may be taken.
func (p *proof) allowed() bool {
	e := p.few.Metrics[p.bound.Metric]
	most := float64(p.limit(p.few))
	p.floor = e.Unseen * float64(p.few.Replications) // falls as one over the replications
	want := restOfTarget * p.floor / p.share
	if e.Unseen == 0 {
		want = 1.5 * p.easiest.Enough
	}
	p.n = min(int(most), int(min(most, max(want, float64(p.few.Replications))))+1)
	return !(p.floor > barely*p.share*most || e.Unseen == 0 && p.easiest.Enough > most)
}

// byRecords answers without a search where the dwell alone counts: what it needs the
// records tell as a simulation does.
func (p *proof) byRecords() (bool, error) {
	if mainCause(p.few.Metrics, p.whole, false) != LongDwell || p.store.Slow {
		return false, nil
	}
	t, err := p.big.at(p.good)
	if err != nil {
		return false, err
	}
	high := t.curve.root(p.bound, 1, p.good, p.good, p.Most)
	if !holds(p.bound, 0)(t) || !finite(high) {
		return false, nil
	}
	p.a.Low = min(p.a.Low, p.good)
	p.proven(t, high*(1+1e-6))
	return true, nil
}

// begin is the capacity to begin with: what is calculated must leave room for the
// limit of what is not seen.
func (p *proof) begin() float64 {
	if !(p.floor > 0) {
		return p.easiest.X
	}
	room := p.bound
	room.Most *= barely * (1 - p.floor/float64(p.n)/p.share)
	x := p.good
	if !holds(room, 0)(p.few) {
		x = p.few.curve.root(room, 0, x, x, p.Most)
	}
	if math.IsNaN(x) {
		return p.Most
	}
	return x
}

// raise goes up until the upper end holds.
func (p *proof) raise() (err error) {
	p.x = p.begin()
	for range 8 {
		if p.upper, err = p.big.at(p.x); err != nil {
			return err
		}
		if holds(p.bound, 1)(p.upper) || p.x == p.Most {
			break
		}
		if more := p.upper.curve.root(p.bound, 1, p.x, p.x, p.Most); more > p.x {
			p.x = min(p.Most, 1.001*more)
		} else {
			p.x = min(p.Most, 1.2*p.x)
		}
	}
	return nil
}

// revise finds the answer anew where it does not hold, or less is enough, now that more
// is known.
func (p *proof) revise() error {
	t, err := p.big.at(p.good)
	if err != nil {
		return err
	}
	if !holds(p.bound, 0)(t) && holds(p.bound, 0)(p.upper) {
		if err := p.anew(p.x); err != nil {
			return err
		}
	}
	less := p.a.Low
	if !(finite(less) && less < p.good && p.bound.end(p.big.trials[p.good], 0) < 0.95*p.bound.Most) {
		return nil
	}
	if t, err = p.big.at(less); err != nil {
		return err
	}
	if holds(p.bound, 0)(t) {
		return p.below(less)
	}
	return p.anew(p.Most)
}

// below finds the answer anew, and the lower end of its interval, where a capacity that was
// thought to be that end is enough.
func (p *proof) below(less float64) (err error) {
	if p.good, _, err = p.big.find(p.bound, 0, less, p.good, 5*exact, 5*exact); err != nil {
		return err
	}
	low := p.big.trials[p.good].curve.root(p.bound, -1, p.good, p.good/100, p.good)
	p.a.Low, _, err = p.big.find(p.bound, -1, or(low, p.good), p.good, loosely, loosely)
	return err
}

// anew finds the answer anew, up to a capacity.
func (p *proof) anew(most float64) (err error) {
	p.good, _, err = p.big.find(p.bound, 0, p.good, most, 5*exact, 5*exact)
	return err
}

// proven says at which capacity the upper end meets the target, from what was simulated
// at the answer.
func (p *proof) proven(t *Trial, high float64) {
	p.a.High = high
	p.a.Notes = append(p.a.Notes, TookMore{t.Metrics[p.bound.Metric].Trials, p.n, p.s.Study.Run.Replications})
}

// notShown says that the value is the best that is known, and what it would take
// to show that it meets the target.
func (z *sizing) notShown(good float64, x *Short) {
	z.a.Met, z.a.Value, z.a.High, z.a.Short = false, good, math.NaN(), x
	z.a.Why = []Note{Unshown{Short: x}}
	z.a.Notes = append(z.a.Notes, ByEstimate{good})
}
