package whatif

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/metric"
)

// SizeSpeed finds the fastest line speed at which every limit holds, where each
// limit on its own begins to bind, and the speed at which most good web is made.
// A limit that holds at no speed says so, with what would have to change. The
// scenario must have one alternative.
func SizeSpeed(ctx context.Context, s *scenarios.Scenario, limits Limits, opt Options) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	now := line.Process.Speed
	a := &Answer{Kind: Speed, Of: LineSpeed, Alternative: s.Study.Alternatives[0].Name, Dim: model.Speed, Now: now, Target: Target{Failed: counting(someFail(line), !limits.ButFailed)}}
	q := newSearch(ctx, s, opt, "line.speed", "m/s")
	here, err := q.at(now)
	if err != nil {
		return nil, err
	}
	if q, here, err = q.forTargets(limits, here); err != nil {
		return nil, err
	}
	top, end := highestPossible(q, now)
	a.ClosedForm = speedForm(line, limits, here)
	for _, b := range limits.Bounds() {
		if _, applies := b.Of(here.Metrics); !applies {
			continue
		}
		x, err := whereBinds(q, b, now, top)
		if err != nil {
			return nil, err
		}
		a.Next = append(a.Next, x)
	}
	slices.SortStableFunc(a.Next, func(x, y Binding) int { return cmp.Compare(x.order(), y.order()) })
	if err := answerSpeed(q, a, top, end); err != nil {
		return nil, err
	}
	if a.Most, err = mostGood(q, now, top); err != nil {
		return nil, err
	}
	if !math.IsNaN(top) {
		a.Next = append(a.Next, Binding{Constraint: end, Value: top, Low: top, High: top})
	}
	a.Evidence = q.evidence()
	return a, nil
}

// order is the speed from which on a limit binds; one that holds at every speed
// comes last, one that holds at none first.
func (x *Binding) order() float64 {
	switch {
	case x.Never:
		return 0
	case math.IsNaN(x.Value):
		return math.Inf(1)
	}
	return x.Value
}

// forTargets goes on with the replications that the rarest target takes, as far as
// they are allowed.
func (q *search) forTargets(limits Limits, here *Trial) (*search, *Trial, error) {
	want := 0.0
	for _, b := range limits.Bounds() {
		if e, ok := here.Metrics[b.Metric]; ok && !oneReplication(e) {
			want = max(want, 2*e.Unseen/b.share(here.Metrics)*float64(here.Replications))
		}
	}
	most := q.limit(here)
	if q.most == 0 { // some fifty values are looked at
		most = max(here.Replications, most/20)
	}
	n := int(min(math.Ceil(want), float64(most)))
	if n <= here.Replications {
		return q, here, nil
	}
	q = q.with(n)
	here, err := q.at(here.X)
	return q, here, err
}

// answerSpeed is the fastest speed at which every limit holds: that of the first
// that binds. A limit that holds at no speed is no answer, nor is one that too
// little was simulated for.
func answerSpeed(q *search, a *Answer, top float64, end Constraint) error {
	var stuck, unshown []Note
	first := Binding{Constraint: end, Value: top, Low: top, High: top}
	for _, x := range a.Next {
		if !x.Never && !math.IsNaN(x.Value) && x.Value < first.Value {
			first = x
		}
	}
	for i := range a.Next {
		x := &a.Next[i]
		if x.Never {
			never, err := q.atNoSpeed(x)
			if err != nil {
				return err
			}
			stuck = append(stuck, never)
			continue
		}
		if _, err := q.at(first.Value); err != nil {
			return err
		}
		if short := q.shown(x.Bound, first.Value); short != nil {
			unshown = append(unshown, Unshown{x.Bound, short})
			a.Short = short
		}
	}
	a.Met = len(stuck) == 0 && len(unshown) == 0
	a.Value, a.Low, a.High, a.LimitedBy = first.Value, first.Low, first.High, first.Constraint
	switch {
	case len(stuck) > 0:
		a.Value, a.Low, a.High = math.NaN(), math.NaN(), math.NaN()
		a.LimitedBy = a.Next[0].Constraint
		a.Why = stuck
		if len(stuck) < len(a.Next) {
			a.Notes = append(a.Notes, OthersHold{first.Value, first.Constraint})
		}
	case len(unshown) > 0:
		a.Low = math.NaN()
		a.Why = unshown
	}
	if q.replications > 0 {
		a.Notes = append(a.Notes, TookMore{Replications: q.replications, Usual: q.s.Study.Run.Replications})
	}
	return nil
}

// farthest is how far from the present speed is searched, as a factor.
const farthest = 3

