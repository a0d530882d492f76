package whatif

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// rememberedOf is how many replications a search remembers by itself.
const rememberedOf = 4000

// SizeSpeed finds the fastest line speed at which every limit holds, where each
// limit on its own begins to bind, and the speed at which most good web is made.
// A limit that holds at no speed says so, with what would have to change. The
// scenario must have one alternative.
func SizeSpeed(ctx context.Context, s *scenarios.Scenario, limits Limits, opt Options) (*Answer, error) {
	line := &s.Study.Alternatives[0].Line
	now := line.Process.Speed
	a := &Answer{Kind: Speed, Of: LineSpeed, Alternative: s.Study.Alternatives[0].Name, Dim: model.Speed, Now: now, Target: Target{Failed: counting(someFail(line), !limits.ButFailed)}}
	q := newSearch(replicate.Remembering(ctx, rememberedOf), s, opt, "line.speed", "m/s")
	here, err := q.at(now)
	if err != nil {
		return nil, err
	}
	if q, here, err = q.forTargets(limits, here); err != nil {
		return nil, err
	}
	z := newSpeeding(q, limits.Bounds(), here)
	var end Constraint
	z.top, end = highestPossible(q, now)
	a.ClosedForm = speedForm(line, limits, here)
	if err := z.bracketAll(a.ClosedForm); err != nil {
		return nil, err
	}
	if a.Most, err = z.mostGood(); err != nil {
		return nil, err
	}
	if err := z.again(); err != nil {
		return nil, err
	}
	for _, l := range z.limits {
		x, err := z.binds(l)
		if err != nil {
			return nil, err
		}
		a.Next = append(a.Next, x)
	}
	slices.SortStableFunc(a.Next, func(x, y Binding) int { return cmp.Compare(x.order(), y.order()) })
	if err := z.answer(a, end); err != nil {
		return nil, err
	}
	if a.Met && a.Value < z.top {
		if a.Again, err = z.holdsAgain(a.Value); err != nil {
			return nil, err
		}
	}
	a.Next = append(a.Next, Binding{Constraint: end, Value: z.top, Low: z.top, High: z.top})
	a.Evidence = z.evidence()
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

// answer is the fastest speed at which every limit holds: that of the first
// that binds. A limit that holds at no speed is no answer, nor is one that too
// little was simulated for.
func (z *speeding) answer(a *Answer, end Constraint) error {
	q, top := z.search, z.top
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
