package savings

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/finance"
	"rollchange/sim/replicate"
)

// By hand, without noise: 448,800 EUR a year and 5000 of maintenance more, 500,000
// invested, 10 years at 10 %: UPV 6.144567106 (any table).
func TestSharesOfTheSavingByHand(t *testing.T) {
	c := caseOf(t, still)
	require.Len(t, c.Shares, 3)
	for i, share := range []float64{0.5, 0.75, 1} {
		s := c.Shares[i]
		saved := share*448800 - 5000
		assert.Equal(t, share, s.Share)
		assert.InDelta(t, saved, s.Savings.Mean, 1e-6)
		assert.InDelta(t, saved*6.144567106-500000, s.NPV.Mean, 1e-2)
		assert.InDelta(t, 500000/saved, s.Payback.Median, 1e-12)
		flows := []float64{-500000}
		for range 10 {
			flows = append(flows, saved)
		}
		assert.InDelta(t, 0, finance.NPV(s.IRR.Median, flows), 1e-5)
	}
}

// All of the saving is the case itself; less of it is never worth more, draw by draw
// and so in every quantile.
func TestSharesAreInOrder(t *testing.T) {
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		around(s, rs)
		economics(func(e *model.Economics) { e.TaxRate = model.Const(0.3) })(s, rs)
		s.Alternatives[1].Investment = model.Dist{Law: model.Uniform, A: 3e5, B: 6e5}
	})
	all := c.Shares[2]
	assert.Equal(t, []Spread{c.Random.Total, c.Random.NPV, c.Random.Simple, c.Random.IRR}, []Spread{all.Savings, all.NPV, all.Payback, all.IRR})
	for i := 1; i < 3; i++ {
		less, more := c.Shares[i-1], c.Shares[i]
		for _, x := range [][2]Spread{{less.Savings, more.Savings}, {less.NPV, more.NPV}, {less.IRR, more.IRR}, {more.Payback, less.Payback}} {
			assert.Less(t, x[0].Median, x[1].Median)
			assert.Less(t, x[0].Low, x[1].Low)
			assert.Less(t, x[0].High, x[1].High)
		}
	}
	// The net present value is linear in the share, so three quarters lie in the middle.
	assert.InEpsilon(t, (c.Shares[0].NPV.Mean+c.Shares[2].NPV.Mean)/2, c.Shares[1].NPV.Mean, 1e-9)

	c = caseOf(t, func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Investment = model.Dist{} })
	for _, s := range c.Shares {
		assert.True(t, math.IsNaN(s.Payback.Median), "nothing to pay back")
	}
}

// In short is the same case without shares and rates of return of the draws; where a draw
// has several rates that is counted all the same.
func TestShortIsTheSame(t *testing.T) {
	changes := []func(*model.Study, *replicate.Results){nil, around, func(s *model.Study, rs *replicate.Results) {
		s.Alternatives[1].Salvage = model.Const(-3e6) // to take it down costs more than it cost
	}}
	several := 0
	for _, change := range changes {
		study, rs := studyOf()
		if change != nil {
			change(study, rs)
		}
		full, err := Valued(study, rs, 1, Options{Draws: 500})
		require.NoError(t, err)
		short, err := Valued(study, rs, 1, Options{Draws: 500, Short: true})
		require.NoError(t, err)
		assert.NotEmpty(t, full.Shares)
		assert.Empty(t, short.Shares)
		if full.Random.ManyRates > 0 {
			several++
		}
		a, b := *full.Random, *short.Random
		a.IRR, a.MIRR, b.IRR, b.MIRR = Spread{}, Spread{}, Spread{}, Spread{}
		assert.Equal(t, fmt.Sprint(a), fmt.Sprint(b), "as text, since NaN is not NaN")
		assert.Equal(t, full.Warnings, short.Warnings)
	}
	assert.Positive(t, several, "of what is counted there is some")
}
