package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// The half width of the total is that of a linear sum: contribution 0.1 h of
// good web and so on, from the variances and the paired difference by hand.
func TestHalfWidthOfAPairedDifference(t *testing.T) {
	c := caseOf(t, economics(func(e *model.Economics) {
		e.MaterialCost, e.DisposalCost, e.TapeCost = model.Dist{}, model.Dist{}, model.Dist{}
	}))
	half := 0.03 * estimate.StudentT(0.975, 19) / math.Sqrt(20) // m/s, of the difference
	assert.InDelta(t, 0.2*0.5*1000*3600*half, c.Total.HalfWidth, 1e-3)
	assert.InDelta(t, c.Total.HalfWidth, c.Save[Contribution].HalfWidth, 1e-9)
	// The draws lie as the half width says: 2.5 and 97.5 % quantiles, 2000 draws.
	s := c.Random.Total
	assert.InEpsilon(t, 2*c.Total.HalfWidth, s.High-s.Low, 0.1)
	assert.InDelta(t, c.Total.Value, s.Mean, 5*(s.High-s.Low)/4/math.Sqrt(2000))
}

// One input that varies alone: the net present value is linear in it, so its
// quantiles follow, and it is all of the spread.
func TestOneUncertainInput(t *testing.T) {
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		for i := range rs.Alternatives {
			for k, e := range rs.Alternatives[i].Metrics {
				e.SD, e.HalfWidth = 0, 0
				rs.Alternatives[i].Metrics[k] = e
			}
		}
		for k, e := range rs.Differences[1] {
			e.SD, e.HalfWidth = 0, 0
			rs.Differences[1][k] = e
		}
		s.Alternatives[1].Investment = model.Dist{Law: model.Uniform, A: 400000, B: 600000}
	})
	require.Len(t, c.Drivers, 1)
	assert.InDelta(t, -1, c.Drivers[0].Rank, 1e-12)
	assert.Equal(t, 1., c.Drivers[0].Share)
	assert.InDelta(t, 0.95*200000, c.Random.NPV.High-c.Random.NPV.Low, 6000, "2000 draws")
	assert.Zero(t, c.Total.HalfWidth)
}

func TestChanceOfPayback(t *testing.T) {
	c := caseOf(t, func(s *model.Study, _ *replicate.Results) {
		s.Alternatives[1].Investment = model.Dist{Law: model.Uniform, A: 0, B: 2 * 443800}
	})
	by := c.Random.ByYear
	assert.InDelta(t, 0.5, by[0].Simple, 0.05, "half of the investments are below a year's saving: 2000 draws, 4 sigma")
	for i := 1; i < len(by); i++ {
		assert.GreaterOrEqual(t, by[i].Simple, by[i-1].Simple)
		assert.GreaterOrEqual(t, by[i].Simple, by[i].Discounted)
	}
	assert.Equal(t, c.Random.PaysBack.Discounted, by[len(by)-1].Discounted)
	assert.InDelta(t, c.Random.Gains, c.Random.PaysBack.Discounted, 1e-12, "without salvage, paid back at present value is worth it")
}

func TestTheSameSeedDrawsTheSame(t *testing.T) {
	change := func(s *model.Study, _ *replicate.Results) {
		s.Alternatives[1].Investment = model.Dist{Law: model.Lognormal, A: 5e5, B: 1e5}
	}
	a, b := caseOf(t, change), caseOf(t, change)
	assert.Equal(t, a.Random, b.Random)
	assert.Equal(t, a.Drivers, b.Drivers)
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) { change(s, rs); rs.Run.Seed = 2 })
	assert.NotEqual(t, a.Random.NPV, c.Random.NPV)
}

// A lower triangle squared is the covariance, singular ones too.
func TestCholesky(t *testing.T) {
	_, rs := studyOf()
	a := covariance(rs, 0, 1)
	a[2][5], a[5][2] = a[2][2], a[2][2] // move as one
	l := cholesky(a)
	for i := range a {
		for j := range a {
			sum := 0.0
			for k := range a {
				sum += l[i][k] * l[j][k]
			}
			assert.InDelta(t, a[i][j], sum, 1e-12*math.Sqrt(a[i][i]*a[j][j]))
		}
	}
}

// Spearman's own form for untied ranks, 1 - 6 sum d² / (n (n² - 1)); the IQ
// and television example of Wikipedia's article (from memory): -0.1757575...
func TestRankCorrelation(t *testing.T) {
	iq := []float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}
	tv := []float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17}
	assert.InDelta(t, -29./165, correlation(portable.Ranks(iq), portable.Ranks(tv)), 1e-12)
	assert.Zero(t, correlation([]float64{1, 1}, []float64{2, 3}))
}

func BenchmarkDraws(b *testing.B) { benchmarkDraws(b, nil) }

// Where years differ, and everything is given.
func BenchmarkDrawsByYear(b *testing.B) {
	benchmarkDraws(b, joined(economics(func(e *model.Economics) {
		e.WasteIncome, e.CrewHoursSaved, e.PriceChange, e.WageChange = model.Const(0.04), model.Dist{Law: model.Uniform, A: 0.4, B: 0.8}, model.Const(0.01), model.Dist{Law: model.Uniform, A: 0, B: 0.03}
	}), given(func(a *model.Alternative) {
		a.InvestmentByYear, a.StartUp, a.Installation, a.Learning = []float64{0.6, 0.4}, model.Const(1e4), model.Const(100*3600), []float64{0.5, 0.8}
	})))
}

func benchmarkDraws(b *testing.B, change func(*model.Study, *replicate.Results)) {
	study, rs := studyOf()
	if change != nil {
		change(study, rs)
	}
	for i := range study.Alternatives {
		e := &study.Alternatives[i].Line.Economics
		e.Price = model.Dist{Law: model.Lognormal, A: 0.2, B: 0.03}
		e.Demand = model.Dist{Law: model.Triangular, A: 6e6, B: 8e6, C: 11e6}
		e.TaxRate, e.DepreciationYears = model.Const(0.25), model.Const(8)
	}
	for b.Loop() {
		if _, err := New(study, rs, 1, Options{Draws: 10000}); err != nil {
			b.Fatal(err)
		}
	}
}
