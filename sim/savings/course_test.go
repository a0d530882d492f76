package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

func joined(list ...func(*model.Study, *replicate.Results)) func(*model.Study, *replicate.Results) {
	return func(s *model.Study, rs *replicate.Results) {
		for _, f := range list {
			f(s, rs)
		}
	}
}

// given changes the alternative.
func given(change func(*model.Alternative)) func(*model.Study, *replicate.Results) {
	return func(s *model.Study, _ *replicate.Results) { change(&s.Alternatives[1]) }
}

// All of it at once, worked line by line. A demand of 5400 km: by hand 750 h and 600 km of
// waste (account_test.go), automatic 500 h and 225 km. At the prices of year 0 a year saves
//
//	web        0.5 x 0.5 m x 375 km            93,750  + 3 % a year
//	disposal   0.1 x 0.05 kg/m x 375 km         1,875  + 1 %
//	waste sold 0.04 x 0.05 kg/m x -375 km        -750  + 3 %
//	crew       40 x 2 x 250 h x 60 %           12,000  + 2 %
//	line       60 x 250 h                      15,000  + 1 %
//	upkeep                                     -5,000  + 1 %, in full from year 1
//
// and in year 1 half of that is reached, in year 2 four fifths, from year 3 on all.
// Invested: 300,000 in year 0, 200,000 in year 1; started up for 10,000 and 6,000.
// Installed in 300 h of a year of 1000 h, of which 750 are needed: 700 h make
// 5040 km, 360 km are lost, which cost
//
//	contribution 0.2 x 0.5 m x 360 km = 36,000; less waste 40 km: web 10,000, disposal
//	200, sold waste -80; less 50 line hours 3,000; tape 0.25 x 1 m x 180 splices = 45
//
// Tax 25 %; depreciation straight over 4 years, from the year after a part was spent;
// sold for 50,000 after 5 years, of which three fifths go with the first part.
func TestACourseOfYearsByHand(t *testing.T) {
	c := caseOf(t, joined(still, demandOf(5400e3), economics(func(e *model.Economics) {
		e.WasteIncome, e.CrewHoursSaved = model.Const(0.04), model.Const(0.6)
		e.PriceChange, e.MaterialPriceChange, e.WageChange = model.Const(0.01), model.Const(0.03), model.Const(0.02)
		e.TaxRate, e.DepreciationYears, e.Life = model.Const(0.25), model.Const(4), model.Const(5)
	}), given(func(a *model.Alternative) {
		a.InvestmentByYear, a.Salvage = []float64{0.6, 0.4}, model.Const(50000)
		a.StartUp, a.StartUpByYear = model.Const(16000), []float64{10. / 16, 6. / 16}
		a.Installation, a.Learning = model.Const(300*3600), []float64{0.5, 0.8}
	})))
	for k, want := range map[Cause]float64{Contribution: 0, Material: 93750, Disposal: 1875, WasteIncome: -750, CrewHours: 12000, LineHours: 15000, Tape: 0, Maintenance: -5000} {
		assert.InDelta(t, want, c.Save[k].Value, 1e-6, k.Key())
	}
	lost := 36000. - 10000 - 200 + 80 - 3000 - 45
	assert.InDelta(t, lost, c.Random.Lost.Mean, 1e-6)
	assert.InDelta(t, 360e3, c.Random.Stands.Good, 1e-6)
	assert.Equal(t, 1., c.Random.Stands.Share)

	saved := func(year int, reached float64) float64 {
		up := func(x float64) float64 { return math.Pow(1+x, float64(year)) }
		return reached*((93750-750)*up(.03)+(1875+15000)*up(.01)+12000*up(.02)) - 5000*up(.01)
	}
	first, second := (300000-30000)/4., (200000-20000)/4. // charges, in years 1 to 4 and 2 to 5
	s1, s2, s3, s4, s5 := saved(1, .5), saved(2, .8), saved(3, 1), saved(4, 1), saved(5, 1)
	want := []float64{
		-300000 - .75*(10000+lost),
		-200000 - .75*6000 + .75*s1 + .25*first,
		.75*s2 + .25*(first+second),
		.75*s3 + .25*(first+second),
		.75*s4 + .25*(first+second),
		.75*s5 + .25*second + 50000, // sold at its book value of 30,000 and 20,000
	}
	require.Len(t, c.Worth.Flow, 6)
	for i, y := range c.Worth.Flow {
		assert.InDelta(t, want[i], y.Net, 1e-6, "year %d", i)
		assert.InDelta(t, y.Net, c.Random.Tally.Flow[i].Net, 1e-6)
	}
	assert.InDelta(t, 500000, c.Worth.Investment, 1e-6)
	npv := 0.0
	for i, x := range want {
		npv += x / math.Pow(1.1, float64(i))
	}
	assert.InDelta(t, npv, c.Worth.NPV, 1e-6)
	assert.InDelta(t, npv, c.Random.NPV.Mean, 1e-6)
	assert.InDelta(t, npv, c.meanNPV(c.drawn.n, nil), 1e-6)
}

