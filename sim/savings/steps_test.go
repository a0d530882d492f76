package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// way is an alternative of a worked table: what it costs, what it saves every year.
type way struct {
	name        string
	cost, saves float64
}

// worked is a study without chance in which the alternatives save what the table
// says, as maintenance that the first needs and they do not.
func worked(years, rate float64, ways ...way) (*model.Study, *replicate.Results) {
	const first = 10000 // currency a year
	study, rs := studyOf()
	economics(func(e *model.Economics) {
		*e = model.Economics{Currency: "USD", HoursPerYear: e.HoursPerYear, Demand: model.Const(5400e3), DiscountRate: model.Const(rate), Life: model.Const(years)}
	})(study, rs)
	still := replicate.Metrics{}
	for k, e := range rs.Alternatives[0].Metrics {
		e.SD, e.HalfWidth, e.Low, e.High = 0, 0, e.Mean, e.Mean
		still[k] = e
	}
	same := replicate.Metrics{}
	for k, e := range still {
		e.Mean, e.Low, e.High = 0, 0, 0
		same[k] = e
	}
	base := study.Alternatives[0]
	base.Maintenance = model.Const(first)
	study.Alternatives, rs.Alternatives, rs.Differences = []model.Alternative{base}, []replicate.Result{{Alternative: base.Name, Metrics: still}}, []replicate.Metrics{nil}
	for _, w := range ways {
		a := base
		a.Name, a.Investment, a.Maintenance = w.name, model.Const(w.cost), model.Const(first-w.saves)
		study.Alternatives = append(study.Alternatives, a)
		rs.Alternatives, rs.Differences = append(rs.Alternatives, replicate.Result{Alternative: a.Name, Metrics: still}), append(rs.Differences, same)
	}
	return study, rs
}

func stepsOf(t *testing.T, study *model.Study, rs *replicate.Results, draws int) (Steps, []*Case) {
	t.Helper()
	opt := Options{Draws: draws}
	cases := make([]*Case, len(study.Alternatives))
	for i := 1; i < len(cases); i++ {
		c, err := New(study, rs, i, opt)
		require.NoError(t, err)
		cases[i] = c
	}
	return StepsOf(study, rs, cases, opt), cases
}

// path is who was judged against whom, and what became of it.
func path(study *model.Study, s Steps) []string {
	var list []string
	for _, x := range s.List {
		list = append(list, study.Alternatives[x.From].Name+" > "+study.Alternatives[x.To].Name+": "+x.Verdict.Key())
	}
	return list
}

// Three mutually exclusive alternatives of 20 years at 6 %, after an example of Newnan,
// Engineering Economic Analysis (incremental analysis; the costs and benefits from memory,
// each figure worked here). (P/A, 6 %, 20) = (1 - 1.06^-20) / 0.06 = 11.469921:
//
//	       cost  a year   NPV at 6 %                    rate of return
//	A     2,000     410   410 x 11.469921 - 2,000       20 %: 2,000 / 410 = 4.8780, (P/A, 20 %, 20) = 4.8696
//	B     4,000     639   639 x 11.469921 - 4,000       15 %: 4,000 / 639 = 6.2598, (P/A, 15 %, 20) = 6.2593
//	C     5,000     700   700 x 11.469921 - 5,000       12.7 %
//	B - A 2,000     229   229 x 11.469921 - 2,000 > 0   9.6 %: above 6 %, B is accepted
//	C - B 1,000      61    61 x 11.469921 - 1,000 < 0   2.0 %: below 6 %, C is refused
//
// A has the highest rate of return, and B is worth most: the increments say so, the
// rates of the whole do not.
func TestStepsOfATextbook(t *testing.T) {
	study, rs := worked(20, 0.06, way{"C", 5000, 700}, way{"A", 2000, 410}, way{"B", 4000, 639})
	s, cases := stepsOf(t, study, rs, 100)
	assert.Equal(t, []string{"by hand > A: accepted", "A > B: accepted", "B > C: loses"}, path(study, s))
	assert.Equal(t, 3, s.Recommended)
	assert.Equal(t, 3, s.Best, "and by net present value")
	upv := (1 - math.Pow(1.06, -20)) / 0.06
	assert.InDelta(t, 11.469921, upv, 5e-7)
	for i, want := range []struct{ cost, a, irr float64 }{{2000, 410, 0.1996}, {2000, 229, 0.0963}, {1000, 61, 0.0197}} {
		r := s.List[i].Case.Random
		assert.InDelta(t, want.cost, r.Investment.Mean, 1e-9)
		assert.InDelta(t, want.a, r.Total.Mean, 1e-9)
		assert.InDelta(t, want.a*upv-want.cost, r.NPV.Mean, 1e-6)
		assert.InDelta(t, want.irr, r.IRR.Median, 5e-5)
		assert.InDelta(t, want.cost, want.a*(1-math.Pow(1+r.IRR.Median, -20))/r.IRR.Median, 1e-6, "at its rate of return a step is worth nothing")
		assert.InDelta(t, want.cost/want.a, r.Simple.Median, 1e-9)
	}
	// 229 a year at present value, years 1 to 12: 1,919.92; year 13 adds 107.36.
	sum := 229 * (1 - math.Pow(1.06, -12)) / 0.06
	assert.InDelta(t, 12+(2000-sum)*math.Pow(1.06, 13)/229, s.List[1].Case.Random.Discounted.Median, 1e-9)
	assert.True(t, math.IsInf(s.List[2].Case.Random.Discounted.Median, 1), "C never pays for its step at 6 %")
	assert.Greater(t, cases[2].Random.IRR.Median, cases[3].Random.IRR.Median, "A has the highest rate of return")
	assert.Greater(t, cases[3].Random.IRR.Median, cases[1].Random.IRR.Median)
}

