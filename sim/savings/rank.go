package savings

import (
	"slices"

	"rollchange/model"
	"rollchange/sim/replicate"
)

// Ranking is which of several cases has the highest mean net present value, and
// what the draws show of that. Numbers are those of the alternatives.
type Ranking struct {
	Best   int    // 0: there is no case
	Once   bool   // one replication: nothing is shown
	Gains  bool   // the value of the best is shown to be above 0
	Losses bool   // the values of all are shown to be below 0
	Rivals []int  // not shown to be worth less than the best, highest mean first
	Behind []int  // shown to be worth less, highest mean first
	Lead   Spread // of the best over the first of Behind; none: NaN
	Unlike []int  // not calculated against the best: they have prices of their own
	Steps  Steps  // which of them to choose
}

// Best is the case with the highest mean net present value over the draws; 0
// when there is none. Cases are by alternative, nil where there is none.
func Best(cases []*Case) int {
	best := 0
	for i, c := range cases {
		if c != nil && (best == 0 || c.Random.NPV.Mean > cases[best].Random.NPV.Mean) {
			best = i
		}
	}
	return best
}

// Rank holds the best case against each of the others: as a case of its own,
// drawn anew on the same chance, so that what both hang on cancels.
func Rank(study *model.Study, rs *replicate.Results, cases []*Case, opt Options) Ranking {
	r := Ranking{Best: Best(cases), Once: rs.Run.Replications < 2, Losses: true, Steps: StepsOf(study, rs, cases, opt)}
	if r.Best == 0 {
		return r
	}
	r.Gains = !r.Once && cases[r.Best].Random.NPV.Low > cases[r.Best].Reach[1]
	leads := map[int]Spread{}
	for i, c := range cases {
		if c == nil {
			continue
		}
		r.Losses = r.Losses && !r.Once && c.Random.NPV.High < -c.Reach[1]
		if i == r.Best {
			continue
		}
		lead, err := lead(study, rs, i, r.Best, opt)
		switch {
		case err != nil:
			r.Unlike = append(r.Unlike, i)
		case !r.Once && lead.Low > c.Reach[1]+cases[r.Best].Reach[1]:
			r.Behind, leads[i] = append(r.Behind, i), lead
		default:
			r.Rivals = append(r.Rivals, i)
		}
	}
	higher := func(a, b int) int {
		switch x, y := cases[a].Random.NPV.Mean, cases[b].Random.NPV.Mean; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return a - b
	}
	slices.SortFunc(r.Rivals, higher)
	slices.SortFunc(r.Behind, higher)
	if len(r.Behind) > 0 {
		r.Lead = leads[r.Behind[0]]
	}
	return r
}

// lead is by how much the net present value of alternative b is above that of a.
func lead(study *model.Study, rs *replicate.Results, a, b int, opt Options) (Spread, error) {
	c, err := newCase(study, rs, a, b, opt)
	if err != nil {
		return Spread{}, err
	}
	c.drawn = c.sample()
	npv := make([]float64, c.drawn.n)
	for i := range npv {
		v := c.drawn.row(&c.mean, i)
		npv[i] = c.npvOf(&v)
	}
	return c.spread(npv), nil
}
