package table

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
)

// No name that a person types reaches the terminal as more than text.
func TestTablesOfHostileNames(t *testing.T) {
	for _, name := range invented.HostileNames {
		rs := invented.HostileResults(name)
		a := words.About{Version: name, Title: name, File: name, SHA256: name}
		for _, s := range []string{
			invented.Written(t, func(w io.Writer) error { return Run(w, a, rs, 0, model.Metric, Screen{}) }),
			invented.Written(t, func(w io.Writer) error { return Compare(w, a, rs, model.Metric, Screen{}) }),
		} {
			for _, r := range s {
				if r < ' ' && r != '\n' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e {
					t.Fatalf("%.40q puts %q on the terminal", name, r)
				}
			}
			if strings.Contains(s, "%!") {
				t.Errorf("%.40q is taken for a format", name)
			}
		}
	}
}

// A writer that fails is told of by every table.
func TestTablesToAFullDisk(t *testing.T) {
	rs := invented.Results()
	for i, write := range []func(w io.Writer) error{
		func(w io.Writer) error { return Run(w, about, rs, 0, model.Metric, Screen{}) },
		func(w io.Writer) error { return Compare(w, about, rs, model.Metric, Screen{}) },
		func(w io.Writer) error { return Trace(w, invented.Motion(), model.Metric, Screen{}) },
	} {
		if err := write(&invented.FullDisk{}); err == nil {
			t.Errorf("writer %d: a full disk is no error", i)
		}
	}
	var b bytes.Buffer
	if err := Run(&b, about, rs, 0, model.Metric, Screen{Color: true}); err != nil || !strings.Contains(b.String(), "\x1b[1m") {
		t.Errorf("colour was asked for: %v", err)
	}
}