// Worked by hand, 10 years at 10 %, (P/A) = 6.144567: B is refused against A (300 x 6.144567 =
// 1,843 for 2,000 more), so C is judged against A (900 x 6.144567 = 5,530 for 5,000 more) and not against B.
// D then costs as much as C and saves less.
func TestARefusedStepIsSkipped(t *testing.T) {
	study, rs := worked(10, 0.1, way{"A", 1000, 400}, way{"B", 3000, 700}, way{"C", 6000, 1300}, way{"D", 6000, 1200})
	s, _ := stepsOf(t, study, rs, 100)
	assert.Equal(t, []string{"by hand > A: accepted", "A > B: loses", "A > C: accepted", "C > D: loses"}, path(study, s))
	assert.InDelta(t, 900*6.144567106-5000, s.List[2].Case.Random.NPV.Mean, 1e-4)
	assert.True(t, math.IsNaN(s.List[3].Case.Random.Simple.Median), "nothing more is invested")
	// Of the same investment the first of the list comes first, and the other has to be better.
	study, rs = worked(10, 0.1, way{"A", 1000, 400}, way{"D", 6000, 1200}, way{"C", 6000, 1300})
	s, _ = stepsOf(t, study, rs, 100)
	assert.Equal(t, []string{"by hand > A: accepted", "A > D: loses", "A > C: accepted"}, path(study, s))
	study, rs = worked(10, 0.1, way{"C", 6000, 1300}, way{"D", 6000, 1300})
	s, _ = stepsOf(t, study, rs, 100)
	assert.Equal(t, []string{"by hand > C: accepted", "C > D: not_shown"}, path(study, s), "what adds nothing is not accepted")
	study, rs = worked(10, 0.1, way{"A", 1000, 100}, way{"B", 900, 100})
	s, _ = stepsOf(t, study, rs, 100)
	assert.Equal(t, []string{"by hand > B: loses", "by hand > A: loses"}, path(study, s))
	assert.Zero(t, s.Recommended)
	assert.Equal(t, 2, s.Shown(), "the one that loses least is told of")
}

