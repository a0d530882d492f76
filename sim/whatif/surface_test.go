package whatif

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sampled are n points of the Sobol' sequence in k dimensions and f there.
func sampled(n, k int, f func(x []float64) float64) (x [][]float64, y []float64) {
	for i := range n {
		x = append(x, sobol(uint32(i+1), k))
		y = append(y, f(x[i]))
	}
	return x, y
}

// The Ishigami function, a = 7 and b = 0.1: its indices are known (T. Ishigami and T.
// Homma, 1990; values as in the SALib documentation, from memory, and by the formulas
// V1 = (1 + b pi^4/5)²/2, V2 = a²/8, V13 = 8 b² pi^8/225).
func TestSurfaceOfIshigami(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("512 points of three inputs")
	}
	const a, b = 7, 0.1
	x, y := sampled(512, 3, func(u []float64) float64 {
		z := func(i int) float64 { return math.Pi * (2*u[i] - 1) }
		return math.Sin(z(0)) + a*math.Pow(math.Sin(z(1)), 2) + b*math.Pow(z(2), 4)*math.Sin(z(0))
	})
	s := fitSurface(x, y)
	require.NotNil(t, s)
	v1, v2, v13 := math.Pow(1+b*math.Pow(math.Pi, 4)/5, 2)/2, a*a/8.0, 8*b*b*math.Pow(math.Pi, 8)/225
	v := v1 + v2 + v13
	got := s.indices(3)
	for i, want := range []Indices{{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}} {
		assert.InDelta(t, want.First, got[i].First, 0.005, "input %d", i)
		assert.InDelta(t, want.Total, got[i].Total, 0.005, "input %d", i)
	}
	assert.Less(t, s.missed, 0.001)
}

// A polynomial is found as it is, with so few points that all inputs and their pairs
// just go in.
func TestSurfaceOfAPolynomial(t *testing.T) {
	f := func(x []float64) float64 {
		return 3 + 2*x[0] - x[1] + 4*(x[0]-0.5)*(x[2]-0.5) + 0.5*x[3]*x[3]
	}
	x, y := sampled(64, 6, f)
	s := fitSurface(x, y)
	require.NotNil(t, s)
	assert.Less(t, s.missed, 1e-20)
	got := s.indices(6)
	// Variances over the unit cube: of c x is c²/12, of 4 (x-1/2)(z-1/2) 16/144, of x²/2
	// (1/5 - 1/9)/4.
	v := [4]float64{4.0 / 12, 1.0 / 12, 16.0 / 144, (1.0/5 - 1.0/9) / 4}
	all := v[0] + v[1] + v[2] + v[3]
	for i, want := range []float64{v[0] + v[2], v[1], v[2], v[3], 0, 0} {
		assert.InDelta(t, want/all, got[i].Total, 1e-10, "input %d", i)
	}
}

// What the surface says it misses is what it misses at other points.
func TestSurfaceSaysWhatItMisses(t *testing.T) {
	f := func(x []float64) float64 { return math.Abs(x[0]-0.3) + math.Abs(x[1]*x[2]-0.4) }
	x, y := sampled(64, 6, f)
	s := fitSurface(x, y)
	require.NotNil(t, s)
	var off, all, mean float64
	const n = 20000
	for k := range 2 {
		r := rand.New(rand.NewPCG(2, 3))
		for range n {
			u := make([]float64, 6)
			for i := range u {
				u[i] = r.Float64()
			}
			v := f(u)
			if k == 0 {
				mean += v / n
				continue
			}
			fit := 0.0
			for j, term := range s.terms {
				c := s.coefs[j]
				for i, d := range term {
					c *= legendre(u[i], d)[d]
				}
				fit += c
			}
			off += (v - fit) * (v - fit)
			all += (v - mean) * (v - mean)
		}
	}
	assert.InEpsilon(t, off/all, s.missed, 0.5)
	assert.Greater(t, s.missed, 0.02)
}

func TestNoSurface(t *testing.T) {
	x, y := sampled(3, 6, func(x []float64) float64 { return x[0] })
	assert.Nil(t, fitSurface(x, y), "too few points")
	x, y = sampled(64, 2, func([]float64) float64 { return 5 })
	assert.Nil(t, fitSurface(x, y), "it does not vary")
	assert.Nil(t, fitSurface(nil, nil))
}