// The plan laid once for a draw is worth what its flows are, whatever differs by year.
func TestLaidPlansAreWorthTheirFlows(t *testing.T) {
	c := caseOf(t, joined(around, economics(func(e *model.Economics) {
		e.TaxRate, e.PriceChange, e.WageChange, e.CrewHoursSaved = model.Const(0.3), model.Dist{Law: model.Uniform, A: -0.05, B: 0.05, Signed: true}, model.Const(0.02), model.Dist{Law: model.Uniform, A: 0, B: 1}
	}), given(func(a *model.Alternative) {
		a.InvestmentByYear, a.StartUp, a.StartUpByYear = []float64{0, 0.5, 0.5}, model.Const(2e4), []float64{0.2, 0.3, 0, 0.5}
		a.Installation, a.Learning = model.Dist{Law: model.Uniform, A: 1e4, B: 1e6}, []float64{0, 0.7}
	})))
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, c.drawn.n-1).Draw(t, "draw")
		v := c.drawn.row(&c.mean, i)
		for _, k := range []index{price, material, disposal, income, crew, line, tape, maintenance0, maintenance1, salvage1, startUp1, investment1} {
			v[k] = rapid.Float64Range(0, 1e5).Draw(t, "amount")
		}
		v[life], v[rate] = float64(rapid.IntRange(1, 30).Draw(t, "life")), rapid.Float64Range(0, 0.5).Draw(t, "rate")
		v[depreciation] = float64(rapid.IntRange(0, 12).Draw(t, "depreciation"))
		a := c.account(&v)
		flows := c.npvOf(&v)
		scale := math.Abs(flows) + math.Abs(a.lost.money)
		for _, x := range a.save {
			scale += math.Abs(x) * v[life] * math.Pow(1.06, v[life])
		}
		if laid := c.npvAt(i, &v, &a); math.Abs(laid-flows) > 1e-10*scale {
			t.Fatalf("%g laid, %g by its flows", laid, flows)
		}
	})
}

