package main

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/match"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// knownLine is a line whose log is known. Its operator is busy with other work for a
// third of the time, so that a logged stop holds a wait beside the walk.
const knownLine = `
title = "known"
[web]
width = "330 mm"
[line]
speed = "120 m/min"
accel = "0.2 m/s2"
decel = "0.5 m/s2"
stop_scrap = "2 m"
restart_scrap = "10 m"
[unwind]
change = "manual"
roll_length = "2500 m"
residual = "10 m"
change_time = { dist = "lognormal", mean = "%s", sd = "2 min" }
[rewind]
change = "none"
[crew]
operators = 1
reaction = "20 s"
[[crew.duty]]
name = "cartons"
every = "15 min"
takes = "5 min"
[web_breaks]
mean_length = "40 km"
repair = { dist = "lognormal", mean = "%s", sd = "4 min" }
[[stop]]
name = "knife"
every = { dist = "exponential", mean = "6 h" }
repair = { dist = "gamma", shape = 2, scale = "%s" }
[run]
horizon = "102 d"
replications = 1
seed = %d
`

// logOf is what somebody at the line would write down: a row a stop, from leaving the
// speed until back at it, rounded to a second; and what it made, a row a day.
func logOf(t *testing.T, text string) (log, production string) {
	s, err := scenarios.Parse("known", []byte(text), ".")
	require.NoError(t, err)
	begin := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	var b strings.Builder
	b.WriteString("Start;End;Cause\n")
	texts := map[string]string{"unwind_change": "Rollenwechsel", "web_break": "Bahnriss", "stop.knife": "knife"}
	line := &s.Study.Alternatives[0].Line
	from, cause := -1.0, ""
	err = sim.Trace(context.Background(), line, s.Study.Run, 0, s.Study.Run.Horizon, func(r *sim.Record) {
		switch at := func(x float64) string { return begin.Add(time.Duration(x * 1e9)).Format("02.01.2006 15:04:05") }; {
		case from < 0 && r.AccelP < 0 && r.Time > 0:
			from, cause = r.Time, ""
		case from >= 0 && r.SpeedP == 0 && cause == "" && len(r.Holds) > 0:
			cause = texts[r.Holds[0]]
		case from >= 0 && r.SpeedP == line.Process.Speed && r.AccelP == 0:
			fmt.Fprintf(&b, "%s;%s;%s\n", at(from), at(r.Time), cause)
			from = -1
		}
	})
	require.NoError(t, err)
	rs, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
	require.NoError(t, err)
	m := rs.Alternatives[0].Metrics
	good := m[metric.GoodRate].Mean * s.Study.Run.Horizon
	days := int(s.Study.Run.Horizon / 86400)
	var p strings.Builder
	p.WriteString("Tag;Gutmenge (m);Abfall (m)\n")
	for i := range days {
		fmt.Fprintf(&p, "%s;%.1f;%.1f\n", begin.AddDate(0, 0, i).Format("02.01.2006"), good/float64(days), good*m[metric.Waste].Mean/(1-m[metric.Waste].Mean)/float64(days))
	}
	return b.String(), p.String()
}

type recordsJSON struct {
	Recorded struct {
		Figures []struct {
			Figure, Hold   string
			Recorded, Mean float64
			Low            float64 `json:"prediction_low"`
			High           float64 `json:"prediction_high"`
			Agrees, Fitted bool
			Missing        bool `json:"not_in_model"`
		}
	}
}

