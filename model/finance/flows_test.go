package finance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The net flows are those of the cash flow to the last bit, for plans of any life, tax and
// years of writing off, and into what a plan before has left behind.
func TestFlowsAreThoseOfTheCashFlow(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	room := make([]float64, 101)
	for range 3000 {
		p := Plan{Investment: 1e6 * r.Float64(), Savings: 3e5*r.Float64() - 1e5, Salvage: 2e5 * r.Float64(), Life: 1 + r.IntN(30), TaxRate: 0.4 * float64(r.IntN(2)), Depreciation: r.IntN(35)}
		if r.IntN(4) == 0 {
			p.Expense = []float64{0, 1e4 * r.Float64()}
		}
		var want []float64
		for _, y := range p.CashFlow() {
			want = append(want, y.Net)
		}
		assert.Equal(t, want, p.Flows(room), "%+v", p)
	}
}

// A root found by steps of Newton is that of halving alone: of an investment with any
// savings after it, of lives up to a century, and of flows that turn several times.
func TestRatesAreThoseOfHalving(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	found := 0
	for k := range 4000 {
		flows := []float64{-math.Exp(14 * r.Float64())}
		for range 1 + r.IntN(100) {
			x := 1e3 * r.Float64()
			if k%4 == 0 && r.IntN(3) == 0 {
				x = -x
			}
			flows = append(flows, x*float64(r.IntN(4)))
		}
		flows = trim(flows)
		for _, x := range positiveRoots(flows) {
			low, high := x*(1-1e-9), x*(1+1e-9)
			if (horner(flows, low) > 0) == (horner(flows, high) > 0) {
				continue // as good as a double root: halving finds no better
			}
			for high-low > 4e-16*high {
				mid := low + (high-low)/2
				if mid == low || mid == high {
					break
				}
				if (horner(flows, mid) > 0) == (horner(flows, low) > 0) {
					low = mid
				} else {
					high = mid
				}
			}
			found++
			assert.InEpsilon(t, high, x, 2e-11, "%v", flows)
		}
	}
	assert.Greater(t, found, 3000)
}

// Where the slope is beyond the largest number, a step of Newton is 0 and says nothing.
func TestRatesWhereTheSlopeOverflows(t *testing.T) {
	flows := make([]float64, 101)
	flows[0], flows[100] = -1e308, 1e308/1.001
	x, ok := bracketed(flows, 0.5, 1.5)
	assert.True(t, ok)
	assert.InEpsilon(t, 1+math.Log(1.001)/100, x, 1e-6)
}