// What one alternative is worth against another is what it is worth against today less
// what that one is, whatever differs by year and however much of the crew leaves.
func TestTwoStepsAreOne(t *testing.T) {
	for _, demand := range []float64{4e6, 5400e3, 9000e3, math.Inf(1)} {
		study, rs := studyOf()
		joined(still, economics(func(e *model.Economics) {
			e.WasteIncome, e.TaxRate, e.Life = model.Const(0.04), model.Const(0.25), model.Const(6)
			e.PriceChange, e.WageChange, e.OutputPriceChange = model.Const(0.01), model.Const(0.04), model.Const(-0.02)
			if !math.IsInf(demand, 1) {
				e.Demand = model.Const(demand)
			}
		}))(study, rs)
		b := study.Alternatives[1]
		b.Name, b.Line.Crew.Operators, b.Investment = "both", 1, model.Const(9e5)
		study.Alternatives = append(study.Alternatives, b)
		metrics := replicate.Metrics{}
		for k, e := range rs.Alternatives[1].Metrics {
			metrics[k] = estimate.Estimate{Unit: e.Unit, Mean: e.Mean * 1.2, N: 20}
		}
		rs.Alternatives = append(rs.Alternatives, replicate.Result{Alternative: "both", Metrics: metrics})
		rs.Differences = append(rs.Differences, rs.Differences[1])
		a1, a2 := &study.Alternatives[1], &study.Alternatives[2]
		a1.Learning, a2.Learning = []float64{0.9}, []float64{0.3, 0.6}
		a1.Installation, a2.Installation = model.Const(250*3600), model.Const(400*3600)
		a1.StartUp, a2.StartUp, a2.StartUpByYear = model.Const(1e4), model.Const(3e4), []float64{0.5, 0.5}
		a2.InvestmentByYear = []float64{0.5, 0.25, 0, 0.25}
		a1.Line.Economics.CrewHoursSaved, a2.Line.Economics.CrewHoursSaved = model.Const(0.3), model.Const(0.9)
		worth := func(from, to int) float64 {
			c, err := newCase(study, rs, from, to, Options{Draws: 1})
			require.NoError(t, err)
			c.drawn = c.sample()
			flows, laid := c.npvOf(&c.mean), 0.0
			a := c.account(&c.mean)
			laid = c.npvAt(0, &c.mean, &a)
			assert.InEpsilon(t, flows, laid, 1e-9)
			return flows
		}
		assert.InEpsilon(t, worth(0, 2)-worth(0, 1), worth(1, 2), 1e-9, "a demand of %g", demand)
	}
}

// Where the year has time enough nothing is lost; where all that is made is sold, all of
// the time is.
func TestWhatIsLostWhileTheLineStands(t *testing.T) {
	stands := given(func(a *model.Alternative) { a.Installation = model.Const(100 * 3600) })
	c := caseOf(t, joined(still, stands, demandOf(5400e3)))
	assert.Zero(t, c.Random.Lost.Mean, "750 of 1000 h are needed")
	assert.Zero(t, c.Random.Stands.Share)
	assert.Equal(t, caseOf(t, joined(still, demandOf(5400e3))).Worth.NPV, c.Worth.NPV)

	c = caseOf(t, joined(still, stands))
	// 720 km less, with 80 km of waste: 0.1 x 720 km - 0.255 x 80 km - 100 x 60 - 0.25 x 360
	assert.InDelta(t, 72000-20000-400-6000-90, c.Random.Lost.Mean, 1e-6)
	assert.InDelta(t, 720e3, c.Random.Stands.Good, 1e-6)

	// The demand lies so that half of its draws need the time.
	c = caseOf(t, joined(still, stands, economics(func(e *model.Economics) {
		e.Demand = model.Dist{Law: model.Uniform, A: 5760e3, B: 7200e3} // 900 h make 6480 km
	})))
	assert.InDelta(t, 0.5, c.Random.Stands.Share, 0.045, "2000 draws, 4 sigma")
	assert.InDelta(t, 180e3, c.Random.Stands.Good, 20e3, "the mean of 0 to 720 km in half of them")

	study, rs := studyOf()
	joined(stands, demandOf(7000e3), economics(func(e *model.Economics) { e.Price = model.Dist{} }))(study, rs)
	_, err := New(study, rs, 1, Options{Draws: 100})
	var needs *NeedsError
	require.ErrorAs(t, err, &needs, "what is lost has no price")
	assert.Equal(t, []string{"economics.price"}, keysOf(needs))
}

// Of freed hours a share leaves; hours that are needed more cost in full.
func TestOperatorHoursThatLeave(t *testing.T) {
	leaves := economics(func(e *model.Economics) { e.CrewHoursSaved = model.Const(0.6) })
	c := caseOf(t, joined(still, leaves, demandOf(5400e3)))
	assert.InDelta(t, 0.6*20000, c.Save[CrewHours].Value, 1e-6)
	more := given(func(a *model.Alternative) { a.Line.Crew.Operators = 4 })
	c = caseOf(t, joined(still, leaves, more, demandOf(5400e3)))
	assert.InDelta(t, 40*(1500-2000), c.Save[CrewHours].Value, 1e-6)
	_, err := caseOf(t, leaves).Solve("crew_hours_saved", Target{})
	assert.NoError(t, err)
}

