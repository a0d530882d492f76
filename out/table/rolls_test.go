package table

import (
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
)

func rollsText(t *testing.T, l *model.Line, sys model.System) []string {
	t.Helper()
	text := invented.Written(t, func(w io.Writer) error { return Rolls(w, l, sys, Screen{}) })
	return strings.Split(strings.TrimRight(text, "\n"), "\n")
}

// By hand: core 76 mm, caliper 0.05 mm; 250 wraps are 101 mm in diameter and hold pi 250 x
// 0.0885 = 69.51 m, 33 g each; a seam 0.02 mm thicker is then 5 mm high.
func TestRollTables(t *testing.T) {
	web := model.Web{Width: 0.33, Caliper: 5e-5, Grammage: 0.1}
	l := &model.Line{Web: web, Unwind: model.Unwind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(2000)}},
		Rewind: model.Rewind{Change: model.Manual, Trigger: model.ByLength, Roll: model.RollSize{Length: model.Const(math.Pi * 250 * 0.0885), Core: 0.076}, Build: model.Build{SeamThickness: 2e-5, Ridge: 4e-3}}}
	lines := rollsText(t, l, model.Metric)
	assert.Equal(t, "no table of parent rolls: the caliper, the core diameter or the length is not", lines[0])
	assert.Contains(t, lines, "  Finished roll by length")
	assert.Equal(t, strings.Fields("length, m diameter, mm web, kg wraps ridge of the seam, mm"), strings.Fields(lines[len(lines)-11]))
	assert.Equal(t, strings.Fields("69.51 101 2.294 250 5"), strings.Fields(lines[len(lines)-1]))
	lines = rollsText(t, l, model.Imperial)
	assert.Equal(t, strings.Fields("228 3.976 5.057 250 0.1969"), strings.Fields(lines[len(lines)-1]))

	l.Web.Grammage, l.Rewind.Build = 0, model.Build{}
	l.Unwind.Roll.Core = 0.076
	lines = rollsText(t, l, model.Metric)
	assert.Equal(t, "  Parent roll by length", lines[0])
	assert.Len(t, lines, 24)
	assert.Equal(t, strings.Fields("69.51 101 250"), strings.Fields(lines[23]), "no mass, no ridge")
	l.Rewind.Change = model.None
	assert.Len(t, rollsText(t, l, model.Metric), 12, "nothing is wound")
}