// A known line writes its log and its production; fit makes a scenario of them out of one
// with other laws; its model then makes what the line made, its work is that of the known
// line, without walk and waits, and what is falsified is said not to agree, with the cause
// that was falsified. The seed is fixed; of the figures asserted each has a chance below
// one in a thousand to fail for another seed.
func TestRoundTripOfAKnownLine(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	dir := t.TempDir()
	put := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	log, production := logOf(t, fmt.Sprintf(knownLine, "4 min", "9 min", "5 min", 3))
	logFile, made := put("log.csv", log), put("made.csv", production)
	base := put("base.toml", strings.Replace(fmt.Sprintf(knownLine, "9 min", "30 min", "1 min", 7), "replications = 1", "replications = 10", 1)+`
[records]
hours = "1 h"
[[records.cause]]
text = "Bahnriss"
is = "web_breaks"
`)
	fitted := filepath.Join(dir, "fitted.toml")
	var out, errs strings.Builder
	code := execute(context.Background(), []string{"fit", logFile, "--into", base, "--map", "Rollenwechsel=unwind.change_time", "--production", made,
		"--from", "2026-01-01", "--to", "2026-04-13", "-o", fitted}, nil, &out, &errs)
	require.Zero(t, code, errs.String())
	assert.Contains(t, errs.String(), "as long as recorded")
	text, err := os.ReadFile(fitted)
	require.NoError(t, err)
	s, err := scenarios.Parse("fitted", text, ".")
	require.NoError(t, err)
	line := &s.Study.Alternatives[0].Line
	// 4,600 changes, 340 breaks, 300 stops: more than five standard errors of their means.
	assert.InDelta(t, 240, line.Unwind.ChangeTime.Mean(), 15)
	assert.InDelta(t, 540, line.WebBreaks.Repair.Mean(), 90)
	assert.InDelta(t, 600, line.Stops[0].Repair.Mean(), 160)
	assert.InEpsilon(t, 102*86400, s.Study.Recorded.Hours, 1e-6)

	records := func(path string) recordsJSON {
		out.Reset()
		errs.Reset()
		require.Zero(t, execute(context.Background(), []string{"run", path, "--json", "--no-cache"}, nil, &out, &errs), errs.String())
		var j recordsJSON
		require.NoError(t, json.Unmarshal([]byte(out.String()), &j))
		return j
	}
	for _, f := range records(fitted).Recorded.Figures {
		switch match.Figure(f.Figure) {
		case match.Good, match.Waste:
			assert.True(t, f.Agrees, "%+v", f)
			assert.False(t, f.Fitted)
		case match.CauseTime:
			assert.True(t, f.Fitted)
			assert.InEpsilon(t, f.Recorded, f.Mean, 0.1, "hours of %s: recorded and modelled", f.Hold)
		}
	}

	// The knife took as long again and the line made less for it.
	causes := s.Study.Recorded.Causes
	knife := causes[slices.IndexFunc(causes, func(c model.RecordedCause) bool { return c.Text == "knife" })]
	more := *knife.Time
	lost := more * line.Process.Speed
	false1 := strings.Replace(string(text), fmt.Sprintf("hours = \"%.6g h\"\nfitted = true\n", more/3600), fmt.Sprintf("hours = \"%.6g h\"\n", 3*more/3600), 1)
	false1 = strings.Replace(false1, fmt.Sprintf("good = \"%.0f m\"", *s.Study.Recorded.Good), fmt.Sprintf("good = \"%.0f m\"", *s.Study.Recorded.Good-3*lost), 1)
	require.NotEqual(t, string(text), false1)
	out.Reset()
	require.Zero(t, execute(context.Background(), []string{"run", put("false.toml", false1), "--no-cache"}, nil, &out, &errs), errs.String())
	said := strings.Join(strings.Fields(out.String()), " ")
	assert.Contains(t, said, "The line made less good web than the model expects")
	assert.Contains(t, said, "Look first at knife:")
}

// The shipped scenario that was learned from the shipped log is what fit makes of it, and
// made again it stays.
func TestLearnedScenario(t *testing.T) {
	if testing.Short() {
		t.Skip("TestFitWritesWhatSimulates makes one of the same log")
	}
	const name = "label_press_learned.toml"
	folder, err := filepath.Abs("../../scenarios")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	for _, file := range []string{"label_press_stops.csv", "label_press_production.csv", name} {
		data, err := os.ReadFile(filepath.Join(folder, file))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, data, 0o600))
	}
	code, _, errs := call(t, "", "fit", "label_press_stops.csv", "--into", name, "--production", "label_press_production.csv", "-o", "again.toml", "--report", "log.html")
	require.Equal(t, exitAnswered, code, errs)
	made, err := os.ReadFile("again.toml")
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), made, 0o644))
	}
	shipped, err := os.ReadFile(filepath.Join(folder, name))
	require.NoError(t, err)
	assert.Equal(t, string(shipped), string(made))
	log, err := os.ReadFile("label_press_stops.csv")
	require.NoError(t, err)
	page, err := os.ReadFile("log.html")
	require.NoError(t, err)
	assert.Contains(t, string(page), fmt.Sprintf("%x", sha256.Sum256(log)), "the page says of which log it is")
	code, out, errs := call(t, "", "run", name, "--no-cache")
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "Good web, waste and roll changes of the period agree with the model.")
}

// The periods hold what the records leave open where a law says how much was observed,
// without being asked, unless nothing of records is wanted.
func TestPeriodsHoldWhatRecordsLeaveOpen(t *testing.T) {
	recorded(t)
	text, err := os.ReadFile("line.toml")
	require.NoError(t, err)
	text = append(text, "\n[records]\nhours = \"30 h\"\ngood = \"150 km\"\n"...)
	require.NoError(t, os.WriteFile("line.toml", text, 0o600))
	width := func(with bool, flags ...string) float64 {
		var j struct {
			Recorded struct {
				Records bool `json:"with_records"`
				Figures []struct {
					Low  float64 `json:"prediction_low"`
					High float64 `json:"prediction_high"`
				}
			}
		}
		out := must(t, append([]string{"run", "line.toml", "--json", "--replications", "2", "--horizon", "2 d"}, flags...)...)
		require.NoError(t, json.Unmarshal([]byte(out), &j))
		assert.Equal(t, with, j.Recorded.Records)
		return j.Recorded.Figures[0].High - j.Recorded.Figures[0].Low
	}
	usual := width(true)
	assert.Less(t, width(false, "--records=none"), usual)
	if testing.Short() {
		return
	}
	assert.Equal(t, usual, width(true, "--records"), "the same periods")
	require.NoError(t, os.WriteFile("line.toml", []byte(strings.Replace(string(text), ", observed = 60", "", 1)), 0o600))
	width(false)
}
