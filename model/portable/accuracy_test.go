package portable

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// off is how far y is from the right value, in units of the last place of that.
func off(y float64, right *big.Float) float64 {
	near, _ := right.Float64()
	ulp := math.Nextafter(math.Abs(near), math.Inf(1)) - math.Abs(near)
	e, _ := div(sub(num(y), right), num(ulp)).Float64()
	return math.Abs(e)
}

// spread is a number whose logarithm is uniform.
func spread(r *rand.Rand, low, high float64) float64 {
	return math.Exp(math.Log(low) + (math.Log(high)-math.Log(low))*r.Float64())
}

func TestErrors(t *testing.T) {
	both := func(r *rand.Rand, low, high float64) float64 {
		return math.Copysign(spread(r, low, high), r.Float64()-0.5)
	}
	for _, f := range []struct {
		name string
		of   func(float64) float64
		big  func(*big.Float) *big.Float
		most float64 // ulp
		draw func(*rand.Rand) float64
	}{
		{"log", Log, bigLog, 0.52, func(r *rand.Rand) float64 { return spread(r, 1e-320, 1e308) }},
		{"log near 1", Log, bigLog, 0.52, func(r *rand.Rand) float64 { return 1 + both(r, 1e-15, 0.5) }},
		{"log of a uniform", Log, bigLog, 0.52, func(r *rand.Rand) float64 { return 1 - r.Float64() }},
		{"log1p", Log1p, bigLog1p, 0.6, func(r *rand.Rand) float64 { return spread(r, 1e-300, 1e300) }},
		{"log1p below 0", Log1p, bigLog1p, 0.6, func(r *rand.Rand) float64 { return -spread(r, 1e-20, 1-1e-16) }},
		{"log10", Log10, func(x *big.Float) *big.Float { return div(bigLog(x), bigLog(num(10))) }, 0.51, func(r *rand.Rand) float64 { return spread(r, 1e-320, 1e308) }},
		{"exp", Exp, bigExp, 0.52, func(r *rand.Rand) float64 { return 1416 * (r.Float64() - 0.5) }},
		{"exp near 0", Exp, bigExp, 0.52, func(r *rand.Rand) float64 { return both(r, 1e-18, 5) }},
		{"exp far", Exp, bigExp, 0.52, func(r *rand.Rand) float64 { return 700 + 9.7*r.Float64() }},
		{"expm1", Expm1, bigExpm1, 0.9, func(r *rand.Rand) float64 { return both(r, 1e-18, 5) }},
		{"expm1 far", Expm1, bigExpm1, 0.9, func(r *rand.Rand) float64 { return both(r, 1, 700) }},
		{"cbrt", Cbrt, func(x *big.Float) *big.Float { return bigPow(x, div(num(1), num(3))) }, 0.52, func(r *rand.Rand) float64 { return spread(r, 1e-320, 1e308) }},
		{"erfc", Erfc, bigErfc, 2, func(r *rand.Rand) float64 { return 34*r.Float64() - 7 }},
		{"erfc near 0", Erfc, bigErfc, 2, func(r *rand.Rand) float64 { return both(r, 1e-18, 3) }},
		{"gamma", Gamma, func(x *big.Float) *big.Float { return bigExp(bigLgamma(x)) }, 5, func(r *rand.Rand) float64 { return spread(r, 1e-10, 20) }},
		{"gamma far", Gamma, func(x *big.Float) *big.Float { return bigExp(bigLgamma(x)) }, 0.52, func(r *rand.Rand) float64 { return 20 + 150*r.Float64() }},
		{"lgamma", Lgamma, bigLgamma, 8, func(r *rand.Rand) float64 { return spread(r, 1e-300, 1e300) }},
		{"lgamma near 1", Lgamma, bigLgamma, 8, func(r *rand.Rand) float64 { return 1 + both(r, 1e-15, 1) }},
		{"lgamma near 2", Lgamma, bigLgamma, 8, func(r *rand.Rand) float64 { return 2 + both(r, 1e-15, 1) }},
		{"lgamma to 20", Lgamma, bigLgamma, 8, func(r *rand.Rand) float64 { return 20 * r.Float64() }},
	} {
		t.Run(f.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, 2))
			worst, at := 0.0, 0.0
			for range effort.Of(60, 400, 5000) {
				x := f.draw(r)
				if e := off(f.of(x), f.big(num(x))); !(e <= worst) {
					worst, at = e, x
				}
			}
			assert.LessOrEqual(t, worst, f.most, "ulp at %v", at)
			t.Logf("%.3f ulp at %v", worst, at)
		})
	}
}

// The power is right where its exponent leaves the logarithm nothing to lose.
func TestErrorOfPow(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		name string
		draw func() (x, y float64)
	}{
		{"any", func() (x, y float64) { return spread(r, 1e-3, 1e3), 80 * (r.Float64() - 0.5) }},
		{"near 1", func() (x, y float64) {
			x = 1 + spread(r, 1e-12, 0.1)
			return x, math.Copysign(spread(r, 1, 700)/math.Log(x), r.Float64()-0.5)
		}},
		{"to the ends", func() (x, y float64) {
			x = spread(r, 1e-300, 1e300)
			return x, (r.Float64() - 0.5) * 1416 / math.Log(x)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			worst, sx, sy := 0.0, 0.0, 0.0
			for range effort.Of(60, 400, 5000) {
				x, y := c.draw()
				if e := off(Pow(x, y), bigPow(num(x), num(y))); !(e <= worst) {
					worst, sx, sy = e, x, y
				}
			}
			assert.LessOrEqual(t, worst, 0.52, "ulp at %v, %v", sx, sy)
			t.Logf("%.3f ulp at %v, %v", worst, sx, sy)
		})
	}
}

// The quantile is where the law has its chance below it.
func TestErrorOfNormalQuantile(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	worst, at := 0.0, 0.0
	for n := range effort.Of(60, 400, 5000) {
		p := r.Float64()
		if n%2 == 0 {
			p = spread(r, 1e-300, 0.5)
		}
		z := NormalQuantile(p)
		// Both sides are as long as the step that Newton's method makes from there.
		is := div(bigErfc(div(num(-z), num(0).Sqrt(num(2)))), num(2))
		density := div(bigExp(num(-z*z/2)), num(0).Sqrt(mul(num(2), bigPi)))
		if e := off(z, sub(num(z), div(sub(is, num(p)), density))); !(e <= worst) {
			worst, at = e, p
		}
	}
	assert.LessOrEqual(t, worst, 6.0, "ulp at %v", at)
	t.Logf("%.3f ulp at %v", worst, at)
	assert.Zero(t, NormalQuantile(0.5))
	assert.Equal(t, math.Inf(-1), NormalQuantile(0))
	assert.Equal(t, math.Inf(1), NormalQuantile(1))
	for _, p := range []float64{-0.1, 1.1, math.NaN()} {
		assert.True(t, math.IsNaN(NormalQuantile(p)), "%v", p)
	}
}
