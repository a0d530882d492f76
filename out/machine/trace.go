package machine

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"rollchange/out/words"
	"rollchange/sim"
)

// TraceCSV writes the log of a replication as CSV, SI units.
func TraceCSV(w io.Writer, records []sim.Record) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"time_s", "line", "station", "event", "detail", "unwound_m", "processed_m", "wound_m",
		"unwind_speed_m/s", "process_speed_m/s", "rewind_speed_m/s", "unwind_storage_m", "rewind_storage_m", "holds", "operators_busy"})
	for _, r := range records {
		event, more := words.EventWords(&r)
		_ = c.Write([]string{full(r.Time), strconv.Itoa(r.Line + 1), words.SourceWord(r.Of), cell(event), cell(more), full(r.U), full(r.P), full(r.W),
			full(r.SpeedU), full(r.SpeedP), full(r.SpeedW), full(r.UnwindStorage), full(r.RewindStorage), cell(strings.Join(r.Holds, " ")), strconv.Itoa(r.OperatorsBusy)})
	}
	c.Flush()
	return c.Error()
}
