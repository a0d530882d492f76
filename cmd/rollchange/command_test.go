package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

// call runs a command line and returns what it came to.
func call(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	return callIn(context.Background(), stdin, args...)
}

// together is the context of the commands whose answers are looked at and not how
// they came about: what one has simulated another need not simulate again.
var together = replicate.WithMemory(context.Background(), replicate.NewMemory(50000, nil))

func callIn(ctx context.Context, stdin string, args ...string) (code int, stdout, stderr string) {
	var o, e bytes.Buffer
	code = execute(ctx, args, strings.NewReader(stdin), &o, &e)
	return code, o.String(), e.String()
}

// template is the text of a shipped scenario.
func template(t *testing.T, name string) string {
	t.Helper()
	for _, x := range scenarios.Templates() {
		if x.Name == name {
			return string(x.Text)
		}
	}
	t.Fatalf("no template %s", name)
	return ""
}

func TestNoArgumentShowsHowToStartInFiveLines(t *testing.T) {
	code, out, errs := call(t, "")
	assert.Equal(t, exitAnswered, code)
	assert.Empty(t, errs)
	assert.Equal(t, 5, strings.Count(out, "\n"))
}

func TestEveryCommandOnEveryShippedScenario(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(1, 6, len(scenarios.Templates()))] {
		t.Run(x.Name, func(t *testing.T) {
			short := []string{"-", "--replications", "3", "--horizon", "3 d"}
			for _, args := range [][]string{{"check", "-"}, append([]string{"run"}, short...), append([]string{"compare"}, short...),
				append([]string{"run", "--json"}, short...), append([]string{"compare", "--csv", "--units", "imperial"}, short...), {"trace", "-", "--to", "2 h"}, {"trace", "-", "--csv"}} {
				code, out, errs := callIn(together, string(x.Text), args...)
				assert.Equal(t, exitAnswered, code, "%v: %s", args, errs)
				assert.NotEmpty(t, out)
				assert.NotContains(t, out, "NaN")
				assert.NotContains(t, out, "\x1b", "no colour where there is no terminal")
				assert.NotContains(t, errs, "replications", "no bar where there is no terminal")
			}
		})
	}
}

func TestSameFileAndSeedSameBytesForAnyWorkers(t *testing.T) {
	text := pressFor(t)
	args := []string{"compare", "-", "--json", "--replications", "5", "--horizon", fmt.Sprint(effort.Of(1, 4, 4), " d")}
	_, one, _ := call(t, text, append(args, "--workers", "1")...)
	_, two, _ := call(t, text, append(args, "--workers", "2")...)
	_, five, _ := call(t, text, append(args, "--workers", "5")...)
	assert.Equal(t, one, two)
	assert.Equal(t, one, five)
	_, other, _ := call(t, text, append(args, "--seed", "99")...)
	assert.NotEqual(t, one, other)
}

func TestJSONHasTheAgreedShape(t *testing.T) {
	_, out, _ := call(t, template(t, "label_press"), "compare", "-", "--json", "--replications", "2", "--horizon", "2 d")
	var got map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	for _, k := range []string{"tool", "scenario", "run", "alternatives", "differences", "economics"} {
		assert.Contains(t, got, k)
	}
	assert.Len(t, got["alternatives"], 3)
	assert.Len(t, got["differences"], 2)
	_, out, _ = call(t, template(t, "label_press"), "run", "-", "--json", "--replications", "1", "--horizon", "2 d")
	var run struct {
		Metrics map[string]struct {
			Unit      string
			Mean      float64
			HalfWidth *float64 `json:"half_width"`
			N         int
		}
		Balance map[string]float64
	}
	require.NoError(t, json.Unmarshal([]byte(out), &run))
	assert.Nil(t, run.Metrics["good_rate"].HalfWidth, "one replication: null")
	assert.Equal(t, "m/s", run.Metrics["good_rate"].Unit)
	assert.Less(t, run.Balance["metres"], 1e-6)
}

