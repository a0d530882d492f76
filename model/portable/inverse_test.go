package portable

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

var (
	chances = []float64{1e-9, 0.0005, 0.005, 0.025, 0.05, 0.3, 0.5, 0.8, 0.95, 0.975, 0.9995, 1 - 1e-9}
	sizes   = []float64{0.5, 1, 1.5, 2, 3.7, 10, 40.5, 305, 1e5}
)

// The laws as gonum has them (gonum v0.17.0), to 1e-12; farther out and for larger
// shapes that is wrong in places.
func TestQuantilesAreThoseOfTheLaws(t *testing.T) {
	same := func(want, got float64, args ...any) {
		t.Helper()
		assert.InDelta(t, want, got, 1e-12*max(1, math.Abs(want)), args...)
	}
	for _, p := range chances[1 : len(chances)-1] {
		same(distuv.UnitNormal.CDF(6*p-3), Erfc((3-6*p)/math.Sqrt2)/2, "normal below %g", 6*p-3)
		for _, a := range sizes[:8] {
			same(distuv.StudentsT{Sigma: 1, Nu: a}.Quantile(p), StudentQuantile(p, a), "t of %g, %g", a, p)
			same(distuv.Gamma{Alpha: a, Beta: 1}.Quantile(p), GammaQuantile(a, p), "gamma of %g, %g", a, p)
			for _, b := range sizes[:8] {
				x, y := BetaQuantile(a, b, p)
				same(distuv.Beta{Alpha: a, Beta: b}.Quantile(p), x, "beta of %g and %g, %g", a, b, p)
				same(1-x, y)
			}
		}
	}
}

// What is below a quantile is the chance, on both sides, also far out.
func TestQuantilesTurnTheLawsAround(t *testing.T) {
	for _, a := range append(sizes, 0.01, 900_000) {
		for _, p := range append(chances, 1e-30) {
			if x := GammaQuantile(a, p); x > 1e-300 {
				is, _ := GammaPQ(a, x)
				assert.InEpsilon(t, p, is, 1e-10, "gamma of %g, %g", a, p)
			}
			if x := GammaQuantileAbove(a, p); x > 1e-300 {
				_, is := GammaPQ(a, x)
				assert.InEpsilon(t, p, is, 1e-10, "gamma of %g, above %g", a, p)
			}
			for _, b := range sizes {
				if x, y := BetaQuantile(a, b, p); x > 1e-300 && y > 1e-300 {
					is, _, _ := betaPQ(a, b, x, y)
					assert.InEpsilon(t, p, is, 1e-10, "beta of %g and %g, %g", a, b, p)
				}
			}
		}
	}
	for _, f := range []func(p float64) float64{
		func(p float64) float64 { return GammaQuantile(2, p) },
		func(p float64) float64 { x, _ := BetaQuantile(2, 3, p); return x },
	} {
		assert.Zero(t, f(0))
		assert.True(t, math.IsNaN(f(math.NaN())))
	}
	assert.Equal(t, math.Inf(1), GammaQuantile(2, 1))
	x, y := BetaQuantile(2, 3, 1)
	assert.Equal(t, [2]float64{1, 0}, [2]float64{x, y})
}

// Student's law of many degrees of freedom is the normal one but for the first terms of
// Abramowitz and Stegun 26.7.5.
func TestStudentOfMany(t *testing.T) {
	for _, p := range chances {
		for _, nu := range []float64{1e4, 1e5, 1e6} {
			z := NormalQuantile(p)
			want := z + (z*z*z+z)/4/nu + (5*math.Pow(z, 5)+16*z*z*z+3*z)/96/(nu*nu) + (3*math.Pow(z, 7)+19*math.Pow(z, 5)+17*z*z*z-15*z)/384/(nu*nu*nu)
			assert.InDelta(t, want, StudentQuantile(p, nu), 2e-11*max(1, math.Abs(want)), "%g, %g", p, nu)
		}
	}
	assert.Zero(t, StudentQuantile(0.5, 3))
}

// Laws of whole shapes are sums of few terms: P(a, x) = 1 - e^-x (1 + x + ... + x^(a-1)/(a-1)!),
// and the beta law of a and b is the chance of a or more of a+b-1 (Abramowitz and Stegun
// 6.5.13, 26.5.24).
func TestWholeShapes(t *testing.T) {
	for a := 1.0; a <= 30; a++ {
		for _, x := range []float64{0.01, 0.3, 1, 3, 10, 30, 100} {
			sum, term := 0.0, 1.0
			for n := 1.0; n <= a; n++ {
				sum += term
				term *= x / n
			}
			_, q := GammaPQ(a, x)
			assert.InEpsilon(t, math.Exp(-x)*sum, q, 1e-13, "%g, %g", a, x)
		}
		for _, x := range []float64{0.001, 0.1, 0.5, 0.7, 0.99} {
			const n = 30
			sum, choose := 0.0, 1.0
			for k := 0.0; k <= n; k++ {
				if k >= a {
					sum += choose * math.Pow(x, k) * math.Pow(1-x, n-k)
				}
				choose *= (n - k) / (k + 1)
			}
			p, _ := BetaPQ(a, n-a+1, x)
			assert.InEpsilon(t, sum, p, 1e-12, "%g, %g", a, x)
		}
	}
}

// The gamma law as gonum has it (v0.17.0), which comes from Cephes: both sides.
func TestGammaLaw(t *testing.T) {
	for _, a := range []float64{0.3, 1, 4.5, 20, 300, 5000} {
		for z := -5.0; z <= 8; z += 0.5 {
			x := a + z*math.Sqrt(a)
			if x <= 0 {
				continue
			}
			p, q := GammaPQ(a, x)
			assert.InEpsilon(t, mathext.GammaIncReg(a, x), p, 1e-10, "%g, %g", a, x)
			assert.InEpsilon(t, mathext.GammaIncRegComp(a, x), q, 1e-10, "%g, %g", a, x)
		}
	}
}
