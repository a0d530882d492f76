package portable

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

var specials = []float64{0, math.Copysign(0, -1), 1, -1, 2, -2, 3, -3, 0.5, -0.5, 1.5, -1.5, 1e-320, -1e-320, 5e-324, 2.2250738585072014e-308, 1e308, -1e308,
	math.MaxFloat64, -math.MaxFloat64, math.Inf(1), math.Inf(-1), math.NaN(), 709.78, 709.79, 710, -708.5, -745.1, -745.2, -746, 1<<53 - 1, 1 << 53, 1<<53 + 2, 1e-17, -1e-17,
	math.Nextafter(1, 0), math.Nextafter(1, 2), math.Nextafter(-1, 0)}

// agrees says whether two values are the same zero, both infinite or both no number,
// or so near that they differ in the last place alone.
func agrees(x, y float64) bool {
	switch {
	case x == y:
		return math.Signbit(x) == math.Signbit(y)
	case x != x || y != y:
		return x != x && y != y
	}
	return math.Nextafter(x, y) == y
}

// right says whether a value agrees with that of package math or, where that is off,
// is within a unit of the last place of what numbers of 300 bits say.
func right(is, math float64, big func() *big.Float, ulps float64) bool {
	return agrees(is, math) || is-is == 0 && off(is, big()) <= ulps
}

// Special values are those of package math, and so is all else but for the last place:
// many arguments of each, half of them spread evenly, half by their size. Where that
// differs by more, the numbers of 300 bits decide: the logarithm of package math on amd64
// takes all below the normal numbers for the least of these, its exponential is infinite
// from 709.6 on, its powers are off by dozens of units.
func TestAsMath(t *testing.T) {
	ten := bigLog(num(10))
	for _, f := range []struct {
		name     string
		of, math func(float64) float64
		big      func(*big.Float) *big.Float
		ulps     float64
		low, top float64 // of half of what is drawn
	}{
		{"Log", Log, math.Log, bigLog, 0.52, 0, 1000},
		{"Log1p", Log1p, math.Log1p, bigLog1p, 0.6, -1, 100},
		{"Log10", Log10, math.Log10, func(x *big.Float) *big.Float { return div(bigLog(x), ten) }, 0.51, 0, 10000},
		{"Exp", Exp, math.Exp, bigExp, 1, -750, 750},
		{"Expm1", Expm1, math.Expm1, bigExpm1, 0.9, -50, 750},
		{"Erfc", Erfc, math.Erfc, bigErfc, 2, -7, 29},
		{"Cbrt", Cbrt, math.Cbrt, func(x *big.Float) *big.Float {
			y := bigPow(num(0).Abs(x), div(num(1), num(3)))
			return mul(y, num(float64(x.Sign())))
		}, 0.52, -1000, 1000},
	} {
		check := func(x float64) {
			if is, m := f.of(x), f.math(x); !right(is, m, func() *big.Float { return f.big(num(x)) }, f.ulps) {
				t.Fatalf("%s(%v) is %v, in math %v", f.name, x, is, m)
			}
		}
		for _, x := range specials {
			check(x)
		}
		r := rand.New(rand.NewPCG(3, 4))
		for range effort.Of(10_000, 50_000, 2_000_000) {
			check(math.Float64frombits(r.Uint64()))
			check(f.low + (f.top-f.low)*r.Float64())
		}
	}
}

func TestPowAndHypotAsMath(t *testing.T) {
	check := func(x, y float64) {
		big2 := func() *big.Float {
			z := bigPow(num(math.Abs(x)), num(y))
			if x < 0 && math.Mod(y, 2) != 0 {
				z = mul(num(-1), z)
			}
			return z
		}
		if is, m := Pow(x, y), math.Pow(x, y); !right(is, m, big2, 0.6) {
			t.Fatalf("Pow(%v, %v) is %v, in math %v", x, y, is, m)
		}
		big1 := func() *big.Float { return num(0).Sqrt(add(mul(num(x), num(x)), mul(num(y), num(y)))) }
		if is, m := Hypot(x, y), math.Hypot(x, y); !right(is, m, big1, 1.5) {
			t.Fatalf("Hypot(%v, %v) is %v, in math %v", x, y, is, m)
		}
	}
	for _, x := range specials {
		for _, y := range specials {
			check(x, y)
		}
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range effort.Of(800, 10_000, 300_000) {
		check(spread(r, 1e-3, 1e3), 200*(r.Float64()-0.5))
		check(1+spread(r, 1e-10, 0.1), spread(r, 1, 1e6))
		check(math.Float64frombits(r.Uint64()), math.Float64frombits(r.Uint64()))
	}
}

// Powers that are whole numbers or halves come out as they are; so do the logarithms of
// powers of ten.
func TestExactPowers(t *testing.T) {
	for base := 2.0; base <= 100; base++ {
		for n, y := 1.0, base; y < 1<<53; n, y = n+1, y*base {
			assert.Equal(t, y, Pow(base, n), "%v^%v", base, n)
			if y < 1<<26 {
				assert.Equal(t, y, Pow(y*y, 0.5))
			}
		}
	}
	for n := -22; n <= 22; n++ {
		assert.Equal(t, float64(n), Log10(math.Pow10(n)), "10^%d", n)
	}
}
