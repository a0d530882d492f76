package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
)

// leastNote is the narrowest column of notes, mostNotes how many lines one takes
// beside its figure.
const leastNote, mostNotes = 12, 2

// Facts writes what is known of an alternative before any simulation.
func Facts(w io.Writer, name string, facts []model.Fact, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintln(&b, to.title(legible.Line(name)))
	label, figure := 0, 0
	for _, f := range facts {
		label, figure = max(label, words.Columns(f.Label)), max(figure, words.Columns(words.FactText(f, sys)))
	}
	used := 2 + 6 + 1 + label + 1 + figure + 2
	last := ""
	for _, f := range facts {
		group := f.Group
		if group == last {
			group = ""
		}
		last = f.Group
		value := words.FactText(f, sys)
		line := fmt.Sprintf("  %-6s %s %s  ", group, pad(f.Label, label), padLeft(value, figure))
		notes := strings.Split(wrap(f.Note, max(leastNote, to.width()-used)), "\n")
		if len(notes) > mostNotes { // a long one has lines of its own
			fmt.Fprintln(&b, strings.TrimRight(line, " "))
			fmt.Fprintln(&b, to.indented(f.Note, 11))
			continue
		}
		for i, note := range notes {
			if i > 0 {
				line = strings.Repeat(" ", used)
			}
			fmt.Fprintln(&b, strings.TrimRight(line+note, " "))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