// The step between two alternatives is what one is worth more than the other, whatever
// limits what is sold and whatever each has of its own.
func TestStepsAddUp(t *testing.T) {
	for _, demand := range []float64{0, 5400e3, 9000e3, 11200e3} {
		study, rs := threeWays(3.3, 0)
		quiet := func(m replicate.Metrics) {
			for k, e := range m {
				e.SD, e.HalfWidth = 0, 0
				m[k] = e
			}
		}
		for i := range rs.Alternatives {
			quiet(rs.Alternatives[i].Metrics)
			quiet(rs.Differences[i])
		}
		economics(func(e *model.Economics) {
			e.TaxRate, e.DepreciationYears = model.Const(0.25), model.Const(6)
			if demand > 0 {
				e.Demand = model.Const(demand)
			}
		})(study, rs)
		study.Alternatives[0].Investment, study.Alternatives[0].Salvage = model.Const(20000), model.Const(1000)
		study.Alternatives[1].Salvage = model.Const(30000)
		study.Alternatives[2].Investment, study.Alternatives[2].Maintenance, study.Alternatives[2].Salvage = model.Const(560000), model.Const(9000), model.Const(70000)
		study.Alternatives[2].Line.Economics.HoursPerYear = model.Const(1200 * 3600)
		study.Alternatives[2].Line.Crew.Operators, study.Alternatives[2].Line.Web.Width = 3, 0.52
		s, cases := stepsOf(t, study, rs, 100)
		require.Equal(t, 1, s.List[1].From)
		a, b, step := cases[1].Random, cases[2].Random, s.List[1].Case
		assert.InDelta(t, b.NPV.Mean-a.NPV.Mean, step.Random.NPV.Mean, 1e-6, "demand %g", demand)
		assert.InDelta(t, b.Total.Mean-a.Total.Mean, step.Random.Total.Mean, 1e-6)
		for k := range Causes {
			assert.InDelta(t, b.Save[k].Mean-a.Save[k].Mean, step.Random.Save[k].Mean, 1e-6, k.Key())
		}
		assert.InDelta(t, b.Investment.Mean-a.Investment.Mean, step.Random.Investment.Mean, 1e-9)
		assert.Equal(t, [2]float64{1000 * 3600, 1200 * 3600}, step.Hours, "planned hours of each side")
		assert.True(t, step.HoursDiffer)
	}
}

// What both sides hang on cancels in the draws of a step: with a price that nobody knows
// its net present value varies far less than as if the two had nothing in common.
func TestCommonPricesCancelInAStep(t *testing.T) {
	study, rs := threeWays(3.2, 0.01)
	economics(func(e *model.Economics) {
		e.Price, e.MaterialCost = model.Dist{Law: model.Uniform, A: 0.05, B: 0.5}, model.Dist{Law: model.Lognormal, A: 0.5, B: 0.1}
	})(study, rs)
	s, cases := stepsOf(t, study, rs, 2000)
	require.Equal(t, 1, s.List[1].From)
	square := func(c *Case) float64 { return math.Pow(c.Random.NPV.High-c.Random.NPV.Low, 2) }
	apart, step := square(cases[1])+square(cases[2]), square(s.List[1].Case)
	assert.Less(t, step, apart/20)
	assert.Greater(t, step, 0.)
	assert.Equal(t, Pays, s.List[1].Verdict)
	assert.Less(t, cases[2].Random.NPV.Low, cases[1].Random.NPV.High, "side by side the two overlap")
	// So does what moves together from replication to replication.
	noisy := func(both float64) float64 {
		study, rs := threeWays(3.2, 0.5)
		n := len(replicate.JointMetrics)
		rs.Joint = &replicate.Joint{N: 20, Cov: make([][]float64, 3*n)}
		for a := range rs.Joint.Cov {
			rs.Joint.Cov[a] = make([]float64, 3*n)
		}
		c := rs.Joint.Cov
		c[n][n], c[2*n][2*n], c[n][2*n], c[2*n][n] = 0.25, 0.25, both, both
		s, _ := stepsOf(t, study, rs, 2000)
		return square(s.List[1].Case)
	}
	assert.Less(t, noisy(0.2499), noisy(0)/100)
}

// trial is a study whose dearest alternative is worth about 1.5 million more than doing
// nothing, and hardly more than a cheaper automatic one.
func trial() (*model.Study, *replicate.Results) {
	study, rs := threeWays(3.2, 0.277)
	study.Alternatives[1].Name, study.Alternatives[2].Name = "automatic", "automatic, larger storage"
	study.Alternatives[1].Investment, study.Alternatives[2].Investment = model.Const(1195000), model.Const(1374000)
	economics(func(e *model.Economics) { e.Price = model.Const(0.1817) })(study, rs)
	return study, rs
}

