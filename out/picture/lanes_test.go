package picture

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
)

// The drawing says how many lanes there are and what the roll of one holds: 500 m by
// 0.9 m at 80 g/m2, slit into 3, 30 mm trimmed off, are 11.6 kg a roll.
func TestLinePlotOfLanes(t *testing.T) {
	l := invented.StorageLine()
	l.Web = model.Web{Width: 0.9, Grammage: 0.08}
	l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(500)}, Trigger: model.ByLength, Lanes: 3, Trim: 0.03}
	has(t, sound(t, "line-lanes", Line("a", l, model.Metric)), "3 lanes, each:", "11.6 kg of web")
	l.Rewind.Lanes, l.Rewind.Trim = 1, 0
	s := sound(t, "line-whole", Line("a", l, model.Metric))
	has(t, s, "36 kg of web")
	assert.NotContains(t, s, "lanes")
}
