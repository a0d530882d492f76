package table

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/replicate"
)

// Compare writes the alternatives side by side against the first: under
// each figure the paired difference with its half width, "~" where no difference is shown.
func Compare(w io.Writer, about words.About, rs *replicate.Results, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", to.title(legible.Line(about.Title)), to.made(about, words.Head(rs.Run)))
	rows := words.Compare(rs, sys)
	perBlock := max(1, (to.width()-compareLabel)/compareColumn-1) // others beside the first
	for from := 1; from == 1 || from < len(rs.Alternatives); from += perBlock {
		block := []int{0}
		for i := from; i < min(from+perBlock, len(rs.Alternatives)); i++ {
			block = append(block, i)
		}
		compareBlock(&b, rs, rows, block, to.Color)
	}
	if len(rs.Alternatives) > 1 {
		fmt.Fprintf(&b, "\n%s\n", to.prose(fmt.Sprintf(words.DifferenceNote, words.Called(rs.Alternatives[0]))))
	}
	all := slices.Clone(rs.Differences)
	for _, r := range rs.Alternatives {
		all = append(all, r.Metrics)
	}
	if few := tooFew(all...); few != "" && strings.Contains(b.String(), words.TooFewMark) {
		fmt.Fprintf(&b, "\n%s\n", to.prose(few))
	}
	if rs.Open != nil {
		fmt.Fprintf(&b, "\n%s\n", to.prose(words.OpenNote))
	}
	for _, s := range append(words.Sentences(rs.WithRecords(), sys), words.OpenAgainst(rs, sys)...) {
		fmt.Fprintln(&b, "\n"+to.prose(s))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// compareLabel and compareColumn are the widths of the columns.
const compareLabel, compareColumn = 37, 21

// compareBlock writes the first alternative and some of the others side by side.
func compareBlock(b *strings.Builder, rs *replicate.Results, rows words.Comparison, block []int, color bool) {
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
	group := ""
	for _, row := range rows.ForPeople(block...) {
		if h := row.Head(); h != group {
			group = h
			fmt.Fprintf(b, "%s\n", bold(h, color))
		}
		unit := row.Shown.Name
		var figures, differences, open, openApart []string
		for _, i := range block {
			figures, differences = append(figures, row.Text(i)), append(differences, row.Difference(i))
			half, apart := row.Open(i)
			open, openApart = append(open, half), append(openApart, apart)
		}
		fmt.Fprintln(b, flushRight("  "+words.Shorten(words.LabelOf(row.Name).Text, first-4-words.Columns(unit))+", "+unit, figures, first, width))
		if rs.Open != nil && strings.Join(open, "") != "" {
			fmt.Fprintln(b, flushRight("    "+words.OpenHead, open, first, width))
		}
		if strings.Join(differences, "") != "" {
			fmt.Fprintln(b, flushRight("", differences, first, width))
			if rs.Open != nil && strings.Join(openApart, "") != "" {
				fmt.Fprintln(b, flushRight("    "+words.OpenHead, openApart, first, width))
			}
		}
	}
}
