package table

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
)

// Compare writes the alternatives side by side against the first: under
// each figure the paired difference with its half width, "~" where no difference is shown.
func Compare(w io.Writer, about words.About, rs *sim.Results, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", to.title(legible.Line(about.Title)), to.prose(words.Head(rs.Run)))
	perBlock := max(1, (to.width()-compareLabel)/compareColumn-1) // others beside the first
	for from := 1; from == 1 || from < len(rs.Alternatives); from += perBlock {
		block := []int{0}
		for i := from; i < min(from+perBlock, len(rs.Alternatives)); i++ {
			block = append(block, i)
		}
		compareBlock(&b, rs, block, sys, to.Color)
	}
	if len(rs.Alternatives) > 1 {
		fmt.Fprintf(&b, "\n%s\n", to.prose("(+ and −: difference from "+words.Called(rs.Alternatives[0])+", same chance in both; ~ no difference shown)"))
	}
	for _, s := range words.Sentences(rs, sys) {
		fmt.Fprintln(&b, "\n"+to.prose(s))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// compareLabel and compareColumn are the widths of the columns.
const compareLabel, compareColumn = 37, 21

// compareBlock writes the first alternative and some of the others side by side.
func compareBlock(b *strings.Builder, rs *sim.Results, block []int, sys model.System, color bool) {
	const first, width = compareLabel, compareColumn
	fmt.Fprintf(b, "\n%s", pad("", first))
	names := make([][]string, len(block))
	most := 0
	for k, i := range block {
		names[k] = strings.Split(wrap(legible.Line(rs.Alternatives[i].Alternative), width-2), "\n")
		most = max(most, min(3, len(names[k])))
	}
	for line := range most {
		if line > 0 {
			fmt.Fprintf(b, "\n%s", pad("", first))
		}
		for k := range block {
			s := ""
			if line < len(names[k]) {
				s = words.Shorten(names[k][line], width-2)
			}
			fmt.Fprint(b, padLeft(s, width))
		}
	}
	fmt.Fprintln(b)
	last := words.Group(-1)
	for _, name := range words.ComparedNames(rs) {
		largest, used := 0.0, false
		for _, i := range block {
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				largest = max(largest, math.Abs(e.Mean))
				used = used || e.Mean != 0
			}
		}
		if !used {
			continue
		}
		l := words.LabelOf(name)
		if l.Group != last {
			last = l.Group
			fmt.Fprintf(b, "%s\n", bold(words.GroupHeads[l.Group], color))
		}
		unit := ""
		for _, i := range block {
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				unit = e.Unit
			}
		}
		u := words.ShownUnit(unit, largest, sys)
		label := "  " + words.Shorten(l.Text, first-4-words.Columns(u.Name)) + ", " + u.Name
		var figures, diffs []string
		any := false
		for _, i := range block {
			text := "–"
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				text = words.Figure(e, u)
			}
			figures = append(figures, text)
			d, ok := words.DifferenceOf(rs, i, name)
			s := ""
			switch {
			case i == 0 || !ok:
			case !d.Shown():
				s, any = "~", true
			default:
				s, any = words.Difference(d, u), true
			}
			diffs = append(diffs, s)
		}
		fmt.Fprintln(b, flushRight(label, figures, first, width))
		if any {
			fmt.Fprintln(b, flushRight("", diffs, first, width))
		}
	}
}
