package savings

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// At the solution the mean net present value is 0, whatever the input.
func TestSolveMakesTheValueZero(t *testing.T) {
	change := func(s *model.Study, rs *replicate.Results) {
		demandOf(5400e3)(s, rs)
		economics(func(e *model.Economics) {
			e.CrewCost = model.Dist{Law: model.Triangular, A: 30, B: 40, C: 60}
			e.TaxRate = model.Const(0.2)
		})(s, rs)
		s.Alternatives[1].Salvage = model.Const(20000)
	}
	c := caseOf(t, change)
	for _, key := range effort.Some([]string{"investment", "demand", "discount_rate", "economics.material_cost", "maintenance"}, 2) {
		s, err := c.Solve(key, Target{})
		require.NoError(t, err)
		require.False(t, math.IsNaN(s.Value), key)
		k := solvable[trimmed(key)]
		npv := c.excess(Target{}, func(v *vector) { c.put(v, k, s.Value*c.in[k].scale) })
		assert.InDelta(t, 0, npv, 1e-3, "%s at %g %s", key, s.Value, s.Unit)
		up := c.excess(Target{}, func(v *vector) { c.put(v, k, s.Value*c.in[k].scale*1.001) })
		assert.Equal(t, s.GainsAbove, up > npv, key)
	}
	s, err := c.Solve("tape_cost", Target{})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(s.Value), "the same tape in both: no price of it matters")
	_, err = c.Solve("unwind.splice_success", Target{})
	assert.ErrorIs(t, err, ErrNotMoney)
}

func trimmed(key string) string {
	if len(key) > 10 && key[:10] == "economics." {
		return key[10:]
	}
	return key
}

// A linear net present value: the investment at which it is 0 is the present
// value of the savings; the discount rate is the internal rate of return.
func TestSolveInvestmentAndRate(t *testing.T) {
	study, rs := studyOf()
	rs.Run.Replications = 1 // no spread at all
	c, err := New(study, rs, 1, Options{Draws: 1})
	require.NoError(t, err)
	s, err := c.Solve("investment", Target{})
	require.NoError(t, err)
	assert.InEpsilon(t, c.Worth.NPV+500000, s.Value, 1e-9)
	s, err = c.Solve("discount_rate", Target{})
	require.NoError(t, err)
	assert.InEpsilon(t, 100*c.Worth.IRR(), s.Value, 1e-8)
	s, err = c.Solve("life", Target{})
	require.NoError(t, err)
	assert.Equal(t, math.Ceil(c.Worth.Discounted), s.Value)
}

// Of several values the nearest is taken, also on a range that begins below 0: a change of
// prices of 3.5 %, and not of -19.5 %, to one of 2 %; for one of -15 % the other.
func TestSolveTakesTheNearest(t *testing.T) {
	var grid []float64
	for x := -50.; x <= 50; x++ {
		grid = append(grid, x)
	}
	at := func(x float64) (Reached, error) { return Reached{Excess: (x + 19.5) * (x - 3.5)}, nil }
	for base, want := range map[float64]float64{2: 3.5, 0: 3.5, 40: 3.5, -15: -19.5, -40: -19.5} {
		s, err := SolveBy(Solution{Key: "x", Base: base}, grid, at)
		require.NoError(t, err)
		assert.InDelta(t, want, s.Value, 0.01, "%g", base)
		assert.Equal(t, 2, s.Crossings)
	}
}

func TestSolveByLeavesOutWhatIsNoLine(t *testing.T) {
	calls := 0
	at := func(x float64) (Reached, error) {
		calls++
		if x < 2 {
			return Reached{}, LeftOut{errors.New("too small")}
		}
		return Reached{x*x - 10, x * x}, nil
	}
	s, err := SolveBy(Solution{Key: "x", Base: 3}, []float64{0, 1, 2, 3, 4, 5}, at)
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(10), s.Value, 1e-3)
	assert.True(t, s.GainsAbove)
	assert.LessOrEqual(t, calls, 20)
	_, err = SolveBy(Solution{Key: "x"}, []float64{0, 1}, at)
	assert.Error(t, err)
	s, err = SolveBy(Solution{Key: "x"}, []float64{4, 5}, at)
	require.NoError(t, err)
	assert.True(t, s.Always)
}
