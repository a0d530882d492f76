package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
)

// leastNote is the narrowest column of notes.
const leastNote = 12

// Facts writes what is known of an alternative before any simulation.
func Facts(w io.Writer, name string, facts []model.Fact, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintln(&b, to.title(legible.Line(name)))
	label, figure := 0, 0
	for _, f := range facts {
		label, figure = max(label, words.Columns(f.Label)), max(figure, words.Columns(words.FactText(f, sys)))
	}
	used := 2 + 7 + 1 + label + 2 + figure + 2
	last := ""
	for _, f := range facts {
		group := f.Group
		if group == last {
			group = ""
		}
		last = f.Group
		value := words.FactText(f, sys)
		line := fmt.Sprintf("  %-7s %s  %s  ", group, pad(f.Label, label), padLeft(value, figure))
		for i, note := range strings.Split(wrap(f.Note, max(leastNote, to.width()-used)), "\n") { // beside the figure, as many lines as it takes
			if i > 0 {
				line = strings.Repeat(" ", used)
			}
			fmt.Fprintln(&b, strings.TrimRight(line+note, " "))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
