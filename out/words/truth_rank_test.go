package words

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// rankTruth is what is said of several savings cases, and what not.
type rankTruth struct {
	truth
	said string
}

// rankedOf calculates the cases of the priced fixture with one alternative more
// for each investment, all but that alike.
func rankedOf(t *testing.T, change changed, investments ...float64) (savings.Ranking, []*savings.Case) {
	t.Helper()
	study, rs := invented.Study(), invented.Results()
	for i := range investments {
		if i > 0 {
			a := study.Alternatives[1]
			a.Name = fmt.Sprint("other ", i)
			study.Alternatives = append(study.Alternatives, a)
			rs.Alternatives, rs.Differences = append(rs.Alternatives, rs.Alternatives[1]), append(rs.Differences, rs.Differences[1])
		}
		study.Alternatives[i+1].Investment = model.Const(investments[i])
	}
	// All alternatives but the first move as one from replication to replication.
	n, k := len(study.Alternatives), len(replicate.JointMetrics)
	rs.Joint = &replicate.Joint{N: 10, Cov: make([][]float64, n*k)}
	for a := range rs.Joint.Cov {
		rs.Joint.Cov[a] = make([]float64, n*k)
		for b := range rs.Joint.Cov[a] {
			if a%k == b%k && (a < k) == (b < k) {
				rs.Joint.Cov[a][b] = invented.Square(rs.Alternatives[a/k].Metrics[replicate.JointMetrics[a%k]].SD)
			}
		}
	}
	if change != nil {
		change(study, rs)
	}
	cases := make([]*savings.Case, n)
	for i := 1; i < n; i++ {
		c, err := savings.New(study, rs, i, savings.Options{Draws: 400})
		require.NoError(t, err)
		cases[i] = c
	}
	return savings.Rank(study, rs, cases, savings.Options{Draws: 400}), cases
}

func rankTruths(t *testing.T) []rankTruth {
	t.Helper()
	if ranked == nil {
		ranked = madeRankTruths(t)
	}
	return ranked
}

// ranked are the truths of rankTruths, made once.
var ranked []rankTruth

func madeRankTruths(t *testing.T) []rankTruth {
	t.Helper()
	noise := func(s *model.Study, rs *replicate.Results) { rs.Joint = nil } // each known against the first alone
	var list []rankTruth
	add := func(what string, change changed, says, never []string, investments ...float64) (savings.Ranking, []*savings.Case) {
		r, cases := rankedOf(t, change, investments...)
		list = append(list, rankTruth{truth{what: what, says: says, never: never}, RankSentence(r, cases)})
		return r, cases
	}
	most := "is worth most"
	add("one case", nil, nil, []string{"worth", "highest"}, 160000)
	add("one is worth most", nil, []string{`"other 1" is worth most: its mean net present value after tax is `, `EUR above that of "zero-speed, 60 m" (`}, []string{"not shown", "None"}, 160000, 100000)
	add("equal ones", nil, []string{`"zero-speed, 60 m" has the highest mean net present value after tax; it is not shown to be worth more than "other 1".`}, []string{most, "None"}, 160000, 160000)
	add("three equal ones", nil, []string{`not shown to be worth more than "other 1" and "other 2".`}, []string{most}, 160000, 160000, 160000)
	add("within the noise", noise, []string{`"other 1" has the highest mean net present value after tax; it is not shown to be worth more than "zero-speed, 60 m".`}, []string{most}, 160000, 159000)
	add("none is shown to be worth it", nil, []string{"None of them is shown to pay for itself. "}, []string{most}, 900000, 901000)
	add("all are losses", nil, []string{"None of them pays for itself: each has a net present value after tax below 0. ", `"zero-speed, 60 m" has the highest mean net present value after tax.`}, []string{most}, 9e6, 10e6)
	add("one replication", func(_ *model.Study, rs *replicate.Results) { *rs = *threeOnce() }, []string{"One replication does not show which of them is worth most."}, []string{"is worth most: ", "highest"}, 160000, 100000)
	r, cases := rankedOf(t, nil, 160000, 100000)
	r.Behind, r.Unlike = nil, []int{1}
	list = append(list, rankTruth{truth{what: "prices of its own", says: []string{`"other 1" has the highest mean net present value after tax. Not compared, because its prices differ: "zero-speed, 60 m".`}, never: []string{most}}, RankSentence(r, cases)})
	return list
}

// threeOnce is one replication of three alternatives.
func threeOnce() *replicate.Results {
	rs := invented.Once()
	rs.Alternatives, rs.Differences = append(rs.Alternatives, rs.Alternatives[1]), append(rs.Differences, rs.Differences[1])
	return rs
}

func TestSentencesOfRankAreTrue(t *testing.T) {
	for _, x := range rankTruths(t) {
		x.check(t, x.said)
	}
}

type solveTruth struct {
	what        string
	s           savings.Solution
	c           *savings.Case
	says, never []string
}

