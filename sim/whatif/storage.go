package whatif

import (
	"context"
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
)

// StorageQuestion asks for the smallest storage of a station.
type StorageQuestion struct {
	Rewind      bool
	Risk        Risk
	Most        float64 // m, the largest that is considered
	FewStrands  int     // strands that the answer is laid out in; 0: those of the scenario
	ManyStrands int
}

// beyondData is the chance below which a tail is taken to be beyond what was
// ever measured: fewer than one dwell in a thousand.
const beyondData = 1e-3

// SizeStorage finds the smallest capacity for which the storage is used up no
// more often than the risk. The scenario must have one alternative, whose
// station is zero-speed.
func SizeStorage(ctx context.Context, s *scenarios.Scenario, q StorageQuestion, opt Options) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	end, metric, store, cycle := "unwind", "splice.depletion", &line.Unwind.Storage, model.UnwindCycle(line)
	kind := line.Unwind.Change
	if q.Rewind {
		end, metric, store, cycle = "rewind", "transfer.overfill", &line.Rewind.Storage, model.RewindCycle(line)
		kind = line.Rewind.Change
	}
	if kind != model.ZeroSpeed {
		return nil, fmt.Errorf("%q has a %s %s: only zero-speed has a storage", s.Study.Alternatives[0].Name, kind, end)
	}
	bound := Bound{Metric: metric, Most: q.Risk.Share, Words: "storage used up more often than the target"}
	if q.Risk.Rate > 0 {
		bound.Most, bound.Rate = q.Risk.Rate, true
	}
	a := &Answer{Kind: "storage", Of: end + " storage", Alternative: s.Study.Alternatives[0].Name, Dim: model.Length, Now: store.Capacity,
		Target: riskWords(end, q.Risk)}
	search := newSearch(ctx, s, opt, end+".storage.capacity", "m")

	// The part of the capacity between the run level and the far end.
	usable := cycle.Room / store.Capacity
	here, err := search.at(store.Capacity)
	if err != nil {
		return nil, err
	}
	if !here.Possible {
		return nil, fmt.Errorf("the scenario itself is no possible line: %s", here.Why)
	}
	share := bound.Most
	if bound.Rate {
		share = bound.Most / here.Metrics[map[bool]string{false: "splice_rate", true: "transfer_rate"}[q.Rewind]].Mean
	}
	a.ClosedForm = storageForm(cycle, usable, share)

	good, bad, err := bracketDown(search, store.Capacity, a.ClosedForm.Value, q.Most, holds(bound, 0))
	if err != nil {
		return nil, err
	}
	if math.IsNaN(good) {
		return a, notMetStorage(a, search, bound, q.Most)
	}
	if good, bad, err = search.bisect(good, bad, holds(bound, 0), exact); err != nil {
		return nil, err
	}
	a.Met, a.Value = true, good
	if a.Low, a.High, err = interval(search, bound, good, bad, q.Most, false); err != nil {
		return nil, err
	}
	t := search.trials[good]
	a.LimitedBy = cause(t.Metrics, metric)
	if a.LimitedBy != causes[0].words && a.Value > 1.01*a.ClosedForm.Value {
		a.Notes = append(a.Notes, "the dwell alone would need the closed form below; the difference is due to "+a.LimitedBy)
	}
	if share < beyondData && cycle.Dwell.SD() > 0 {
		a.Notes = append(a.Notes, fmt.Sprintf("a chance of %.2g leans on a part of the dwell's law that no data can show: with another tail of the same mean and sd it would be as said at the closed form", share))
	}
	a.Evidence = search.evidence()
	a.Strands = layOut(line, store, good, q)
	return a, nil
}

// bracketDown finds a capacity that is good and a smaller one that is bad, from
// where the answer is thought to be; good is NaN when not even the largest is.
func bracketDown(q *search, now, guess, most float64, ok test) (good, bad float64, err error) {
	x := now
	if guess > 0 && !math.IsInf(guess, 0) {
		x = min(guess, most)
	}
	t, err := q.at(x)
	if err != nil {
		return 0, 0, err
	}
	step := 1.02
	if ok(t) {
		for {
			good = x
			x /= step
			if t, err = q.at(x); err != nil {
				return 0, 0, err
			}
			if !ok(t) {
				return good, x, nil
			}
			if step = min(2, step*step); x < 1e-6 {
				return 0, 0, fmt.Errorf("any storage is enough: nothing ever uses it")
			}
		}
	}
	for {
		bad = x
		if x >= most {
			return math.NaN(), bad, nil
		}
		x = min(most, x*step)
		if t, err = q.at(x); err != nil {
			return 0, 0, err
		}
		if ok(t) {
			return x, bad, nil
		}
		step = min(2, step*step)
	}
}

