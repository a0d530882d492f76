package records

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Clocks in Berlin were put forward on 29 March 2026 at 2:00 and are put back on
// 25 October 2026 at 3:00.
func berlin(t *testing.T) *time.Location {
	t.Helper()
	z, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no time zones here")
	}
	return z
}

func TestTheClockIsPutForward(t *testing.T) {
	const text = "start;end;cause\n2026-03-29 01:50;2026-03-29 03:10;a\n2026-03-29 02:30;2026-03-29 03:20;b\n2026-03-29 05:00;2026-03-29 05:20;b\n"
	l := read(t, text, Options{Zone: berlin(t)})
	assert.Equal(t, 1200.0, l.Stops[0].Seconds)
	assert.Equal(t, []Finding{{Kind: MissingHour, Row: 3, Column: 1, Text: "2026-03-29 02:30"}}, l.Findings)
	assert.Equal(t, "Europe/Berlin", l.Understood.Zone)
	l = read(t, "start;end;minutes;cause\n2026-03-29 01:50;2026-03-29 03:10;20;a\n2026-03-29 05:00;2026-03-29 05:20;20;b\n", Options{})
	assert.Equal(t, []Finding{{Kind: ClockChange, Row: 2, Column: 3, Text: "20", Seconds: 3600}}, l.Findings, "without a zone it is found, not guessed")
}

func TestTheClockIsPutBack(t *testing.T) {
	z := berlin(t)
	start := func(l *Log, i int) string { return l.Stops[i].Start.Format("15:04 MST") }
	// The end before the start says which; then the rows that rise do.
	l := read(t, "start;end;cause\n2026-10-25 02:50;2026-10-25 02:10;a\n2026-10-25 02:30;2026-10-25 02:40;b\n2026-10-25 05:00;2026-10-25 05:20;b\n", Options{Zone: z})
	assert.Equal(t, 1200.0, l.Stops[0].Seconds)
	assert.Equal(t, []string{"02:50 CEST", "02:30 CET"}, []string{start(l, 0), start(l, 1)})
	assert.Equal(t, 600.0, l.Stops[1].Seconds)
	// The duration says which.
	l = read(t, "start;end;minutes;cause\n2026-10-25 02:50;2026-10-25 03:10;80;a\n2026-10-25 05:00;2026-10-25 05:20;20;b\n", Options{Zone: z})
	require.Len(t, l.Stops, 2)
	assert.Equal(t, 4800.0, l.Stops[0].Seconds)
	assert.Equal(t, "02:50 CEST", start(l, 0))
	assert.Equal(t, HourTwice, l.Findings[0].Kind)
	// Without a zone nobody knows.
	l = read(t, "start;end;cause\n2026-10-25 02:50;2026-10-25 02:10;a\n2026-10-25 05:00;2026-10-25 05:20;b\n", Options{})
	assert.Equal(t, []Finding{{Kind: ClockChange, Row: 2, Column: 2, Text: "2026-10-25 02:10", Seconds: -2400}}, l.Findings)
	l = read(t, "date;start;end;cause\n2026-10-25;02:50;02:10;a\n2026-10-25;05:00;05:20;b\n", Options{})
	assert.Equal(t, ClockChange, l.Findings[0].Kind)
}

// Every minute of a year but the missing hour comes back from its clock; the
// hour that is there twice gives both.
func TestEveryHourOfAYearIsPlaced(t *testing.T) {
	z := berlin(t)
	both := 0
	for x := time.Date(2026, 1, 1, 0, 0, 0, 0, z); x.Year() == 2026; x = x.Add(10 * time.Minute) {
		a, b, is := onLine(wallOf(x), 0, false, z)
		if at := x.UnixMilli(); is == never || at != a && at != b || (a != b) != (is == twice) {
			t.Fatalf("%v: %d or %d, %v", x, a, b, is)
		}
		if a != b {
			both++
		}
	}
	assert.Equal(t, 12, both, "an hour, twice")
}

// Offsets that the times give need no zone, and with one they are the same.
func TestOffsets(t *testing.T) {
	const text = "start;end;cause\n2026-10-25T02:50+02:00;2026-10-25T02:10+01:00;a\n2026-10-25T05:00+01:00;2026-10-25T05:20+01:00;b\n"
	for _, zone := range []*time.Location{nil, berlin(t)} {
		l := read(t, text, Options{Zone: zone})
		assert.Empty(t, l.Findings)
		assert.Equal(t, 1200.0, l.Stops[0].Seconds)
		assert.Equal(t, "2026-10-25T00:50:00Z", l.Stops[0].Start.UTC().Format(time.RFC3339))
		assert.True(t, l.Understood.Offsets)
	}
}
