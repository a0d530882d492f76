package table

import (
	"io"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
)

func TestTraceGolden(t *testing.T) {
	invented.Golden(t, "trace.txt", []byte(invented.Written(t, func(w io.Writer) error { return Trace(w, invented.Motion(), model.Metric, Screen{}) })))
}

func TestClock(t *testing.T) {
	for s, want := range map[float64]string{0: "0:00:00.000", 59.9996: "0:01:00.000", 3599.9999: "1:00:00.000", 86400: "24:00:00.000", 3661.25: "1:01:01.250"} {
		if got := words.Clock(s); got != want {
			t.Errorf("%g s: %s, want %s", s, got, want)
		}
	}
	if s := invented.Written(t, func(w io.Writer) error { return Trace(w, nil, model.Imperial, Screen{}) }); strings.Count(s, "\n") != 3 {
		t.Errorf("no records: %q", s)
	}
}
