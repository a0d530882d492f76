package sim

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
	"rollchange/sim/metric"
)

// What is measured is what the table says, on lines that together have it all.
func TestMeasuredIsTheTable(t *testing.T) {
	line := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&line)
	line.Web.Width, line.Web.Grammage, line.Rewind.Trim = 1, 0.05, 0.1
	line.Rewind.SpliceAt = model.SpliceInside
	line.Crew.Operators, line.Crew.Groups = 1, []model.Group{{Name: "all", Operators: 1}}
	line.Jobs, line.Orders = &model.Jobs{}, &model.Orders{}
	line.Unwind.Splicing.Method = model.Butt
	product := line
	product.Unwind.TapePerSplice = 1
	line.Products = []model.Product{{Name: "a", Line: &product}}
	measured := map[string]bool{}
	gauges := GaugesOf(&line)
	for i, g := range gauges {
		assert.False(t, measured[g.Name], "%s is measured twice", g.Name)
		measured[g.Name] = true
		m, known := metric.Of(g.Name)
		assert.True(t, known, "%s is measured and not in the table", g.Name)
		if g.Unseen > 0 {
			assert.Equal(t, metric.OfTrials, m.Estimate, "%s: only of trials is there a largest chance of what is not seen", g.Name)
		}
		if m.Estimate == metric.Interval {
			before, _ := metric.Of(gauges[i-1].Name)
			assert.Equal(t, metric.OfTrials, before.Estimate, "%s is of the share before it", g.Name)
		}
	}
	for _, m := range metric.Table() {
		found := measured[m.Name]
		for name := range measured {
			found = found || m.Family() && strings.HasPrefix(name, m.Name)
		}
		assert.True(t, found, "%s is in the table and not measured", m.Name)
	}
}
