package whatif

import (
	"context"
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// StorageQuestion asks for the smallest storage of a station.
type StorageQuestion struct {
	Rewind      bool
	Risk        Risk
	CountFailed bool    // changes that fail and are made by hand count too
	Most        float64 // m, the largest that is considered
	FewStrands  int     // strands that the answer is laid out in; 0: those of the scenario
	ManyStrands int
}

// beyondData is the chance below which a tail is taken to be beyond what was
// ever measured: fewer than one dwell in a thousand.
const beyondData = 1e-3

// sizing is the search for the storage of one station.
type sizing struct {
	StorageQuestion
	*search
	line  *model.Line
	store *model.Storage
	cycle model.Cycle
	end   string  // "unwind" or "rewind"
	whole string  // metric of all changes that use the storage up
	fails float64 // chance that a change fails
	bound Bound
	pilot *search // the same with the first of the replications; nil: not used
	big   *search // the same with the replications that a rare target takes; nil: none were needed
	a     *Answer
}

// SizeStorage finds the smallest capacity for which the storage is used up no
// more often than the risk. What counts is what a storage is there for: a dwell
// that is long, a roll that is late, a start before the refill. What changes that
// fail and are made by hand add is told apart, unless the question counts it. The
// scenario must have one alternative, whose station is zero-speed.
func SizeStorage(ctx context.Context, s *scenarios.Scenario, q StorageQuestion, opt Options) (*Answer, error) {
	z, err := newSizing(ctx, s, q, opt)
	if err != nil {
		return nil, err
	}
	here, err := z.here()
	if err != nil {
		return nil, err
	}
	if !here.Possible {
		return nil, fmt.Errorf("the scenario itself is not possible: %s", here.Why)
	}
	z.a.ClosedForm = storageForm(z.cycle, z.cycle.Room/z.store.Capacity, z.bound.share(here.Metrics))
	if found, err := z.value(here); err != nil || !found {
		return z.a, err
	}
	good := z.a.Value
	t, err := z.best(good)
	if err != nil {
		return nil, err
	}
	share := z.bound.share(t.Metrics) // of most replications
	z.a.ClosedForm = storageForm(z.cycle, z.cycle.Room/z.store.Capacity, share)
	if err := z.say(good, share, t.Metrics); err != nil {
		return nil, err
	}
	if err := z.failed(t); err != nil {
		return nil, err
	}
	if z.a.Failed != nil {
		z.a.Notes = append([]Note{*z.a.Failed}, z.a.Notes...)
	}
	if z.a.Again, err = z.again(t); err != nil {
		return nil, err
	}
	z.a.Evidence = z.evidence()
	z.a.Curve = curveAbout(t, z.bound.Metric, z.a.Evidence)
	z.a.Strands = layOut(z.line, z.store, good, q)
	return z.a, ctx.Err() // a curve that had to be recorded anew may have been cut short
}

// value finds the value and its interval, or says why there is none.
func (z *sizing) value(here *Trial) (bool, error) {
	if z.waits(here) {
		good, ok, err := z.byWaits()
		switch {
		case err != nil:
			return false, err
		case ok && math.IsNaN(good):
			return false, z.notMet()
		case ok:
			flat, err := z.flat(good)
			return !flat, err
		}
	}
	from := z.store.Capacity
	if root := here.curve.root(z.bound, 0, from, from/100, z.Most); z.pilot != nil && finite(root) {
		from = root * (1 + nextTo*exact)
	}
	good, bad, err := z.find(z.bound, 0, from, z.Most, exact, exact)
	switch {
	case err != nil:
		return false, err
	case math.IsNaN(good):
		return false, z.notMet()
	}
	if flat, err := z.flat(good); err != nil || flat {
		return false, err
	}
	return true, z.limits(good, bad)
}

func newSizing(ctx context.Context, s *scenarios.Scenario, q StorageQuestion, opt Options) (*sizing, error) {
	line := &s.Study.Alternatives[0].Line
	z := &sizing{StorageQuestion: q, line: line, end: "unwind", whole: metric.Depletion, store: &line.Unwind.Storage, cycle: model.UnwindCycle(line), fails: 1 - line.Unwind.SpliceSuccess}
	kind := line.Unwind.Change
	if q.Rewind {
		z.end, z.whole, z.store, z.cycle, z.fails = "rewind", metric.Overfill, &line.Rewind.Storage, model.RewindCycle(line), 1-line.Rewind.TransferSuccess
		kind = line.Rewind.Change
	}
	if !kind.Stores() {
		return nil, fmt.Errorf("%q has a %s %s: only zero-speed has a storage", s.Study.Alternatives[0].Name, kind, z.end)
	}
	if q.Rewind && line.Rewind.LateSpeed > 0 {
		return nil, fmt.Errorf("%q slows the line for a late core (rewind.on_late): how long a transfer takes then decides when the line slows, and its rewind storage is not sized from few simulations; sweep --vary rewind.storage.capacity compares some, --station unwind asks for the other alone", s.Study.Alternatives[0].Name)
	}
	z.bound = Bound{Metric: z.whole, Most: q.Risk.Share}
	if !q.CountFailed {
		z.bound.Metric += notFailed
	}
	if q.Risk.Rate > 0 {
		z.bound.Most, z.bound.Rate, z.bound.Asked = q.Risk.Rate, true, q.Risk.Text
	}
	z.search = newSearch(ctx, s, opt, z.end+".storage.capacity", "m")
	z.records = &curved{}
	if n := s.Study.Run.Replications; fewReplications(n) < n {
		z.pilot = z.with(fewReplications(n))
		z.search.less = z.pilot
	}
	z.a = &Answer{Kind: Storage, Of: UnwindStorage, Alternative: s.Study.Alternatives[0].Name, Dim: model.Length, Now: z.store.Capacity,
		Target: Target{Risk: q.Risk, Failed: counting(z.fails > 0, q.CountFailed)}, Metric: z.bound.Metric}
	if q.Rewind {
		z.a.Of, z.records.which = RewindStorage, 1
	}
	return z, nil
}

// here is the scenario's own capacity: where the target is so rare that it takes more
// replications elsewhere, or is surely not met here, in the first of them, whose records
// say where to look.
func (z *sizing) here() (*Trial, error) {
	if z.pilot != nil {
		t, err := z.pilot.at(z.store.Capacity)
		if err != nil || !t.Possible {
			return t, err
		}
		unseen := t.Metrics[z.bound.Metric].Unseen * float64(t.Replications) / float64(z.s.Study.Run.Replications)
		if unseen > barely*z.bound.share(t.Metrics) || !holds(z.bound, -1)(t) {
			return t, nil
		}
		z.pilot, z.search.less = nil, nil
	}
	return z.at(z.store.Capacity)
}

// evidence is what was simulated, each capacity with as many replications as it has.
func (z *sizing) evidence() []Trial {
	list := z.search.evidence()
	if z.pilot != nil {
		list = merged(z.pilot.evidence(), list)
	}
	if z.big != nil {
		list = merged(list, z.big.evidence())
	}
	return list
}

// limits sets the answer and its interval: where the lower and where the upper
// end of the estimate meet the target. Where too little was simulated to bring
// the upper end there, it goes on with more replications, or says how many it takes.
func (z *sizing) limits(good, bad float64) error {
	a := z.a
	a.Met, a.Value = true, good
	e := z.trials[good].Metrics[z.bound.Metric]
	share := z.bound.share(z.trials[good].Metrics)
	if oneReplication(e) {
		a.Low, a.High = math.NaN(), math.NaN()
		a.Notes = append(a.Notes, OneReplication{})
		return nil
	}
	// What waits for rolls or a refill add hangs on the crew, and that on the trips.
	trusted := mainCause(z.trials[good].Metrics, z.whole, false) == LongDwell
	var err error
	if !(e.Unseen > barely*share) {
		if a.Low, a.High, err = z.ends(z.bound, good, bad, z.Most, trusted); err != nil || finite(a.High) {
			return err
		}
	} else if a.Low, _, err = z.ends(z.bound, good, bad, z.Most, trusted); err != nil {
		return err
	}
	a.Low = min(a.Low, good)
	return z.more(good, share)
}

// best is what was simulated at a capacity, with most replications.
func (z *sizing) best(x float64) (*Trial, error) {
	if z.big != nil && z.big.trials[x] != nil {
		return z.big.trials[x], nil
	}
	return z.at(x)
}

// impossibleBelow is why there is no possible line with a storage less than this, as near
// as it is searched; "" where there is one.
func (z *sizing) impossibleBelow(good float64) string {
	nearest, why := (1-2*exact)*good, ""
	for x, t := range z.trials {
		if nearest <= x && x < good {
			if nearest, why = x, ""; !t.Possible {
				why = t.Why
			}
		}
	}
	return why
}

// say notes what binds at the answer, and what the answer leans on.
func (z *sizing) say(good, share float64, m replicate.Metrics) error {
	a := z.a
	by := mainCause(m, z.whole, z.CountFailed)
	a.LimitedBy.By = by
	if why := z.impossibleBelow(good); why != "" {
		a.LimitedBy = Constraint{By: NotPossible, Why: why}
		a.Low, a.High = good, good
	}
	if by != LongDwell && good > 1.01*a.ClosedForm.Value {
		a.Notes = append(a.Notes, DwellNeeds{a.ClosedForm.Value, by})
		if err := z.mend(z.store.Capacity, by); err != nil {
			return err
		}
	}
	if share < beyondData && z.cycle.Dwell.SD() > 0 {
		a.Notes = append(a.Notes, FarTail{share})
	}
	return nil
}
