package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
)

// perBlock is how many alternatives stand side by side.
const perBlock = 2

// Compare writes the alternatives side by side against the first: under
// each figure the paired difference with its half width, "~" where no difference is shown.
func Compare(w io.Writer, about words.About, rs *sim.Results, sys model.System, color bool) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", bold(words.Shorten(legible.Line(about.Title), 100), color), wrap(words.Head(rs.Run), 100))
	rows := words.Compare(rs, sys)
	for from := 1; from == 1 || from < len(rs.Alternatives); from += perBlock {
		block := []int{0}
		for i := from; i < min(from+perBlock, len(rs.Alternatives)); i++ {
			block = append(block, i)
		}
		compareBlock(&b, rs, rows, block, color)
	}
	if len(rs.Alternatives) > 1 {
		fmt.Fprintf(&b, "\n%s\n", wrap("(+ and −: difference from "+words.Called(rs.Alternatives[0])+", same random events in both; ~ no significant difference)", 100))
	}
	for _, s := range words.Sentences(rs, sys) {
		fmt.Fprintln(&b, "\n"+wrap(s, 96))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// compareBlock writes the first alternative and some of the others side by side.
func compareBlock(b *strings.Builder, rs *sim.Results, rows words.Comparison, block []int, color bool) {
	const first, width = 37, 21
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
	group := ""
	for _, row := range rows.ForPeople(block...) {
		if h := row.Head(); h != group {
			group = h
			fmt.Fprintf(b, "%s\n", bold(h, color))
		}
		unit := row.Shown.Name
		fmt.Fprint(b, pad("  "+words.Shorten(words.LabelOf(row.Name).Text, first-4-words.Columns(unit))+", "+unit, first))
		differences := pad("", first)
		for _, i := range block {
			fmt.Fprint(b, padLeft(row.Text(i), width))
			differences += padLeft(row.Difference(i), width)
		}
		fmt.Fprintln(b)
		if differences = strings.TrimRight(differences, " "); differences != "" {
			fmt.Fprintln(b, differences)
		}
	}
}
