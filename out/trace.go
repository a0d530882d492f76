package out

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
)

// TraceTable writes the log of a replication for people.
func TraceTable(w io.Writer, records []sim.Record, sys model.System) error {
	var b strings.Builder
	l := model.Display(model.Length, sys)
	fmt.Fprintf(&b, "%13s  %-8s %-42s %11s %11s %11s  %s\n", "time", "station", "event", "processed", "unwind", "rewind", "holds on; operators busy")
	fmt.Fprintf(&b, "%13s  %-8s %-42s %11s %11s %11s\n", "h:min:s", "", "", l.Name, "storage "+l.Name, "storage "+l.Name)
	several := false
	for _, r := range records {
		several = several || r.Line > 0
	}
	for _, r := range records {
		event, more := EventWords(&r)
		if more != "" {
			event += ": " + more
		}
		if several {
			event = fmt.Sprintf("line %d, %s", r.Line+1, event)
		}
		holds := make([]string, len(r.Holds))
		for i, h := range r.Holds {
			holds[i] = holdLabel(h)
		}
		fmt.Fprintf(&b, "%13s  %-8s %s %11s %11s %11s  %s\n", clock(r.Time), SourceWord(r.Of), pad(shorten(safe(event), 42), 42),
			orBlank(l.From(r.P), 1), orBlank(l.From(r.UnwindStorage), 2), orBlank(l.From(r.RewindStorage), 2),
			strings.TrimSpace(safe(strings.Join(holds, ", "))+"; "+strconv.Itoa(r.OperatorsBusy)))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// clock is a time of the simulation as h:min:s.
func clock(t float64) string {
	t = math.Round(1000*t) / 1000
	h := math.Floor(t / 3600)
	m := math.Floor((t - h*3600) / 60)
	return fmt.Sprintf("%d:%02d:%06.3f", int(h), int(m), t-h*3600-m*60)
}

func orBlank(x float64, decimals int) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'f', decimals, 64)
}

// TraceCSV writes the log of a replication as CSV, SI units.
func TraceCSV(w io.Writer, records []sim.Record) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"time_s", "line", "station", "event", "detail", "unwound_m", "processed_m", "wound_m",
		"unwind_speed_m/s", "process_speed_m/s", "rewind_speed_m/s", "unwind_storage_m", "rewind_storage_m", "holds", "operators_busy"})
	for _, r := range records {
		event, more := EventWords(&r)
		_ = c.Write([]string{full(r.Time), strconv.Itoa(r.Line + 1), SourceWord(r.Of), cell(event), cell(more), full(r.U), full(r.P), full(r.W),
			full(r.SpeedU), full(r.SpeedP), full(r.SpeedW), full(r.UnwindStorage), full(r.RewindStorage), cell(strings.Join(r.Holds, " ")), strconv.Itoa(r.OperatorsBusy)})
	}
	c.Flush()
	return c.Error()
}