// highestPossible is the fastest speed that the scenario allows, and why.
func highestPossible(q *search, now float64) (float64, Constraint) {
	good, bad := now, now*farthest
	if ok, _ := q.possible(bad); ok {
		return bad, Constraint{By: FastestTried}
	}
	for bad-good > exact*good {
		mid := (good + bad) / 2
		if ok, _ := q.possible(mid); ok {
			good = mid
		} else {
			bad = mid
		}
	}
	_, why := q.possible(bad)
	return good, Constraint{By: NotPossible, Why: why}
}

// whereBinds finds the speed from which on a limit does not hold, from the
// present speed on: upwards when it holds there, else downwards.
func whereBinds(q *search, b Bound, now, top float64) (Binding, error) {
	x := Binding{Constraint: Constraint{By: ALimit, Bound: b}, Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
	ok := holds(b, 0)
	t, err := q.at(now)
	if err != nil {
		return x, err
	}
	good, bad := math.NaN(), math.NaN()
	if ok(t) {
		good = now
		for v := now; v < top; {
			v = min(top, v*1.15)
			if t, err = q.at(v); err != nil {
				return x, err
			}
			if !ok(t) {
				bad = v
				break
			}
			good = v
		}
		if math.IsNaN(bad) {
			return x, nil // holds as far as the line is possible
		}
	} else {
		bad = now
		for v := now; v > now/farthest; {
			v = max(now/farthest, v/1.15)
			if t, err = q.at(v); err != nil {
				return x, err
			}
			if !t.Possible {
				break
			}
			if ok(t) {
				good = v
				break
			}
			bad = v
		}
		if math.IsNaN(good) {
			x.Value, x.Never = bad, true
			return x, nil
		}
	}
	if good, bad, err = q.bisect(good, bad, ok, exact); err != nil {
		return x, err
	}
	x.Value = good
	if q.shown(b, good) != nil { // its lower end is not known
		x.High, err = walk(q, good, top, holds(b, -1), true, true)
		return x, err
	}
	x.Low, x.High, err = interval(q, b, good, bad, top, true)
	return x, err
}

// mostGood is the speed of the greatest good output, by golden section: output
// rises with the speed until what stops the line outweighs it. Near the top it
// is flat, so the speed is found to 0.2 % and the output far better.
func mostGood(q *search, now, top float64) (*Trial, error) {
	value := func(x float64) (float64, error) {
		t, err := q.at(x)
		if err != nil || !t.Possible {
			return 0, err
		}
		return t.Metrics[metric.GoodRate].Mean, nil
	}
	low, high := now/farthest, top
	ratio := (math.Sqrt(5) - 1) / 2
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	fa, err := value(a)
	if err != nil {
		return nil, err
	}
	fb, err := value(b)
	if err != nil {
		return nil, err
	}
	for high-low > 2e-3*high {
		if fa >= fb {
			high, b, fb = b, a, fa
			a = high - ratio*(high-low)
			if fa, err = value(a); err != nil {
				return nil, err
			}
		} else {
			low, a, fa = a, b, fb
			b = low + ratio*(high-low)
			if fb, err = value(b); err != nil {
				return nil, err
			}
		}
	}
	// The end of the range, and the best that was seen anywhere, may be better.
	if _, err := value(top); err != nil {
		return nil, err
	}
	var best *Trial
	for _, t := range q.evidence() {
		if t.Possible && (best == nil || t.Metrics[metric.GoodRate].Mean > best.Metrics[metric.GoodRate].Mean) {
			best = &t
		}
	}
	return best, nil
}

// speedForm is the speed that the closed form of one splice gives for the risk.
func speedForm(line *model.Line, limits Limits, here *Trial) *ClosedForm {
	f := &ClosedForm{Value: math.NaN(), Formula: SpeedOfASplice}
	for end, kind := range []model.ChangeKind{line.Unwind.Change, line.Rewind.Change} {
		if !kind.Stores() {
			continue
		}
		c, rate := model.UnwindCycle(line), metric.SpliceRate
		if end == 1 {
			c, rate = model.RewindCycle(line), metric.TransferRate
		}
		share := limits.Risk.Share
		if limits.Risk.Rate > 0 {
			share = limits.Risk.Rate / here.Metrics[rate].Mean
		}
		if share <= 0 || share >= 1 || math.IsNaN(share) {
			continue
		}
		v := c.Fastest(model.UpperQuantile(c.Dwell, share))
		f.Other = append(f.Other, Other{Of: [2]Quantity{UnwindStorage, RewindStorage}[end], Value: v})
		if math.IsNaN(f.Value) || v < f.Value {
			f.Value = v
		}
	}
	if len(f.Other) == 0 {
		return nil
	}
	if len(f.Other) == 1 {
		f.Other = nil
	}
	return f
}