// An alternative may be worth a great deal against doing nothing, while the step to it is
// not shown to be worth anything: then it is the cheaper one that is recommended.
func TestADearStepThatIsNotShownToPay(t *testing.T) {
	study, rs := trial()
	s, cases := stepsOf(t, study, rs, 4000)
	dear := cases[2].Random
	assert.InEpsilon(t, 1.51e6, dear.NPV.Mean, 0.02)
	assert.Greater(t, dear.NPV.Low, 1e6, "against doing nothing it is beyond doubt")
	step := s.List[1]
	require.Equal(t, Step{1, 2, step.Case, NotShown}, step)
	npv := step.Case.Random.NPV
	assert.InEpsilon(t, 172000, npv.Mean, 0.1)
	assert.InEpsilon(t, 345000, (npv.High-npv.Low)/2, 0.1)
	assert.Equal(t, 2, s.Best, "the dear one has the highest mean")
	assert.Equal(t, 1, s.Recommended)
	assert.Equal(t, 1, s.Shown())
	assert.Greater(t, step.Case.Random.Gains, 0.7)
	assert.Less(t, step.Case.Random.Gains, 0.95)
}

// Nothing is shown by one replication, nor by a difference that few events carry.
func TestStepsThatNothingShows(t *testing.T) {
	study, rs := threeWays(3.5, 0.01)
	s, _ := stepsOf(t, study, rs, 200)
	assert.Equal(t, []string{"by hand > automatic: accepted", "automatic > other: accepted"}, path(study, s))
	rs.Run.Replications = 1
	s, _ = stepsOf(t, study, rs, 200)
	assert.True(t, s.Once)
	assert.Equal(t, []string{"by hand > automatic: not_shown", "by hand > other: not_shown"}, path(study, s))
	study, rs = threeWays(3.5, 0.3)
	d := rs.Differences[2]["good_rate"]
	d.Why, d.Needed, d.Low, d.High, d.HalfWidth = estimate.TooFew, 40, math.NaN(), math.NaN(), math.NaN()
	rs.Differences[2]["good_rate"] = d
	s, _ = stepsOf(t, study, rs, 200)
	assert.Equal(t, []string{"by hand > automatic: accepted", "automatic > other: not_shown"}, path(study, s))
	assert.True(t, s.List[1].Case.Few)
	assert.Equal(t, 40, s.List[1].Case.Needed)
	study, rs = threeWays(3.5, 0.001)
	d.SD = 0.001
	rs.Differences[2]["good_rate"] = d
	s, _ = stepsOf(t, study, rs, 200)
	assert.Equal(t, []string{"by hand > automatic: accepted", "automatic > other: accepted"}, path(study, s), "far beyond what few events can turn")
	assert.True(t, s.List[1].Case.Few, "its range is too narrow none the less")
}

// What has no case, or prices of its own, is in no step; what values its flows in its
// own way is, and that is said.
func TestStepsOfWhatIsNotAlike(t *testing.T) {
	study, rs := threeWays(3.5, 0.01)
	s, cases := stepsOf(t, study, rs, 200)
	assert.False(t, s.TermsDiffer)
	assert.Equal(t, s.List[1].Case.Random.NPV, ranksteps(study, rs, cases).List[1].Case.Random.NPV, "the ranking has the same")
	study.Alternatives[2].Line.Economics.Price = model.Const(1)
	s = StepsOf(study, rs, cases, Options{Draws: 200})
	assert.Equal(t, []string{"other"}, s.Left)
	assert.Len(t, s.List, 1)
	assert.False(t, s.Several())
	cases[1] = nil
	study, rs = threeWays(3.5, 0.01)
	s = StepsOf(study, rs, cases, Options{Draws: 200})
	assert.Equal(t, []string{"automatic"}, s.Left)
	assert.Equal(t, []string{"by hand > other: accepted"}, path(study, s))
	study.Alternatives[2].Line.Economics.Life = model.Const(8)
	s, _ = stepsOf(t, study, rs, 200)
	assert.True(t, s.TermsDiffer)
	assert.Equal(t, 8, s.List[1].Case.Worth.Life, "that of the alternative that the step leads to")
	none := StepsOf(study, rs, make([]*Case, 3), Options{})
	assert.Zero(t, none.Shown())
	assert.False(t, (*Steps)(nil).Several())
}

func ranksteps(study *model.Study, rs *replicate.Results, cases []*Case) Steps {
	return Rank(study, rs, cases, Options{Draws: 200}).Steps
}

func BenchmarkSteps(b *testing.B) {
	study, rs := trial()
	opt := Options{Draws: DefaultDraws}
	for b.Loop() {
		cases := make([]*Case, 3)
		for i := 1; i < 3; i++ {
			cases[i], _ = New(study, rs, i, opt)
		}
		s := StepsOf(study, rs, cases, opt)
		if s.Recommended != 1 {
			b.Fatal(s.Recommended)
		}
	}
}
