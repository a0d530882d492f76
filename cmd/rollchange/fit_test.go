package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// stops puts the shipped stop log into a folder of its own.
func stops(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("stops.csv", scenarios.StopLog().Text, 0o644))
}

// Each wrong flag is one error; all of them are said at once.
func TestWrongFlagsOfFit(t *testing.T) {
	stops(t)
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o644))
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"--columns", "start"}, "--columns: "}, {[]string{"--dates", "us"}, "--dates: "}, {[]string{"--decimal", ";"}, "--decimal: "}, {[]string{"--zone", "Mars/North"}, "--zone: "},
		{[]string{"--from", "31.1.2026"}, "--from: "}, {[]string{"--to", "yesterday"}, "--to: "}, {[]string{"--from", "2026-03-05", "--to", "2026-03-04"}, "--to: the period ends before it begins"},
		{[]string{"--planned", "4000"}, "--planned: "}, {[]string{"--planned", "0 h"}, "must be above 0"}, {[]string{"--recorded", "rest"}, "--recorded: "}, {[]string{"--recorded-from", "-2 min"}, "--recorded-from: "},
		{[]string{"--seed", "-1"}, "--seed: "}, {[]string{"--confidence", "100 %"}, "--confidence: "}, {[]string{"--map", "Web break"}, "--map: "}, {[]string{"--map", "Web break=unwind"}, "--map: "},
		{[]string{"--speed", "fast"}, "--speed: "}, {[]string{"--map", "no such=stop"}, "no cause \"no such\""}, {[]string{"--same", "x"}, "--same: "}, {[]string{"--same", "tear=Web break"}, "no stop has the cause \"tear\""},
		{[]string{"--into", "line.toml"}, "-o NEW.toml"}, {[]string{"--into", "line.toml", "--speed", "1 m/s", "-o", "a.toml"}, "--speed: "}, {[]string{"--json", "-o", "a.toml"}, "--json: "},
		{[]string{"--map", "Web break=web_breaks", "-o", "a.toml"}, "--map: web_breaks.mean_length"}, {[]string{"--sheet", "x"}, "--sheet: "}, {[]string{"--strict"}, "no end is given"},
		{[]string{"--into", "stops.csv", "-o", "a.toml"}, "cannot be read as TOML"},
	} {
		code, out, errs := call(t, "", with([]string{"fit", "stops.csv"}, x.args...)...)
		assert.Equal(t, exitBad, code, x.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, x.says, x.args)
		assert.NoFileExists(t, "a.toml")
	}
	_, _, errs := call(t, "", "fit", "stops.csv", "--seed", "x", "--dates", "us", "--planned", "much")
	assert.Equal(t, 3, strings.Count(errs, "rollchange fit: --"), errs)
	for _, args := range [][]string{{"fit"}, {"fit", "none.csv"}, {"fit", "a", "b"}} {
		code, _, errs := call(t, "", args...)
		assert.Equal(t, exitBad, code)
		assert.Equal(t, 1, strings.Count(errs, "\n"), errs)
	}
}

// What is printed fits the screen and says the same as the JSON.
func TestFitPrints(t *testing.T) {
	stops(t)
	code, out, errs := call(t, "", "fit", "stops.csv", "--ignore", "changeover", "--map", "Roll change=unwind.change_time")
	require.Equal(t, exitAnswered, code, errs)
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
	assert.NotContains(t, out, "NaN")
	assert.NotContains(t, out, "Changeover")
	assert.Contains(t, out, "Left out as told: 59 rows of causes that are not stops")
	assert.Contains(t, out, "unwind.change_time")
	code, text, errs := call(t, "", "fit", "stops.csv", "--json")
	require.Equal(t, exitAnswered, code, errs)
	var j struct {
		Stopped  float64 `json:"stopped_s"`
		Findings []any   `json:"findings"`
		Causes   []struct {
			Cause string  `json:"cause"`
			Stops int     `json:"stops"`
			Lost  float64 `json:"lost_s"`
		} `json:"causes"`
	}
	require.NoError(t, json.Unmarshal([]byte(text), &j))
	assert.Len(t, j.Findings, 4)
	sum, n := 0.0, 0
	for i, c := range j.Causes {
		sum, n = sum+c.Lost, n+c.Stops
		assert.True(t, i == 0 || c.Lost <= j.Causes[i-1].Lost, "the largest loss first")
	}
	assert.InDelta(t, j.Stopped, sum, 1e-6, "hours of causes are those of the line")
	assert.Equal(t, 539, n)
	_, again, _ := call(t, string(scenarios.StopLog().Text), "fit", "-", "--json")
	assert.Equal(t, strings.ReplaceAll(text, `"file": "stops.csv"`, ""), strings.ReplaceAll(again, `"file": "standard input"`, ""))
}

// The piece added to a scenario simulates, and so does a whole that was written.
func TestFitWritesWhatSimulates(t *testing.T) {
	stops(t)
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o644))
	if testing.Short() {
		intoSimulates(t)
		return
	}
	must(t, "fit", "stops.csv", "-o", "piece.toml")
	piece, err := os.ReadFile("piece.toml")
	require.NoError(t, err)
	plain := template(t, "label_press")
	i := strings.Index(plain, "[[stop]]")
	plain = plain[:i] + plain[i+strings.Index(plain[i:], "\n\n"):] // one without stops
	require.NoError(t, os.WriteFile("both.toml", []byte(plain+"\n"+string(piece)), 0o644))
	code, out, errs := call(t, "", "run", "both.toml", "--replications", "3", "--horizon", "10 d", "--csv")
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, out, "time.stopped.stop.Knife jam")
	intoSimulates(t)
}

// intoSimulates: a scenario with the laws of the log simulates, and the old one stays.
func intoSimulates(t *testing.T) {
	t.Helper()
	must(t, "fit", "stops.csv", "--into", "line.toml", "-o", "new.toml", "--map", "Web break=web_breaks", "--map", "Roll change=unwind.change_time", "--map", "Changeover=jobs.changeover")
	// CSV, since the recorded period is simulated for the others, again and again.
	code, out, errs := call(t, "", "run", "new.toml", "--replications", "3", "--horizon", "3 d", "--csv")
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, out, "time.stopped.stop.Knife jam")
	assert.NotContains(t, out, "time.stopped.stop.Web break")
	was, err := os.ReadFile("line.toml")
	require.NoError(t, err)
	assert.Equal(t, template(t, "label_press"), string(was), "the old one stays")
}

// What causes may be is printed and done only when it is said; two causes that are said
// to be one key are one.
func TestFitProposesAndJoins(t *testing.T) {
	stops(t)
	_, out, _ := call(t, "", "fit", "stops.csv")
	assert.Contains(t, out, "--map 'Web break=web_breaks'\n      its name is that of a web break")
	assert.NotContains(t, out, "is        web_breaks")
	code, out, errs := call(t, "", "fit", "stops.csv", "--map", "Web break=web_breaks", "--map", "Register lost=web_breaks", "--same", "Electrical fault=Knife jam")
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, out, "5 causes")
	assert.Contains(t, out, "is        web_breaks")
	assert.Contains(t, out, "Also spelt Register lost, web break.")
	assert.Contains(t, out, "Also spelt Electrical fault.")
	assert.NotContains(t, out, "--map 'Web break")
}
