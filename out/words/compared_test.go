package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/metric"
)

// Time for a hold that only one alternative can have differs by all of it.
func TestDifferenceOfHoldOfOne(t *testing.T) {
	rows := Compare(invented.Results(), model.Metric)
	byName := rows.ByName()
	for name, want := range map[string]float64{"time.stopped.unwind_change": -0.2, "time.stopped.unwind_depleted": 0.009} {
		x := byName[name].Cells[1]
		assert.True(t, x.Alone, name)
		assert.Equal(t, want, x.Difference.Mean, name)
		assert.True(t, x.Difference.Shown(), name)
	}
	assert.False(t, byName[metric.GoodRate].Cells[1].Alone)
	failed := byName[metric.SpliceFailed]
	assert.Nil(t, failed.Cells[1].Difference, "a share of splices that cannot fail was compared")
	assert.Equal(t, "–", failed.Text(0))
	for _, r := range rows {
		assert.Nil(t, r.Cells[0].Difference, "%s: the first differs from itself", r.Name)
	}
}

// The rows are those of every alternative, once each; people get those that are not 0
// in all.
func TestRowsOfAComparison(t *testing.T) {
	rs := invented.Results()
	rows, seen := Compare(rs, model.Metric), map[string]int{}
	for _, r := range rows {
		seen[r.Name]++
		for i := range rs.Alternatives {
			e, ok := rs.Alternatives[i].Metrics[r.Name]
			assert.Equal(t, ok, r.Cells[i].Figure != nil, r.Name)
			if ok {
				assert.Equal(t, e.Mean, r.Cells[i].Figure.Mean)
				assert.Equal(t, Figure(e, r.Shown), r.Text(i), "the unit of the row")
			}
		}
	}
	for _, a := range rs.Alternatives {
		for _, name := range a.Names {
			assert.Equal(t, 1, seen[name], name)
		}
	}
	shown := rows.ForPeople()
	for _, r := range shown {
		assert.NotContains(t, []string{metric.ProcessedRate, metric.Slowed, metric.RunOut, "stop_rate.web_break"}, r.Name)
	}
	assert.Equal(t, metric.GoodRate, shown[0].Name)
	assert.Equal(t, metric.Waiting, shown[len(shown)-1].Name)
	assert.Contains(t, rows.ForPeople(0, 1).ByName(), metric.Depletion)
	assert.NotContains(t, rows.ForPeople(0).ByName(), metric.Depletion, "a row of the second alone")
	assert.Contains(t, rows.ForPeople(0).ByName(), metric.GoodRate)
}
