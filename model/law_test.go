package model

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// outside is a law as gonum/stat/distuv has it (gonum v0.17.0).
type outside interface {
	Mean() float64
	StdDev() float64
	CDF(float64) float64
	Survival(float64) float64
	Quantile(float64) float64
}

func TestLawsAgainstGonum(t *testing.T) {
	mu, sigma := Dist{Law: Lognormal, A: 60, B: 30}.LognormalParams()
	for _, c := range []struct {
		d    Dist
		want outside
	}{
		{Dist{Law: Exponential, A: 60}, distuv.Exponential{Rate: 1. / 60}},
		{Dist{Law: Normal, A: 3, B: 2, Signed: true}, distuv.Normal{Mu: 3, Sigma: 2}},
		{Dist{Law: Lognormal, A: 60, B: 30}, distuv.LogNormal{Mu: mu, Sigma: sigma}},
		{Dist{Law: Uniform, A: 30, B: 90}, distuv.Uniform{Min: 30, Max: 90}},
		{Dist{Law: Triangular, A: 1, B: 2, C: 9}, distuv.NewTriangle(1, 9, 2, nil)},
		{Dist{Law: Triangular, A: 1, B: 9, C: 9}, distuv.NewTriangle(1, 9, 9, nil)},
		{Dist{Law: Gamma, A: 0.8, B: 40}, distuv.Gamma{Alpha: 0.8, Beta: 1. / 40}},
		{Dist{Law: Gamma, A: 25, B: 2}, distuv.Gamma{Alpha: 25, Beta: 0.5}},
		{Dist{Law: Gamma, A: 900, B: 0.1}, distuv.Gamma{Alpha: 900, Beta: 10}},
		{Dist{Law: Weibull, A: 2.2, B: 83}, distuv.Weibull{K: 2.2, Lambda: 83}},
		{Dist{Law: Weibull, A: 0.6, B: 83}, distuv.Weibull{K: 0.6, Lambda: 83}},
	} {
		require.NoError(t, c.d.Validate(), "%v", c.d)
		assert.InEpsilon(t, c.want.Mean(), c.d.Mean(), 1e-12, "%v mean", c.d)
		assert.InEpsilon(t, c.want.StdDev(), c.d.SD(), 1e-10, "%v sd", c.d)
		for _, p := range []float64{1e-6, 0.01, 0.25, 0.5, 0.75, 0.99, 0.999999} {
			x := c.want.Quantile(p)
			assert.InEpsilon(t, x, c.d.Quantile(p), 1e-8, "%v quantile %g", c.d, p)
			assert.InEpsilon(t, c.want.CDF(x), c.d.cdf(x), 1e-8, "%v cdf %g", c.d, p)
			assert.InEpsilon(t, c.want.Survival(x), c.d.survival(x), 1e-8, "%v survival %g", c.d, p)
		}
		if c.d.Law.Shifts() { // the same, 30 later
			later := c.d
			later.Least = 30
			if c.d.Law == Exponential || c.d.Law == Lognormal {
				later.A += 30
			}
			require.NoError(t, later.Validate(), "%v", later)
			assert.InEpsilon(t, c.want.Mean()+30, later.Mean(), 1e-12, "%v mean", later)
			assert.InEpsilon(t, c.want.StdDev(), later.SD(), 1e-10, "%v sd", later)
			for _, p := range []float64{1e-6, 0.25, 0.5, 0.99, 0.999999} {
				x := c.want.Quantile(p)
				assert.InEpsilon(t, x+30, later.Quantile(p), 1e-8, "%v quantile %g", later, p)
				assert.InEpsilon(t, c.want.CDF(x), later.cdf(x+30), 1e-7, "%v cdf %g", later, p)
				assert.InEpsilon(t, c.want.Survival(x), later.survival(x+30), 1e-7, "%v survival %g", later, p)
			}
			assert.Equal(t, []float64{1, 1, 0}, []float64{later.survival(20), later.SurvivalFrom(30), later.cdf(20)}, "%v: nothing below the least", later)
			assert.Equal(t, 30.0, later.Min())
		}
	}
}

