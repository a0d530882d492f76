package table

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
)

// Trace writes the log of a replication for people.
func Trace(w io.Writer, records []sim.Record, sys model.System) error {
	var b strings.Builder
	l := model.Display(model.Length, sys)
	fmt.Fprintf(&b, "%13s  %-8s %-42s %11s %11s %11s  %s\n", "time", "station", "event", "processed", "unwind", "rewind", "holds on; operators busy")
	fmt.Fprintf(&b, "%13s  %-8s %-42s %11s %11s %11s\n", "h:min:s", "", "", l.Name, "storage "+l.Name, "storage "+l.Name)
	several := false
	for _, r := range records {
		several = several || r.Line > 0
	}
	for _, r := range records {
		event, more := words.EventWords(&r)
		if more != "" {
			event += ": " + more
		}
		if several {
			event = fmt.Sprintf("line %d, %s", r.Line+1, event)
		}
		holds := make([]string, len(r.Holds))
		for i, h := range r.Holds {
			holds[i] = words.HoldLabel(h)
		}
		fmt.Fprintf(&b, "%13s  %-8s %s %11s %11s %11s  %s\n", words.Clock(r.Time), words.SourceWord(r.Of), pad(words.Shorten(legible.Line(event), 42), 42),
			orBlank(l.From(r.P), 1), orBlank(l.From(r.UnwindStorage), 2), orBlank(l.From(r.RewindStorage), 2),
			strings.TrimSpace(legible.Line(strings.Join(holds, ", "))+"; "+strconv.Itoa(r.OperatorsBusy)))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func orBlank(x float64, decimals int) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'f', decimals, 64)
}
