package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/effort"
)

// What --around shows does not end before it is over: a changeover of half an
// hour is there until the line runs again with the new order.
func TestAroundAChangeoverEndsAfterIt(t *testing.T) {
	code, out, errs := call(t, template(t, "label_press"), "trace", "-", "--around", "changeover", "--csv")
	require.Equal(t, exitAnswered, code, errs)
	rows := strings.Split(strings.TrimSpace(out), "\n")
	assert.Contains(t, out, "new order")
	assert.Contains(t, rows[len(rows)-1], "at speed")
}

// A log is kept from two minutes before the event to five after, and on until
// the line of the event runs at an even speed with no hold on.
func TestVicinity(t *testing.T) {
	running := func(at float64, line int) *sim.Record { return &sim.Record{Time: at, Line: line, SpeedP: 2} }
	held := func(at float64, line int) *sim.Record {
		return &sim.Record{Time: at, Line: line, Holds: []string{"changeover"}}
	}
	times := func(list ...*sim.Record) (at []float64) {
		v := &vicinity{wanted: func(r *sim.Record) bool { return len(r.Holds) > 0 }, from: 100}
		for _, r := range list {
			v.see(r)
		}
		for _, r := range v.records {
			at = append(at, r.Time)
		}
		return at
	}
	assert.Equal(t, []float64{480, 600, 700, 900}, times(running(10, 0), held(50, 0), running(480, 0), held(600, 0), running(700, 0), running(900, 0), running(901, 0)), "over before five minutes")
	assert.Equal(t, []float64{600, 800, 2000, 2010}, times(held(600, 0), running(800, 1), held(2000, 0), running(2010, 0), running(2020, 0), held(2030, 0)), "of another line nothing ends")
	assert.Equal(t, []float64{600, 600 + longest}, times(held(600, 0), held(600+longest, 0), held(601+longest, 0)), "never over")
}

// COLUMNS goes before what the terminal says, nonsense in it does not.
func TestWidthOfTheScreen(t *testing.T) {
	for _, x := range []struct {
		said           string
		terminal, want int
	}{{"", 120, 120}, {"90", 120, 90}, {"0", 120, 120}, {"-4", 120, 120}, {"wide", 120, 120}, {"", 0, 0}} {
		assert.Equal(t, x.want, screenColumns(x.said, x.terminal), x.said)
	}
	t.Setenv("COLUMNS", "200") // not on a terminal: 80 all the same
	code, out, errs := call(t, pressFor(t), "compare", "-", "--replications", "2", "--horizon", "2 d")
	require.Equal(t, exitAnswered, code, errs)
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, words.Columns(line), 80, line)
	}
}

// What the commands print of the shipped scenarios fits 80 columns.
func TestAnswersFit80Columns(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	text := template(t, "press_comparison")
	few := []string{"--replications", "2", "--horizon", "4 d"}
	for _, args := range [][]string{{"check", "-"}, {"keys"}, {"run", "-"}, {"compare", "-"}, {"payback", "-"}, {"trace", "-", "--to", "3 h", "--alternative", "automatic unwind and rewind"},
		{"sweep", "-", "--vary", "line.speed=120 m/min,140 m/min", "--vary", "crew.operators=1,2"}, {"size", "storage", "-", "--risk", "2 %", "--strands", "8..12"},
		{"size", "speed", "-"}, {"sensitivity", "-", "--metric", "good_rate,npv"}} {
		more := few
		if args[0] == "check" || args[0] == "trace" || args[0] == "keys" {
			more = nil
		}
		code, out, errs := callIn(together, text, append(args, more...)...)
		require.Less(t, code, exitBad, "%v: %s", args, errs)
		require.NotEmpty(t, out)
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, words.Columns(line), 80, "%v: %s", args, line)
		}
	}
}