// A law with rising CDF: its quantile is the inverse, tails add to 1, and its
// mean and sd are the integrals of the survival function,
//
//	E X = low + integral of S,   E (X-low)² = 2 * integral of (x-low) S(x).
func TestEveryLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.5, 100).Draw(t, "a")
		b := rapid.Float64Range(0.5, 100).Draw(t, "b")
		c := rapid.Float64Range(0.5, 100).Draw(t, "c")
		shape := rapid.Float64Range(0.4, 60).Draw(t, "shape")
		d := rapid.SampledFrom([]Dist{
			{Law: Exponential, A: a}, {Law: Lognormal, A: a, B: b}, {Law: Uniform, A: a, B: a + b},
			{Law: Normal, A: a, B: b}, {Law: Normal, A: -a, B: b, Signed: true},
			{Law: Triangular, A: a, B: a + b, C: a + b + c}, {Law: Triangular, A: a, B: a, C: a + b},
			{Law: Gamma, A: shape, B: b}, {Law: Weibull, A: shape, B: b},
			{Law: Exponential, A: a + c, Least: c}, {Law: Lognormal, A: a + c, B: b, Least: c}, {Law: Gamma, A: shape, B: b, Least: c}, {Law: Weibull, A: shape, B: b, Least: c},
		}).Draw(t, "d")
		require.NoError(t, d.Validate())
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		x := d.Quantile(p)
		within := 1e-9
		if over := x - d.Least; d.Least > 0 && over > 0 { // the last digit of x, of what lies over the least value
			within += 1e-15 * x / over
		}
		assert.InEpsilon(t, p, d.cdf(x), within)
		assert.InDelta(t, 1, d.cdf(x)+d.survival(x), 1e-12)
		assert.LessOrEqual(t, d.Min(), x)
		assert.GreaterOrEqual(t, d.Max(), x)
		assert.Equal(t, d.survival(x), d.SurvivalFrom(x), "no atoms")
		for _, x := range []float64{x, d.Min(), d.Min() - 1, d.Quantile(1e-9)} {
			assert.Equal(t, d.SurvivalFrom(x), d.Tail()(x), "%v from %g", d, x)
		}
	})
}

func TestMeanAndSDAreThoseOfTheTail(t *testing.T) {
	for _, d := range []Dist{
		{Law: Exponential, A: 3}, {Law: Lognormal, A: 4, B: 2}, {Law: Uniform, A: 1, B: 5}, {Law: Triangular, A: 1, B: 2, C: 6},
		{Law: Normal, A: 4, B: 3}, {Law: Normal, A: 0, B: 3}, {Law: Gamma, A: 2.5, B: 2}, {Law: Weibull, A: 1.7, B: 5},
		{Law: Exponential, A: 5, Least: 2}, {Law: Lognormal, A: 6, B: 2, Least: 2}, {Law: Gamma, A: 2.5, B: 2, Least: 3}, {Law: Weibull, A: 1.7, B: 5, Least: 1},
	} {
		// Midpoints over the range that all but 1e-15 of the chance lies in.
		low, high := d.Min(), min(d.Max(), d.Quantile(1-1e-13)*1.2)
		const n = 50000 // an error below 1e-7, which the closed forms hold
		h := (high - low) / n
		var first, second float64
		for i := range n {
			x := low + (float64(i)+0.5)*h
			s := d.survival(x) * h
			first += s
			second += 2 * (x - low) * s
		}
		assert.InEpsilon(t, low+first, d.Mean(), 1e-7, "%v", d)
		assert.InEpsilon(t, math.Sqrt(second-first*first), d.SD(), 1e-6, "%v", d)
	}
}

