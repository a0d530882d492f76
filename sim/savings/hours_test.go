package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/sim/replicate"
)

// hoursOf gives the alternative planned hours of its own.
func hoursOf(h model.Dist) func(*model.Study, *replicate.Results) {
	return func(s *model.Study, _ *replicate.Results) { s.Alternatives[1].Line.Economics.HoursPerYear = h }
}

// 7200 km in the 1000 h of the first, 5400 km in the 500 h of the alternative,
// by hand: what the first can make does not change with the hours of the other.
func TestPlannedHoursAreOfEachSide(t *testing.T) {
	c := caseOf(t, hoursOf(model.Const(500*3600)))
	assert.Equal(t, [2]float64{7200e3, 5400e3}, c.Capacity)
	assert.Equal(t, [2]float64{1000 * 3600, 500 * 3600}, c.Hours)
	assert.InDelta(t, 0.2*0.5*(5400e3-7200e3), c.Save[Contribution].Value, 1e-6, "it makes less in fewer hours")
	assert.InDelta(t, 40*2*500, c.Save[CrewHours].Value, 1e-6)
	assert.InDelta(t, 60*500, c.Save[LineHours].Value, 1e-6)
	assert.Contains(t, names(c), "hours_differ")
	var keys []string
	for _, in := range c.Inputs {
		keys = append(keys, in.Key)
	}
	assert.Contains(t, keys, "first.hours_per_year")
	assert.Contains(t, keys, "economics.hours_per_year")
	same := caseOf(t, nil)
	assert.NotContains(t, names(same), "hours_differ")
	for _, in := range same.Inputs {
		assert.NotEqual(t, "first.hours_per_year", in.Key, "hours that both have are one input")
	}
}

// Hours that both have move both, drawn or by hand.
func TestCommonHoursMoveBothSides(t *testing.T) {
	c := caseOf(t, economics(func(e *model.Economics) {
		e.HoursPerYear = model.Dist{Law: model.Uniform, A: 900 * 3600, B: 1100 * 3600}
	}))
	for i := range c.drawn.n {
		v := c.drawn.row(&c.mean, i)
		require.Equal(t, v[hours0], v[hours1])
	}
	for _, s := range c.Swings {
		if s.Key == "economics.hours_per_year" {
			slope := (s.AtHigh - s.AtLow) / (s.High - s.Low) // a year's hour makes 3.6 km more of good web and 0.35 km less of waste
			assert.InEpsilon(t, 6.144567106*(0.2*0.5*3600+0.5*0.5*350+0.005*350-0.25*1.8), slope, 0.02)
		}
	}
	for _, d := range c.Drivers {
		assert.NotEqual(t, "first.hours_per_year", d.Key)
	}
}

// A busy year is busy for both: hours of their own are drawn on the same chance.
func TestHoursOfTheirOwnAreDrawnTogether(t *testing.T) {
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		economics(func(e *model.Economics) {
			e.HoursPerYear = model.Dist{Law: model.Uniform, A: 900 * 3600, B: 1100 * 3600}
		})(s, rs)
		hoursOf(model.Dist{Law: model.Uniform, A: 1900 * 3600, B: 2100 * 3600})(s, rs)
	})
	assert.InDelta(t, 1, correlation(portable.Ranks(c.drawn.col[hours0]), portable.Ranks(c.drawn.col[hours1])), 1e-12)
}

func TestHoursOfOneSideOnlyAreAskedFor(t *testing.T) {
	study, rs := studyOf()
	study.Alternatives[0].Line.Economics.HoursPerYear = model.Dist{}
	_, err := New(study, rs, 1, Options{})
	var needs *NeedsError
	require.ErrorAs(t, err, &needs)
	assert.Equal(t, []string{"economics.hours_per_year"}, keysOf(needs))
	assert.Equal(t, "by hand", needs.Needs[0].Lacks)
}

// Prices of their own would silently take the place of the others': they are
// refused by key. What values the flows is the alternative's own.
func TestPricesOfTheirOwnAreRefusedByKey(t *testing.T) {
	for key, change := range map[string]func(*model.Economics){
		"economics.demand":        func(e *model.Economics) { e.Demand = model.Const(5e6) },
		"economics.price":         func(e *model.Economics) { e.Price = model.Const(0.3) },
		"economics.material_cost": func(e *model.Economics) { e.MaterialCost = model.Const(0.3) },
		"economics.disposal_cost": func(e *model.Economics) { e.DisposalCost = model.Dist{} },
		"economics.crew_cost":     func(e *model.Economics) { e.CrewCost = model.Dist{Law: model.Uniform, A: 30, B: 50} },
		"economics.line_cost":     func(e *model.Economics) { e.LineCost = model.Const(1) },
		"economics.tape_cost":     func(e *model.Economics) { e.TapeCost = model.Const(1) },
		"economics.currency":      func(e *model.Economics) { e.Currency = "USD" },
	} {
		study, rs := studyOf()
		change(&study.Alternatives[1].Line.Economics)
		_, err := New(study, rs, 1, Options{Draws: 10})
		var differ *DifferError
		require.ErrorAs(t, err, &differ, key)
		assert.Equal(t, []string{key}, differ.Keys)
		assert.Contains(t, err.Error(), key)
	}
	for _, change := range []func(*model.Economics){
		func(e *model.Economics) { e.Life = model.Const(5) },
		func(e *model.Economics) { e.DiscountRate = model.Const(0.2) },
		func(e *model.Economics) { e.TaxRate, e.DepreciationYears = model.Const(0.2), model.Const(5) },
	} {
		study, rs := studyOf()
		change(&study.Alternatives[1].Line.Economics)
		_, err := New(study, rs, 1, Options{Draws: 10})
		assert.NoError(t, err)
	}
}

// Break-even hours move both sides where they are one input.
func TestSolveForCommonHours(t *testing.T) {
	c := caseOf(t, nil)
	s, err := c.Solve("hours_per_year", Target{})
	require.NoError(t, err)
	v := c.mean
	v[hours0], v[hours1] = s.Value*3600, s.Value*3600
	assert.InDelta(t, 0, c.npvOf(&v)/c.Worth.NPV, 0.01)
	assert.False(t, math.IsNaN(s.Value))
}
