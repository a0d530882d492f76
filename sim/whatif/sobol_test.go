package whatif

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The first points in two dimensions, in the order of Gray codes, as numerical
// libraries print them for their unscrambled Sobol' engines (from memory; they
// follow from the definition by hand).
func TestFirstPointsOfSobol(t *testing.T) {
	for n, want := range [][]float64{{0, 0}, {0.5, 0.5}, {0.75, 0.25}, {0.25, 0.75}, {0.375, 0.375}, {0.875, 0.875}, {0.625, 0.125}, {0.125, 0.625}} {
		assert.Equal(t, want, sobol(uint32(n), 2), n)
	}
}

// Each dimension is a (0,1)-sequence in base 2: of the first 2^m points one
// falls into each of 2^m equal intervals; and of any 2^m points that follow.
func TestSobolSpreadsInEachDimension(t *testing.T) {
	for m := range 11 {
		n := uint32(1) << m
		for _, from := range []uint32{0, n, 3 * n} {
			var points [][]float64
			for i := from; i < from+n; i++ {
				points = append(points, sobol(i, MostSobol))
			}
			for d := range MostSobol {
				seen := make([]bool, n)
				for _, x := range points {
					k := int(x[d] * float64(n))
					if seen[k] {
						t.Errorf("dimension %d, %d points from %d", d, n, from)
					}
					seen[k] = true
				}
			}
		}
	}
}

// No two dimensions are alike: the mean of the product over 4096 points is that
// of independent uniforms, 1/4, to well within the error of as many random ones
// (1/12 / 64 = 0.0013).
func TestSobolPairsAreIndependent(t *testing.T) {
	const n = 4096
	points := make([][]float64, n)
	for i := range points {
		points[i] = sobol(uint32(i), MostSobol)
	}
	for a := range MostSobol {
		for b := range a {
			sum := 0.0
			for _, x := range points {
				sum += x[a] * x[b] / n
			}
			assert.InDelta(t, 0.25, sum, 0.0015, "%d %d", a, b)
		}
	}
}

// The Ishigami function with a = 7, b = 0.1: first order 0.3139, 0.4424, 0,
// total 0.5576, 0.4424, 0.2437 (A. Saltelli and others, Global Sensitivity
// Analysis: The Primer, 2008; the closed forms of its variances give them too).
func TestVarianceSharesOfIshigami(t *testing.T) {
	const a, b = 7.0, 0.1
	p4, p8 := math.Pow(math.Pi, 4), math.Pow(math.Pi, 8)
	v1, v2, v13 := 0.5*(1+b*p4/5)*(1+b*p4/5), a*a/8, b*b*p8*(1./18-1./50)
	v := v1 + v2 + v13
	want := []Indices{{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}}
	for i, printed := range []Indices{{0.3139, 0.5576}, {0.4424, 0.4424}, {0, 0.2437}} {
		assert.InDelta(t, printed.First, want[i].First, 5e-5)
		assert.InDelta(t, printed.Total, want[i].Total, 5e-5)
	}
	calls := 0
	got, err := varianceShares(4096, 3, func(x []float64) (float64, error) {
		calls++
		y := [3]float64{}
		for i := range y {
			y[i] = math.Pi * (2*x[i] - 1)
		}
		return math.Sin(y[0]) + a*math.Sin(y[1])*math.Sin(y[1]) + b*math.Pow(y[2], 4)*math.Sin(y[0]), nil
	})
	require.NoError(t, err)
	assert.Equal(t, 4096*5, calls)
	for i := range want {
		assert.InDelta(t, want[i].First, got[i].First, 0.01, i)
		assert.InDelta(t, want[i].Total, got[i].Total, 0.01, i)
	}
	_, err = varianceShares(8, 2, func([]float64) (float64, error) { return 0, errors.New("no") })
	assert.Error(t, err)
}

// varianceShares estimates the Sobol' indices of f over the unit cube of k
// dimensions from n base points of the Sobol' sequence: total effects by
// Jansen's estimator, first order by Saltelli's,
//
//	T_i = sum (f(A) - f(AB_i))² / (2 n V)      S_i = sum f(B) (f(AB_i) - f(A)) / (n V)
//
// with AB_i the points A whose coordinate i is taken from B (A. Saltelli and
// others, Comput. Phys. Commun. 181 (2010) 259-270, table 2). f is called
// n (k+2) times; its error ends the estimate. 2 k must not be above MostSobol.
func varianceShares(n, k int, f func(x []float64) (float64, error)) ([]Indices, error) {
	fa, fb := make([]float64, n), make([]float64, n)
	fab := make([][]float64, k)
	points := make([][]float64, n)
	mean, err := 0.0, error(nil)
	for j := range n {
		points[j] = sobol(uint32(j+1), 2*k)
		if fa[j], err = f(points[j][:k]); err != nil {
			return nil, err
		}
		if fb[j], err = f(points[j][k:]); err != nil {
			return nil, err
		}
		mean += (fa[j] + fb[j]) / float64(2*n)
	}
	v := 0.0
	for j := range n {
		v += ((fa[j]-mean)*(fa[j]-mean) + (fb[j]-mean)*(fb[j]-mean)) / float64(2*n)
	}
	out := make([]Indices, k)
	for i := range k {
		fab[i] = make([]float64, n)
		for j := range n {
			x := append([]float64(nil), points[j][:k]...)
			x[i] = points[j][k+i]
			if fab[i][j], err = f(x); err != nil {
				return nil, err
			}
			d := fa[j] - fab[i][j]
			out[i].Total += d * d / (2 * float64(n))
			out[i].First += (fb[j] - mean) * -d / float64(n)
		}
		if v > 0 {
			out[i].Total /= v
			out[i].First /= v
		}
	}
	return out, nil
}