func TestBadUseAndInputIsExit2AndTouchesNothing(t *testing.T) {
	folder := t.TempDir()
	good := filepath.Join(folder, "good.toml")
	require.NoError(t, os.WriteFile(good, []byte(template(t, "label_press")), 0o644))
	bad := filepath.Join(folder, "bad.toml")
	require.NoError(t, os.WriteFile(bad, []byte("[line]\nspeed = 150\naccell = \"1 m/s2\"\n"), 0o644))
	answer := filepath.Join(folder, "answer.json")
	require.NoError(t, os.WriteFile(answer, []byte("what stood there"), 0o644))
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"rum", good}, "did you mean run"},
		{[]string{"run"}, "one scenario file"},
		{[]string{"run", good, "--jason"}, "unknown flag"},
		{[]string{"run", good, "--json", "--csv"}, "none of the others"},
		{[]string{"run", filepath.Join(folder, "missing.toml")}, "there is no such file"},
		{[]string{"run", folder}, "is a folder"},
		{[]string{"run", bad, "-o", answer}, "did you mean line.accel"},
		{[]string{"run", good, "--alternative", "nobody"}, "no alternative"},
		{[]string{"run", good, "--replications", "0"}, "must be 1 to 100000"},
		{[]string{"run", good, "--horizon", "30"}, "unit"},
		{[]string{"run", good, "--workers", "-1"}, "below 0"},
		{[]string{"run", good, "--units", "metrick"}, "must be one of"},
		{[]string{"run", good, "-o", filepath.Join(folder, "no", "where.json")}, "cannot be written"},
		{[]string{"run", good, "-o", folder}, "cannot be written"},
		{[]string{"trace", good, "--around", "noise"}, "is not one of"},
		{[]string{"trace", good, "--plot", "x.gif"}, "ends in .svg"},
		{[]string{"trace", good, "--from", "3 h", "--to", "1 h"}, "before"},
		{[]string{"new", good}, "exists already"},
		{[]string{"new", "--template", "nothing"}, "no template"},
		{[]string{"keys", "nothing.like.it"}, "no key or distribution contains"},
	} {
		code, out, errs := call(t, "", c.args...)
		assert.Equal(t, exitBad, code, "%v", c.args)
		assert.Empty(t, out, "%v", c.args)
		assert.Contains(t, errs, c.says, "%v", c.args)
		assert.NotContains(t, errs, "goroutine", "%v", c.args)
	}
	text, err := os.ReadFile(answer)
	require.NoError(t, err)
	assert.Equal(t, "what stood there", string(text))
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 3, "nothing is left behind")
}

func TestInterruptIsExit130AndSaysSo(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var o, e bytes.Buffer
	code := execute(ctx, []string{"run", "-"}, strings.NewReader(template(t, "label_press")), &o, &e)
	assert.Equal(t, exitInterrupted, code)
	assert.Empty(t, o.String())
	assert.Contains(t, e.String(), "interrupted")
}

// pressFor is the label press; with -short it has no savings, whose 10,000 draws take longer
// than a short simulation.
func pressFor(t *testing.T) string {
	text := template(t, "label_press")
	if testing.Short() {
		text = removed(text, "life")
	}
	return text
}

func TestPicturesAreWrittenAndTheSameEachTime(t *testing.T) {
	effort.NotInRace(t)
	var first map[string]string
	for range effort.Of(1, 2, 2) {
		folder := filepath.Join(t.TempDir(), "pictures")
		code, _, errs := call(t, pressFor(t), "compare", "-", "--replications", "2", "--horizon", "2 d", "--plots", folder)
		require.Equal(t, exitAnswered, code, errs)
		files, err := filepath.Glob(filepath.Join(folder, "*.svg"))
		require.NoError(t, err)
		got := map[string]string{}
		for _, f := range files {
			text, err := os.ReadFile(f)
			require.NoError(t, err)
			got[filepath.Base(f)] = string(text)
		}
		assert.Contains(t, got, "hours.svg")
		assert.Contains(t, got, "unwind-storage-2.svg")
		if first != nil {
			assert.Equal(t, first, got)
		}
		first = got
	}
}

func TestNewWritesAScenarioThatRuns(t *testing.T) {
	file := filepath.Join(t.TempDir(), "line.toml")
	code, _, errs := call(t, "", "new", file, "--template", "slitter")
	require.Equal(t, exitAnswered, code, errs)
	code, _, errs = call(t, "", "check", file)
	assert.Equal(t, exitAnswered, code, errs)
}

func TestWarmUpByTheOutputItself(t *testing.T) {
	text := strings.Replace(template(t, "label_press"), "[run]", "[run]\nwarm_up = \"auto\"", 1)
	text = strings.Replace(text, "warm_up = \"1 h\"", "", 1)
	code, out, errs := call(t, text, "run", "-", "--replications", "3", "--horizon", "5 d")
	assert.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, out, "replications")
}

// Of lines that share a crew, trace can show one, and draws that of the event.
func TestTraceOfOneOfSeveralLines(t *testing.T) {
	text := template(t, "bagger")
	auto := []string{"trace", "-", "--alternative", "automatic, 2 operators"}
	code, out, errs := call(t, text, append(auto, "--line", "3", "--to", "2 h", "--csv")...)
	require.Equal(t, exitAnswered, code, errs)
	for _, row := range strings.Split(strings.TrimSpace(out), "\n")[1:] {
		assert.Equal(t, "3", strings.Split(row, ",")[1])
	}
	file := filepath.Join(t.TempDir(), "splice.svg")
	code, _, errs = call(t, text, append(auto, "--line", "2", "--around", "splice", "--plot", file)...)
	assert.Equal(t, exitAnswered, code, errs)
	assert.FileExists(t, file)
	code, _, errs = call(t, text, append(auto, "--line", "9")...)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "lines 1 to 4")
}
