package table

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
)

// Facts writes what is known of an alternative before any simulation.
func Facts(w io.Writer, name string, facts []model.Fact, sys model.System, to Screen) error {
	var b strings.Builder
	fmt.Fprintln(&b, to.title(legible.Line(name)))
	label, figure := 0, 0
	for _, f := range facts {
		label, figure = max(label, words.Columns(f.Label)), max(figure, words.Columns(words.FactText(f, sys)))
	}
	last := ""
	for _, f := range facts {
		group := f.Group
		if group == last {
			group = ""
		}
		last = f.Group
		value := words.FactText(f, sys)
		line := fmt.Sprintf("  %-6s %s %s  ", group, pad(f.Label, label), padLeft(value, figure))
		if beside := line + f.Note; words.Columns(beside) <= to.width() {
			fmt.Fprintln(&b, strings.TrimRight(beside, " "))
			continue
		}
		fmt.Fprintln(&b, strings.TrimRight(line, " "))
		fmt.Fprintln(&b, to.indented(f.Note, 11))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
