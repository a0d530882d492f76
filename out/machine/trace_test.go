package machine

import (
	"io"
	"math"
	"testing"

	"rollchange/out/invented"
)

func TestTraceCSVGolden(t *testing.T) {
	invented.Golden(t, "trace.csv", []byte(invented.Written(t, func(w io.Writer) error { return TraceCSV(w, invented.Motion()) })))
}

func TestTraceCSVGivesBack(t *testing.T) {
	log := invented.Motion()
	log[2].RewindStorage = math.NaN()
	list := invented.Rows(t, invented.Written(t, func(w io.Writer) error { return TraceCSV(w, log) }))
	if len(list) != len(log)+1 {
		t.Fatalf("%d rows", len(list))
	}
	at := map[string]int{}
	for i, name := range list[0] {
		at[name] = i
	}
	for i, line := range list[1:] {
		if line[at["time_s"]] != full(log[i].Time) || line[at["unwound_m"]] != full(log[i].U) || line[at["unwind_storage_m"]] != full(log[i].UnwindStorage) {
			t.Errorf("row %d: %q", i, line)
		}
	}
	if s := list[3][at["rewind_storage_m"]]; s != "" {
		t.Errorf("a storage that is not there is %q", s)
	}
	if s := list[6][at["event"]]; s != "'=later<b>" {
		t.Errorf("a formula: %q", s)
	}
}
