package out

import (
	"io"
	"math"
	"strings"
	"testing"

	"rollchange/model"
)

func TestTraceGolden(t *testing.T) {
	golden(t, "trace.txt", []byte(written(t, func(w io.Writer) error { return TraceTable(w, motion(), model.Metric) })))
	golden(t, "trace.csv", []byte(written(t, func(w io.Writer) error { return TraceCSV(w, motion()) })))
}

func TestTraceCSVGivesBack(t *testing.T) {
	log := motion()
	log[2].RewindStorage = math.NaN()
	list := records(t, written(t, func(w io.Writer) error { return TraceCSV(w, log) }))
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

func TestClock(t *testing.T) {
	for s, want := range map[float64]string{0: "0:00:00.000", 59.9996: "0:01:00.000", 3599.9999: "1:00:00.000", 86400: "24:00:00.000", 3661.25: "1:01:01.250"} {
		if got := clock(s); got != want {
			t.Errorf("%g s: %s, want %s", s, got, want)
		}
	}
	if s := written(t, func(w io.Writer) error { return TraceTable(w, nil, model.Imperial) }); strings.Count(s, "\n") != 2 {
		t.Errorf("no records: %q", s)
	}
}
