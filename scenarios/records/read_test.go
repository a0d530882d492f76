package records

import (
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/scenarios/cells"
)

// read reads a log that must be read.
func read(t *testing.T, text string, opt Options) *Log {
	t.Helper()
	l, err := tryRead(text, opt)
	require.NoError(t, err)
	return l
}

func tryRead(text string, opt Options) (*Log, error) {
	table, err := cells.Read("log.csv", []byte(text))
	if err != nil {
		return nil, err
	}
	return Read(table, opt)
}

func TestFirst(t *testing.T) {
	l := read(t, `Stop log of press 3

Datum;Beginn;Ende;Dauer [min];Grund;Bemerkung
14.03.2026;10:05;10:17;12;Bahnriss;x
14.03.2026;23:50;0:10;20;Rollenwechsel;
15.03.2026;8:00;8:05;5;Bahnriss;
`, Options{})
	t.Logf("%+v", l.Understood)
	for _, s := range l.Stops {
		t.Logf("%+v", s)
	}
	t.Logf("%+v %+v %+v", l.Findings, l.Causes, l.Lines)
	t.Logf("%+v", l.Gaps("bahnriss"))
}
