package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/replicate"
)

func names(c *Case) []string {
	var n []string
	for _, w := range c.Warnings {
		n = append(n, w.Doubt.Key())
	}
	return n
}

func TestWarningsCallASavingByItsName(t *testing.T) {
	assert.Equal(t, []string{"demand_missing"}, names(caseOf(t, nil)))
	assert.Equal(t, []string{"freed_operators", "freed_line_hours"}, names(caseOf(t, demandOf(5e6))))
	c := caseOf(t, func(s *model.Study, rs *replicate.Results) {
		demandOf(5e6)(s, rs)
		for i := range s.Alternatives {
			s.Alternatives[i].Line.Stops = nil
		}
		s.Alternatives[1].Investment = model.Dist{}
		economics(func(e *model.Economics) { e.CrewCost, e.LineCost, e.Price = model.Dist{}, model.Dist{}, model.Dist{} })(s, rs)
		s.Alternatives[1].Line.Economics.DepreciationYears = model.Const(5)
		s.Alternatives[1].Line.Economics.Life = model.Const(7.4)
	})
	assert.Equal(t, []string{"no_other_stops", "investment_missing", "hours_without_cost", "tax_missing", "life_rounded"}, names(c), "the life of the equipment is its own; no more is sold, so no price is missed")
	assert.Equal(t, 7, c.Worth.Life)
	assert.True(t, math.IsNaN(c.Worth.Simple), "nothing to pay back")
	assert.True(t, math.IsNaN(c.Random.PaysBack.Simple))
}

func keysOf(e *NeedsError) []string {
	var keys []string
	for _, n := range e.Needs {
		keys = append(keys, n.Key)
	}
	return keys
}

func TestWhatIsMissingIsNamedAtOnce(t *testing.T) {
	study, rs := studyOf()
	economics(func(e *model.Economics) { *e = model.Economics{Currency: "EUR"} })(study, rs)
	_, err := New(study, rs, 1, Options{})
	var needs *NeedsError
	require.ErrorAs(t, err, &needs)
	assert.Equal(t, []string{"economics.hours_per_year", "economics.discount_rate", "economics.life", "economics.price"}, keysOf(needs))
	study, rs = studyOf()
	for i := range study.Alternatives {
		study.Alternatives[i].Line.Web = model.Web{}
	}
	_, err = New(study, rs, 1, Options{})
	require.ErrorAs(t, err, &needs)
	assert.Equal(t, []string{"web.width", "web.grammage"}, keysOf(needs))
	study, rs = studyOf()
	demandOf(9e6)(study, rs)
	economics(func(e *model.Economics) { e.Price = model.Dist{} })(study, rs)
	_, err = New(study, rs, 1, Options{})
	require.ErrorAs(t, err, &needs, "between the capacities something more is sold")
	study, rs = studyOf()
	e := rs.Alternatives[0].Metrics["good_rate"]
	e.Mean = 0
	rs.Alternatives[0].Metrics["good_rate"] = e
	_, err = New(study, rs, 1, Options{})
	assert.ErrorContains(t, err, "makes no good web")
	_, err = New(study, rs, 0, Options{})
	assert.Error(t, err)
}

func TestOneReplicationHasNoHalfWidth(t *testing.T) {
	c := caseOf(t, func(_ *model.Study, rs *replicate.Results) { rs.Run.Replications = 1 })
	assert.True(t, math.IsNaN(c.Total.HalfWidth))
	assert.Zero(t, c.Save[Maintenance].HalfWidth)
	assert.Contains(t, names(c), "one_replication")
	assert.Empty(t, c.Drivers)
}

func TestYearsInsteadOfTheLife(t *testing.T) {
	study, rs := studyOf()
	c, err := New(study, rs, 1, Options{Draws: 10, Years: 3})
	require.NoError(t, err)
	assert.Equal(t, 3, c.Worth.Life)
	assert.Len(t, c.Worth.Flow, 4)
}
