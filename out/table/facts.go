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
func Facts(w io.Writer, name string, facts []model.Fact, sys model.System, color bool) error {
	var b strings.Builder
	fmt.Fprintln(&b, bold(words.Shorten(legible.Line(name), 100), color))
	last := ""
	for _, f := range facts {
		group := f.Group
		if group == last {
			group = ""
		}
		last = f.Group
		value := words.FactText(f, sys)
		line := fmt.Sprintf("  %-7s %s %16s   %s", group, pad(f.Label, 44), value, f.Note)
		fmt.Fprintln(&b, strings.TrimRight(line, " "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
