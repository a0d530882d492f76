package sim

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// bigRoot is the first root x >= 0 of c0 + c1 x + c2 x² = 0 with c0 > 0, in 400
// binary digits by the textbook form; nil when there is none.
func bigRoot(c0, c1, c2 float64) *big.Float {
	number := func(x float64) *big.Float { return new(big.Float).SetPrec(2400).SetFloat64(x) }
	a, b, c := number(c2), number(c1), number(c0)
	if c2 == 0 {
		if c1 >= 0 {
			return nil
		}
		return new(big.Float).Neg(new(big.Float).Quo(c, b))
	}
	disc := new(big.Float).Sub(new(big.Float).Mul(b, b), new(big.Float).Mul(number(4), new(big.Float).Mul(a, c)))
	if disc.Sign() < 0 {
		return nil
	}
	root := new(big.Float).Sqrt(disc)
	var first *big.Float
	for _, sign := range []float64{-1, 1} {
		x := new(big.Float).Sub(new(big.Float).Mul(number(sign), root), b)
		x.Quo(x, new(big.Float).Mul(number(2), a))
		if x.Sign() >= 0 && (first == nil || x.Cmp(first) < 0) {
			first = x
		}
	}
	return first
}

// relative is the relative difference of x from want.
func relative(x float64, want *big.Float) float64 {
	d := new(big.Float).SetPrec(2400).Sub(new(big.Float).SetPrec(2400).SetFloat64(x), want)
	r, _ := d.Quo(d, want).Float64()
	return math.Abs(r)
}

// Roots of quadratics of all signs and magnitudes, against numbers of many
// digits. Half are drawn with a discriminant that nearly cancels.
func TestFirstBelowAgainstManyDigits(t *testing.T) {
	assert.InDelta(t, 4, firstBelow(1e-16, 1, -0.25), 1e-15, "c1 > 0 and c2 < 0 once cancelled to never")
	random := rand.New(rand.NewPCG(8, 2))
	n := effort.Of(5000, 15000, 100000)
	never, found := 0, 0
	for range n {
		size := func() float64 {
			return math.Ldexp(1+random.Float64(), random.IntN([]int{20, 200, 600}[random.IntN(3)])-[]int{10, 100, 300}[random.IntN(3)])
		}
		c0, c1, c2 := size(), size()*float64(random.IntN(3)-1), size()*float64(random.IntN(3)-1)
		if random.IntN(2) == 0 && c2 != 0 {
			c1 = -2 * math.Sqrt(c0) * math.Sqrt(math.Abs(c2)) * (1 + (random.Float64()-0.5)*math.Ldexp(1, -random.IntN(60)))
		}
		if c0 == 0 || math.IsInf(c0, 0) || math.IsInf(c1, 0) {
			continue
		}
		x, want := firstBelow(c0, c1, c2), bigRoot(c0, c1, c2)
		if want == nil {
			never++
			require.True(t, math.IsInf(x, 1), "%g %g %g: %g, there is no root", c0, c1, c2, x)
			continue
		}
		if top, _ := want.Float64(); math.IsInf(top, 0) || top < 1e-300 {
			continue
		}
		found++
		require.Less(t, relative(x, want), 1e-14, "%g %g %g: %g", c0, c1, c2, x)
	}
	assert.Greater(t, never, n/10)
	assert.Greater(t, found, 4*n/10)
}

// A product and what rounding cuts off it are the whole product.
func TestProductIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 20000 {
		a, b := math.Ldexp(r.Float64()-0.5, r.IntN(400)-200), math.Ldexp(r.Float64()-0.5, r.IntN(400)-200)
		p, lost := product(a, b)
		want := new(big.Float).SetPrec(120).Mul(big.NewFloat(a), big.NewFloat(b))
		got := new(big.Float).SetPrec(120).Add(big.NewFloat(p), big.NewFloat(lost))
		require.Zero(t, want.Cmp(got), "%v times %v", a, b)
	}
}
