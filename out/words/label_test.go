package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// Every metric of the table has a label, and there is no label of another.
func TestLabelsAreOfTheTable(t *testing.T) {
	for _, m := range metric.Table() {
		l, ok := labels[m.Name]
		assert.True(t, ok && strings.TrimSpace(l.Text) != "", "%s has no label", m.Name)
	}
	assert.Len(t, labels, len(metric.Table()))
}

// Every hold has a label, and there is no label of another.
func TestHoldsHaveLabels(t *testing.T) {
	holds := sim.CausesOfStops(&model.Line{Orders: &model.Orders{}})
	for _, hold := range holds {
		assert.NotEmpty(t, holdLabels[hold], hold)
	}
	assert.Len(t, holdLabels, len(holds))
	assert.Equal(t, "web_break", HoldLabel(metric.HoldOfStop("web_break")), "a stop that is called as a hold")
}

func TestLabelsOfFamilies(t *testing.T) {
	for name, want := range map[string]string{
		"time.stopped.unwind_change": "stopped: unwind roll change", "stop_rate.stop.wash-up": "begins: wash-up", "time.stopped.stop.time.stopped.": "stopped: time.stopped.",
		"splice.depletion.dwell": "depletion: by the dwell alone", "transfer.overfill.not_ready": "overfill: by the next roll or core late",
		"splice.depletion.failed": "depletion by failed splices", "splice.depletion_counted": "counted", "npv": "npv",
	} {
		assert.Equal(t, want, MetricLabel(name))
	}
	for _, law := range model.TailLaws {
		assert.NotEmpty(t, riskParts["if_"+string(law)], law)
	}
}
