package table

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
)

// rollSteps is how many rolls a table shows between the core and the whole roll.
const rollSteps = 10

// Rolls writes the roll tables of a line: length, diameter, mass and wraps of the
// parent roll and of the finished roll in steps, with the ridge of its seam.
func Rolls(w io.Writer, l *model.Line, sys model.System, to Screen) error {
	var b strings.Builder
	rollTable(&b, model.Unwinding, model.RollTable(l.Unwind.Roll.Mean(l.Web), l.Web, l.Unwind.Roll.Core, model.Build{}, rollSteps), sys, to)
	if l.Rewind.Change != model.None {
		rollTable(&b, model.Rewinding, model.RollTable(model.FinishedLength(l), l.Web, l.Rewind.Roll.Core, l.Rewind.Build, rollSteps), sys, to)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func rollTable(b *strings.Builder, end model.End, rows []model.RollAt, sys model.System, to Screen) {
	if len(rows) == 0 {
		fmt.Fprintln(b, to.prose(fmt.Sprintf(words.RollsUnknown, words.RollsOf(end))))
		return
	}
	length, diameter, mass := words.RollUnits(sys)
	whole := rows[len(rows)-1]
	fmt.Fprintf(b, "  %s\n", words.RollTableHead(end))
	g := grid{label: fmt.Sprintf(words.HeadRollLength, length.Name), heads: []string{fmt.Sprintf(words.HeadRollDiameter, diameter.Name)}, right: true}
	if whole.Mass > 0 {
		g.heads = append(g.heads, fmt.Sprintf(words.HeadRollMass, mass.Name))
	}
	g.heads = append(g.heads, words.HeadWraps)
	if !math.IsNaN(whole.Ridge) {
		g.heads = append(g.heads, fmt.Sprintf(words.HeadRidge, diameter.Name))
	}
	for _, r := range rows {
		cells := []string{words.RollCell(r.Diameter, diameter)}
		if whole.Mass > 0 {
			cells = append(cells, words.RollCell(r.Mass, mass))
		}
		cells = append(cells, words.RollCell(r.Wraps, model.Unit{SI: 1}))
		if !math.IsNaN(whole.Ridge) {
			cells = append(cells, words.RollCell(r.Ridge, diameter))
		}
		g.add(words.RollCell(r.Length, length), cells...)
	}
	g.write(b, to)
}