// Far tails. P(Z > 7) = 1.279812543885835e-12 and P(Z > 10) =
// 7.619853024160527e-24 (Abramowitz and Stegun, Handbook of Mathematical
// Functions, table 26.2, has -log10 Q: 11.89285 and 23.11805). An Erlang law
// has the closed tail e^-x (1 + x + x²/2 + ...).
func TestFarTails(t *testing.T) {
	z := Dist{Law: Normal, A: 0, B: 1, Signed: true}
	assert.InEpsilon(t, 1.279812543885835e-12, z.survival(7), 1e-12)
	assert.InEpsilon(t, 7.619853024160527e-24, z.survival(10), 1e-12)
	assert.InDelta(t, 11.89285, -math.Log10(z.survival(7)), 5e-6)
	assert.InDelta(t, 23.11805, -math.Log10(z.survival(10)), 5e-6)
	assert.InEpsilon(t, z.survival(7), z.cdf(-7), 1e-12, "the lower tail is as good")

	d := Dist{Law: Lognormal, A: 60, B: 30}
	mu, sigma := d.LognormalParams()
	assert.InEpsilon(t, 1.279812543885835e-12, d.survival(math.Exp(mu+7*sigma)), 1e-9)

	for _, x := range []float64{1, 20, 35, 60, 200} {
		want, term := 0.0, 1.0
		for k := range 4 {
			want += term
			term *= x / float64(k+1)
		}
		assert.InEpsilon(t, want*math.Exp(-x), Dist{Law: Gamma, A: 4, B: 2}.survival(2*x), 1e-12, "x %g", x)
	}
	assert.InEpsilon(t, math.Exp(-40), Dist{Law: Exponential, A: 2}.survival(80), 1e-14)
	assert.InEpsilon(t, math.Exp(-64), Dist{Law: Weibull, A: 3, B: 2}.survival(8), 1e-14)
	assert.InEpsilon(t, math.Exp(-40), Dist{Law: Exponential, A: 5, Least: 3}.survival(83), 1e-14)
	assert.InEpsilon(t, math.Exp(-64), Dist{Law: Weibull, A: 3, B: 2, Least: 5}.survival(13), 1e-14)
	assert.InEpsilon(t, 1e-12, Dist{Law: Triangular, A: 0, B: 1, C: 1}.survival(1-5e-13), 1e-3)
}

// The lognormal with mean 60 and sd 30: mu 3.98277279, sigma 0.47238073, and
// P(T > 40) = 0.73307954 (worked out from the definition).
func TestLognormalParameters(t *testing.T) {
	d := Dist{Law: Lognormal, A: 60, B: 30}
	mu, sigma := d.LognormalParams()
	assert.InDelta(t, 3.98277279, mu, 5e-9)
	assert.InDelta(t, 0.47238073, sigma, 5e-9)
	assert.InDelta(t, 0.73307954, d.survival(40), 5e-9)
}

// The half-normal law: mean sd sqrt(2/pi), variance sd² (1 - 2/pi).
func TestNormalIsCutAtZero(t *testing.T) {
	d := Dist{Law: Normal, A: 0, B: 3}
	assert.InEpsilon(t, 3*math.Sqrt(2/math.Pi), d.Mean(), 1e-12)
	assert.InEpsilon(t, 3*math.Sqrt(1-2/math.Pi), d.SD(), 1e-12)
	assert.True(t, math.IsInf(d.cutShift(), 1))
	assert.Equal(t, 1.0, d.survival(-1))
	assert.Zero(t, d.cdf(-1))
	assert.Zero(t, d.Quantile(0))
	assert.InEpsilon(t, 0.5, d.survival(d.Quantile(0.5)), 1e-12)

	far := Dist{Law: Normal, A: 60, B: 1}
	assert.Zero(t, far.Quantile(0), "the support starts at 0, not at -Inf")
	assert.InDelta(t, 0, far.cutShift(), 1e-12)
	assert.Greater(t, Dist{Law: Normal, A: 2, B: 1}.cutShift(), 0.01)
	assert.Zero(t, Dist{Law: Normal, A: 2, B: 1, Signed: true}.cutShift())
}