// Nominal figures and a nominal rate, or real ones and a real rate: the same worth before
// tax, where nothing is sold at the end, since 1 + nominal = (1 + real) (1 + inflation)
// (Handbook 135, chapter 3, from memory).
func TestNominalIsReal(t *testing.T) {
	const inflation, wages = 0.025, 0.012
	both := func(e *model.Economics) { e.Demand, e.Life = model.Const(5400e3), model.Const(12) }
	genuine := caseOf(t, joined(still, economics(func(e *model.Economics) { both(e); e.WageChange = model.Const(wages) })))
	nominal := caseOf(t, joined(still, economics(func(e *model.Economics) {
		both(e)
		e.DiscountRate = model.Const(1.1*(1+inflation) - 1)
		e.PriceChange, e.WageChange = model.Const(inflation), model.Const((1+wages)*(1+inflation)-1)
	})))
	assert.InEpsilon(t, genuine.Worth.NPV, nominal.Worth.NPV, 1e-12)
	assert.InEpsilon(t, genuine.Worth.Discounted, nominal.Worth.Discounted, 1e-12)
	assert.InEpsilon(t, 1+nominal.Worth.IRR(), (1+genuine.Worth.IRR())*(1+inflation), 1e-9)
	assert.InEpsilon(t, genuine.Total.Value, nominal.Total.Value, 1e-12, "a year at the prices of year 0")
}

// What is to be spent after the life is not, and that is said.
func TestSpendingAfterTheLife(t *testing.T) {
	c := caseOf(t, joined(still, economics(func(e *model.Economics) {
		e.Life, e.TaxRate = model.Dist{Law: model.Uniform, A: 4.5, B: 8.5}, model.Const(0.2)
	}),
		given(func(a *model.Alternative) {
			a.InvestmentByYear = []float64{0.8, 0, 0, 0, 0, 0, 0.2}
			a.Salvage = model.Const(1e4)
		})))
	late := warned(t, c, SpentTooLate)
	assert.InDelta(t, 0.25, late.Share, 0.04, "lives of 5 years, 2000 draws, 4 sigma")
	assert.InDelta(t, 5e5*(0.8+0.2*(1-late.Share)), c.Random.Investment.Mean, 1e-6)
	assert.NotContains(t, names(caseOf(t, nil)), "spent_too_late")

	one := caseOf(t, joined(still, given(func(a *model.Alternative) { a.InvestmentByYear, a.Salvage = []float64{0.8, 0, 0.2}, model.Const(1e4) }),
		economics(func(e *model.Economics) { e.Life = model.Const(1) })))
	assert.InDelta(t, 4e5, one.Worth.Investment, 1e-6)
	assert.InDelta(t, 1e4, one.Worth.Salvage, 1e-9)
	assert.InDelta(t, -4e5+(one.Total.Value+1e4)/1.1, one.Worth.NPV, 1e-6)
}

// Nothing in year 0 and all in year 1: the payback counts from year 0, and it is none
// before anything was spent.
func TestPaybackOfALateInvestment(t *testing.T) {
	c := caseOf(t, joined(still, given(func(a *model.Alternative) { a.InvestmentByYear, a.Learning = []float64{0, 1}, []float64{0} })))
	// -505,000 in year 1 with its maintenance, then 443,800 a year.
	assert.InDelta(t, 2+(505000-443800)/443800., c.Worth.Simple, 1e-12)
	assert.InDelta(t, 1, c.Random.Invests, 0)
	assert.Equal(t, finance.Payback([]float64{0, -505000, 443800, 443800}), c.Worth.Simple)
}