func solveTruths(t *testing.T) []solveTruth {
	t.Helper()
	if solved == nil {
		solved = madeSolveTruths(t)
	}
	return solved
}

// solved are the truths of solveTruths, made once.
var solved []solveTruth

func madeSolveTruths(t *testing.T) []solveTruth {
	t.Helper()
	c, _ := invented.Valued(t, nil)
	reached := func(c *savings.Case, key string, of savings.Measure, value float64) savings.Solution {
		s, err := c.Solve(key, savings.Target{Measure: of, Value: value})
		require.NoError(t, err)
		return s
	}
	solved := func(c *savings.Case, key string) savings.Solution { return reached(c, key, savings.OfNPV, 0) }
	flat, _ := invented.Valued(t, together(fixedPrices, noiseless, alike))
	loss, _ := invented.Valued(t, invest(model.Const(9e6)))
	return []solveTruth{
		{"a gain below", solved(c, "investment"), c, []string{"Break-even: investment of ", `There the mean net present value after tax of "zero-speed, 60 m" is 0; it is positive below that`, "; the scenario has 166,700 EUR (mean)."}, []string{"above", "just", "tried"}},
		{"a gain above", solved(c, "crew_cost"), c, nil, nil},
		{"years", solved(c, "life"), c, []string{"Break-even: life of 2 years; with it the mean net present value after tax of \"zero-speed, 60 m\" is above 0 for the first time; the scenario has 10 years."}, []string{"(mean)"}},
		{"nothing moves it", solved(flat, "price"), flat, []string{"is not above 0 for any contribution of good web tried, ", ", and the same for each: there is no break-even in that range."}, []string{"is above 0", "below"}},
		{"always a gain", savings.Solution{Key: "price", Value: math.NaN(), Always: true, High: 3}, c, []string{"is above 0 for every price tried, 0 to 3: there is no break-even in that range."}, []string{"not above", "same"}},
		{"never a gain", solved(loss, "tape_cost"), loss, []string{"The mean net present value after tax of ", " is not above 0 for any splicing tape tried, ", ": there is no break-even in that range; the best is −", " EUR after tax (mean of the draws), with "}, []string{"same"}},
		{"a payback", reached(c, "investment", savings.OfPayback, 2), c, []string{`A payback of 2 years after tax (median of the draws) of "zero-speed, 60 m" is reached with investment of `, "; it is shorter below that; the scenario has 166,700 EUR (mean)."}, []string{"Break-even", "present"}},
		{"a payback at present value", reached(c, "crew_cost", savings.OfDiscounted, 1.5), c, []string{"A payback at present value of 1.5 years after tax (median", "is reached with cost of an operator hour of ", "; it is shorter above that; the scenario has 34 EUR/h."}, nil},
		{"a rate", reached(c, "demand", savings.OfIRR, 0.5), c, []string{"An internal rate of return of 50 % after tax (median of the draws)", " km; it is higher above that"}, nil},
		{"a value", reached(c, "maintenance", savings.OfNPV, 1e5), c, []string{"A net present value of 100,000 EUR after tax (mean of the draws)", "is reached with maintenance of "}, []string{"median"}},
		{"a payback that no value reaches", reached(loss, "tape_cost", savings.OfPayback, 2), loss, []string{"A payback of 2 years after tax (median of the draws)", " is not reached with any splicing tape tried, ", "; the best is never after tax (median of the draws), with "}, []string{"range"}},
		{"a payback that all reach", reached(c, "tape_cost", savings.OfPayback, 9), c, []string{"is reached with every splicing tape tried, ", ": there is no limit in that range."}, []string{"best"}},
		{"years that reach a rate", reached(c, "life", savings.OfIRR, 0.3), c, []string{"An internal rate of return of 30 % after tax (median of the draws)", "is reached with life of ", " years for the first time; the scenario has 10 years."}, nil},
		{"years that no longer reach a rate", savings.Solution{Target: savings.Target{Measure: savings.OfIRR, Value: 0.6}, Key: "economics.depreciation_years", Unit: "years", Whole: true, Value: 7, Base: math.NaN()}, c, []string{"is no longer reached with years of depreciation of 7 years."}, []string{"first time"}},
		{"twice", savings.Solution{Key: "price", Value: 2, Crossings: 2, GainsAbove: true, Base: math.NaN(), High: 3, Asked: true}, c, []string{"it is positive just above that, within the range tried, 0 to 3."}, []string{"scenario"}},
	}
}

func TestSentencesOfBreakEvenAreTrue(t *testing.T) {
	for _, x := range solveTruths(t) {
		truth{what: x.what, says: x.says, never: x.never}.check(t, SolveText(x.s, x.c, model.Metric))
	}
	assert.Equal(t, 2, solveTruths(t)[len(solveTruths(t))-1].s.Crossings)
}
