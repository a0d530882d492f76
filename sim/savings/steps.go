package savings

import (
	"cmp"
	"slices"

	"rollchange/model"
	"rollchange/sim/replicate"
)

// Verdict is what becomes of a step of investment.
type Verdict int

// The verdicts.
const (
	Pays     Verdict = iota // its net present value is shown to be above 0: it is accepted
	NotShown                // it is shown neither to pay nor to lose
	Loses                   // its net present value is shown to be below 0
)

// Key is its name for programs.
func (v Verdict) Key() string { return [...]string{"accepted", "not_shown", "loses"}[v] }

// Step is one step of investment: an alternative, judged against the last one that was
// accepted before it.
type Step struct {
	From, To int   // numbers of the alternatives
	Case     *Case // of To against From: what only a difference from the first has (Others, Drivers, Swings, Warnings) is not in all of them
	Verdict  Verdict
}

// Steps are the steps of investment of a study, in order of the mean investment;
// those of the same investment in the order of the study. Alternatives exclude each other: one is chosen.
type Steps struct {
	List        []Step
	Recommended int      // the last one accepted; 0: none is
	Best        int      // the highest mean net present value against the first; 0: there is no case
	Once        bool     // one replication: nothing is shown
	TermsDiffer bool     // two of a step have a life, a discount rate, a tax rate or years of depreciation of their own
	Left        []string // names of alternatives that are in no step: they have no case
}

// Several says whether there is more than one alternative to choose from.
func (s *Steps) Several() bool { return s != nil && len(s.List) > 1 }

// Shown is the alternative to tell of in full: the recommended one, else the one
// with the highest mean net present value; 0 when there is no case.
func (s *Steps) Shown() int {
	if s.Recommended > 0 {
		return s.Recommended
	}
	return s.Best
}

// StepsOf judges the alternatives by incremental analysis: from the first, which is to do
// nothing, each in order of investment against the last one accepted. A step is accepted
// when the range of the draws of its net present value lies above 0; one that is not is
// skipped, and the next is judged against the same alternative. Alternatives that exclude each
// other are chosen by the return on each increment of investment, since the one with the
// highest rate of return need not be the one that is worth most, and the dearest of
// those that pay against doing nothing need not pay for its last increment (ASTM E1057 and
// E1074; Newnan, Engineering Economic Analysis, the chapter on incremental analysis;
// Park, Contemporary Engineering Economics; all from memory). Cases are by
// alternative, nil where there is none.
//
// A step is a case of its own: drawn on the same chance, so that prices which
// both sides have cancel, with the covariance of the simulated means of the two.
func StepsOf(study *model.Study, rs *replicate.Results, cases []*Case, opt Options) Steps {
	s := Steps{Best: Best(cases), Once: rs.Run.Replications < 2}
	var order []int
	for i := 1; i < len(cases); i++ {
		if cases[i] == nil {
			s.Left = append(s.Left, study.Alternatives[i].Name)
			continue
		}
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(cases[a].Worth.Investment, cases[b].Worth.Investment) })
	for _, to := range order {
		from := s.Recommended
		c, err := against(study, rs, from, to, cases, opt)
		if err != nil { // prices of its own: it is no step from the last
			s.Left = append(s.Left, study.Alternatives[to].Name)
			continue
		}
		x := Step{from, to, c, c.verdict()}
		s.List = append(s.List, x)
		s.TermsDiffer = s.TermsDiffer || from > 0 && termsDiffer(&study.Alternatives[from].Line.Economics, &study.Alternatives[to].Line.Economics, opt)
		if x.Verdict == Pays {
			s.Recommended = to
		}
	}
	return s
}

// against is the case of an alternative against another.
func against(study *model.Study, rs *replicate.Results, from, to int, cases []*Case, opt Options) (*Case, error) {
	if from == 0 {
		return cases[to], nil
	}
	c, err := newCase(study, rs, from, to, opt)
	if err == nil {
		err = c.priced()
	}
	if err != nil {
		return nil, err
	}
	// Events are counted against the first: where they do not carry the difference
	// of one of the two from that, they do not carry what lies between them.
	c.Few, c.Needed = cases[from].Few || cases[to].Few, max(cases[from].Needed, cases[to].Needed)
	c.drawn = c.sample()
	c.point()
	c.draw()
	return c, nil
}

// verdict is what the draws show of a case. One replication shows nothing, nor do few
// events that may turn it.
func (c *Case) verdict() Verdict {
	switch npv := &c.Random.NPV; {
	case c.Run.Replications < 2:
		return NotShown
	case npv.Low > c.Reach[1]:
		return Pays
	case npv.High < -c.Reach[1]:
		return Loses
	}
	return NotShown
}

// termsDiffer says whether two alternatives value their flows in two ways.
func termsDiffer(a, b *model.Economics, opt Options) bool {
	return !sameDist(a.DiscountRate, b.DiscountRate) || opt.Years == 0 && !sameDist(a.Life, b.Life) ||
		!sameDist(a.TaxRate, b.TaxRate) || !sameDist(a.DepreciationYears, b.DepreciationYears)
}
