package whatif

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rootBy narrows [a, b] and returns where f was evaluated.
func rootBy(p *itp, f func(float64) float64) (seen []float64) {
	for !p.done() {
		x := p.next()
		seen = append(seen, x)
		p.put(x, f(x))
	}
	return seen
}

// hard are functions on which interpolation alone does badly: steps, a root of high
// order, a pole, one end far steeper than the other. Some stand in table 1 of the
// paper (Lambert, trigonometric, polynomial, exponential, logarithmic, discontinuous).
var hard = map[string]func(float64) float64{
	"Lambert":       func(x float64) float64 { return x*math.Exp(x) - 1 },
	"trigonometric": func(x float64) float64 { return math.Tan(x - 0.1) },
	"polynomial":    func(x float64) float64 { return -0.5 + math.Sin(1) - (x+0.3)*(x+0.3)*(x+0.3) - 0.2 },
	"exponential":   func(x float64) float64 { return math.Exp(x) - 1.3 },
	"logarithmic":   func(x float64) float64 { return math.Log(math.Abs(x - 10.0/9)) },
	"root of 9":     func(x float64) float64 { return math.Pow(x-1.0/9, 9) },
	"step":          func(x float64) float64 { return math.Copysign(1, x-0.7123) },
	"uneven step":   func(x float64) float64 { return map[bool]float64{true: 1e6, false: -1}[x > -0.98] },
	"pole":          func(x float64) float64 { return 1 / (x - 1.0/3) },
	"steep":         func(x float64) float64 { return math.Exp(40*x) - 1.001 },
}

// Theorem 1.1 of the paper: no more evaluations than bisection and n0, here 1, for
// any function with a root between the ends; and the ends keep it between them.
func TestITPTakesAtMostOneMoreThanBisection(t *testing.T) {
	for name, f := range hard {
		a, b := -1.0, 1.0
		if math.Signbit(f(a)) == math.Signbit(f(b)) {
			b = 1.1
		}
		require.NotEqual(t, math.Signbit(f(a)), math.Signbit(f(b)), name)
		for _, within := range []float64{1e-2, 1e-5, 1e-10} {
			p := newITP(a, b, f(a), f(b), within)
			seen := rootBy(p, f)
			assert.LessOrEqual(t, len(seen), bisections(a, b, within)+slack, "%s %g", name, within)
			assert.LessOrEqual(t, p.b-p.a, within*(1+1e-5))
			assert.True(t, p.a == p.b || math.Signbit(p.fa) != math.Signbit(p.fb), name)
			for _, x := range seen {
				assert.True(t, a <= x && x <= b, name)
			}
		}
	}
}

// It converges faster than linearly on smooth functions: for 1e-12 in place of 1e-6
// bisection takes 20 more evaluations, ITP some few.
func TestITPIsFasterOnSmoothFunctions(t *testing.T) {
	for _, name := range []string{"Lambert", "exponential", "trigonometric"} {
		f := hard[name]
		count := func(within float64) int { return len(rootBy(newITP(-1, 1, f(-1), f(1), within), f)) }
		assert.LessOrEqual(t, count(1e-12)-count(1e-6), 4, name)
		assert.Less(t, count(1e-10), bisections(-1, 1, 1e-10)/2, name)
	}
}

// x³ - x - 2 between 1 and 2 to 5e-4 with k1 0.1: the worked example of the method in
// common use, whose evaluations are these (from memory; worked out anew here).
func TestITPWorkedExample(t *testing.T) {
	f := func(x float64) float64 { return x*x*x - x - 2 }
	p := newITP(1, 2, f(1), f(2), 1e-3)
	p.k1 = 0.1
	seen := rootBy(p, f)
	for i, want := range []float64{1.43333333333333, 1.52713145056966, 1.52009281150978, 1.52137899116052} {
		assert.InDelta(t, want, seen[i], 5e-14)
	}
	assert.InDelta(t, 1.521379706804568, (p.a+p.b)/2, 1e-3)
	assert.Less(t, len(seen), bisections(1, 2, 1e-3))
}