// interval finds the values at which the ends of the estimate's interval meet
// the bound, beside the value good at which the estimate does. The value grows
// the risk less the larger it is (up: the other way round).
func interval(q *search, b Bound, good, bad, most float64, up bool) (low, high float64, err error) {
	e, _ := b.Of(q.trials[good].Metrics)
	if !e.Known() || e.High-e.Low <= 2e-9*math.Abs(e.Mean) {
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
	return min(safe, bold), max(safe, bold), nil
}

// walk goes from x to the border of a test: to the safe side until the test
// holds, or to the bold side (onward) until it does not.
func walk(q *search, x, most float64, ok test, up, onward bool) (float64, error) {
	grow := !up // safer is larger
	if onward {
		grow = !grow
	}
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
		if next == most {
			return math.Inf(1), nil
		}
		at, step = next, step*step
		if step > 2 {
			step = 2
		}
	}
	return at, nil
}

// storageForm is the capacity that the closed form of one splice gives, under
// the dwell's law and under others with the same mean and sd.
func storageForm(c model.Cycle, usable, risk float64) *ClosedForm {
	f := &ClosedForm{
		Formula:     "v²/(2 decel) + v q + v²/(2 accel) + reserve + v²/(2 line.decel), q the dwell that is exceeded with the risk, over the share of the capacity that the run level leaves",
		Assumptions: "every splice begins at the run level with its roll armed, none fails, the process runs at line speed throughout",
	}
	room := func(d model.Dist) float64 { return c.LeastRoom(model.UpperQuantile(d, risk)) / usable }
	f.Value = room(c.Dwell)
	if c.Dwell.SD() > 0 {
		for _, law := range model.TailLaws {
			f.Other = append(f.Other, Other{"dwell " + string(law), room(c.Dwell.Like(law))})
		}
	}
	return f
}

// notMetStorage tells of the best that can be had when no storage meets the target.
func notMetStorage(a *Answer, q *search, b Bound, most float64) error {
	t, err := q.at(most)
	if err != nil {
		return err
	}
	a.Value, a.Low, a.High = most, most, most
	in := inUnits(most, model.Length, q.s.Study.Units)
	if t.Possible {
		e := t.Metrics[b.Metric]
		a.LimitedBy = cause(t.Metrics, b.Metric)
		a.Why = fmt.Sprintf("even %s leaves a chance of %.2g a change, most of it by %s", in, e.Mean, a.LimitedBy)
		if a.LimitedBy != causes[0].words {
			a.Why += "; that is what to mend first: the dwell alone would need the closed form below"
		}
	} else {
		a.Why = fmt.Sprintf("%s is no possible line: %s", in, t.Why)
	}
	a.Evidence = q.evidence()
	return nil
}

// causes are the words for what a chance of depletion is made of.
var causes = []struct{ suffix, words string }{
	{".dwell", "the dwell alone"}, {".not_ready", "the next roll not armed in time"},
	{".failed", "a splice that failed and is made by hand"}, {".refill", "a start before the storage is refilled"},
}

// cause is what most of a chance of depletion is made of.
func cause(m sim.Metrics, metric string) string {
	best, words := 0.0, causes[0].words
	for _, c := range causes {
		if x := m[metric+c.suffix].Mean; x > best {
			best, words = x, c.words
		}
	}
	return words
}

func riskWords(end string, r Risk) string {
	what := "unwind storage depleted"
	if end == "rewind" {
		what = "rewind storage full"
	}
	if r.Rate > 0 {
		return what + " no more than " + r.Text
	}
	return fmt.Sprintf("%s at no more than %.3g of the changes", what, r.Share)
}

// layOut says what a capacity is in strands, carriage travel and speed, and the
// tension that the rollers add.
func layOut(line *model.Line, store *model.Storage, capacity float64, q StorageQuestion) []Strands {
	few, many := q.FewStrands, q.ManyStrands
	if few == 0 {
		few, many = store.Strands, store.Strands
	}
	fastest := max(line.Process.Speed, line.Unwind.MaxSpeed-line.Process.Speed)
	if q.Rewind {
		fastest = max(line.Process.Speed, line.Rewind.MaxSpeed-line.Process.Speed)
	}
	var list []Strands
	for n := few; n > 0 && n <= many; n++ {
		x := Strands{Strands: n, Travel: model.CarriageTravel(capacity, n), Speed: math.Abs(model.CarriageSpeed(fastest, 0, n)), Tension: math.NaN()}
		if store.RollerDrag > 0 {
			x.Tension = model.DragTension(n, store.RollerDrag)
		}
		list = append(list, x)
	}
	return list
}