func TestAtoms(t *testing.T) {
	for _, d := range []Dist{Const(4), {}, {Law: Empirical, Values: []float64{3, 1, 4, 1, 5, 9, 2}}} {
		require.NoError(t, d.Validate())
		for _, p := range []float64{0, 1e-9, 0.2, 0.5, 0.999, 1} {
			x := d.Quantile(p)
			assert.GreaterOrEqual(t, d.cdf(x), p-1e-15, "%v %g", d, p)
			assert.LessOrEqual(t, d.cdf(math.Nextafter(x, math.Inf(-1))), p, "%v %g: the least such x", d, p)
		}
	}
	d := Dist{Law: Empirical, Values: []float64{3, 1, 4, 1, 5, 9, 2}}
	for _, v := range d.Values {
		assert.Equal(t, v, d.Quantile(d.cdf(v)))
	}
	assert.InDelta(t, 5./7, d.survival(1), 1e-15)
	assert.Equal(t, 1.0, d.SurvivalFrom(1))
	assert.InDelta(t, 25./7, d.Mean(), 1e-14)
	assert.Equal(t, 1.0, Const(4).SurvivalFrom(4))
	assert.Zero(t, Const(4).survival(4))
	assert.Zero(t, Dist{}.Mean())
	assert.Zero(t, Const(4).SD())
}

func TestEmpiricalQuantileUndoesItsCDF(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dist{Law: Empirical, Values: rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 60).Draw(t, "values")}
		v := rapid.SampledFrom(d.Values).Draw(t, "v")
		assert.Equal(t, v, d.Quantile(d.cdf(v)))
		assert.Equal(t, slices.Max(d.Values), d.Quantile(1))
	})
}

func TestValidateRefuses(t *testing.T) {
	for _, d := range []Dist{
		{Law: Fixed, A: math.NaN()}, {Law: Fixed, A: math.Inf(1)}, {Law: Fixed, A: -1},
		{Law: Exponential}, {Law: Exponential, A: -1}, {Law: Normal, A: 1}, {Law: Normal, A: -1, B: 1},
		{Law: Lognormal, A: 0, B: 1}, {Law: Lognormal, A: 1, B: 0}, {Law: Uniform, A: 2, B: 2}, {Law: Uniform, A: -1, B: 2},
		{Law: Triangular, A: 1, B: 4, C: 3}, {Law: Triangular, A: 1, B: 0, C: 3}, {Law: Triangular, A: -1, B: 0, C: 3},
		{Law: Gamma, A: 0, B: 1}, {Law: Gamma, A: 1e-300, B: 1e-300}, {Law: Lognormal, A: 1e-160, B: 1}, {Law: Weibull, A: 1, B: -1}, {Law: Weibull, A: 0.001, B: 1},
		{Law: Empirical}, {Law: Empirical, Values: []float64{1, math.NaN()}}, {Law: Empirical, Values: []float64{1, -1}}, {Law: "beta"},
		{Law: Exponential, A: 2, Least: 2}, {Law: Lognormal, A: 2, B: 1, Least: 3}, {Law: Gamma, A: 2, B: 1, Least: -1}, {Law: Weibull, A: 2, B: 1, Least: math.NaN()},
		{Law: Uniform, A: 1, B: 2, Least: 1}, {Law: Fixed, A: 3, Least: 1}, {Least: 1},
	} {
		assert.Error(t, d.Validate(), "%v", d)
	}
	for _, d := range []Dist{{}, {Law: Fixed, A: -1, Signed: true}, {Law: Uniform, A: -1, B: 2, Signed: true}, {Law: Normal, A: -1, B: 1, Signed: true}} {
		assert.NoError(t, d.Validate(), "%v", d)
	}
}
