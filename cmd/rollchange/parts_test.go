package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// split are the command lines that can be split, on a short line in line.toml.
var split = map[string][]string{
	"run":   {"run", "line.toml", "--alternative", "automatic unwind and rewind", "--replications", "5", "--horizon", "1 d"},
	"sweep": {"sweep", "line.toml", "--vary", "unwind.storage.run_level=20 m,30 m,60 m", "--vary", "line.speed=100 m/min..150 m/min/2", "--replications", "2", "--horizon", "1 d"},
}

// inFolder goes to an empty folder with line.toml.
func inFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o644))
}

// must runs a command line that succeeds and returns what it prints.
func must(t *testing.T, args ...string) string {
	t.Helper()
	code, out, errs := call(t, "", args...)
	require.Equal(t, exitAnswered, code, "%v: %s", args, errs)
	return out
}

// shown is must where only the answer is looked at; see together.
func shown(t *testing.T, args ...string) string {
	t.Helper()
	code, out, errs := callIn(together, "", args...)
	require.Equal(t, exitAnswered, code, "%v: %s", args, errs)
	return out
}

func with(args []string, more ...string) []string {
	return append(append([]string{}, args...), more...)
}

// saved runs the parts of a command into files and returns their names.
func saved(t *testing.T, args []string, n int, more ...string) []string {
	t.Helper()
	var files []string
	for k := 1; k <= n; k++ {
		file := fmt.Sprintf("part-%d-of-%d.jsonl", k, n)
		assert.Empty(t, must(t, with(args, with(more, "--part", fmt.Sprintf("%d/%d", k, n), "-o", file)...)...))
		files = append(files, file)
	}
	return files
}

func TestPartsMergeToTheBytesOfTheWhole(t *testing.T) {
	for name, args := range split {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			whole := must(t, with(args, "--json")...)
			for _, n := range effort.Some([]int{2, 7, 1, 3}, 1) {
				files := saved(t, args, n, "--workers", fmt.Sprint(1+n%3))
				assert.Equal(t, whole, must(t, with([]string{"merge"}, files...)...), "%d parts", n)
			}
			must(t, "merge", "part-2-of-2.jsonl", "part-1-of-2.jsonl", "-o", "result.json")
			result, err := os.ReadFile("result.json")
			require.NoError(t, err)
			assert.Equal(t, whole, string(result))
			assert.Equal(t, whole, must(t, with(args, "--json", "--resume", "journal")...), "through a journal")
			assert.NoFileExists(t, "journal", "what is finished needs no journal")
		})
	}
}

func TestEveryShippedScenarioCanBeSplit(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(1, 5, len(scenarios.Templates()))] {
		t.Run(x.Name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			require.NoError(t, os.WriteFile("line.toml", x.Text, 0o644))
			key := "crew.operators"
			if strings.Contains(string(x.Text), "[[crew.group]]") {
				key = "crew.group[0].operators"
			}
			for _, args := range [][]string{{"run", "line.toml"}, {"sweep", "line.toml", "--vary", key + "=1,2"}} {
				args = with(args, "--replications", "2", "--horizon", "1 d")
				assert.Equal(t, must(t, with(args, "--json")...), must(t, with([]string{"merge"}, saved(t, args, 2)...)...))
			}
		})
	}
}

func TestPartsThatDoNotBelongAreAllNamed(t *testing.T) {
	inFolder(t)
	args := split["run"]
	files := saved(t, args, 5)
	require.NoError(t, os.WriteFile("result.json", []byte("what stood there"), 0o644))
	seed, scenario, settings := with(args, "--seed", "9", "--part", "2/5", "-o", "seed"), with(args, "--part", "2/5", "-o", "scenario"), with(args, "--part", "2/5", "-o", "settings")
	must(t, seed...)
	settings[3] = "automatic unwind"
	must(t, settings...)
	text := template(t, "label_press")
	require.NoError(t, os.WriteFile("line.toml", []byte(strings.Replace(text, "120 m/min", "130 m/min", 1)), 0o644))
	must(t, scenario...)
	must(t, "sweep", "line.toml", "--vary", "crew.operators=1,2", "--replications", "2", "--horizon", "1 d", "--part", "1/2", "-o", "sweep")
	part, err := os.ReadFile(files[2])
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("version", bytes.Replace(part, []byte(`"version":"`), []byte(`"version":"9.`), 1), 0o644))
	require.NoError(t, os.WriteFile("cut", part[:len(part)-20], 0o644))
	at := bytes.LastIndexByte(part[:len(part)/2], '0')
	require.NoError(t, os.WriteFile("tampered", append(append(bytes.Clone(part[:at]), '1'), part[at+1:]...), 0o644))

	code, out, errs := call(t, "", "merge", files[0], files[0], files[1], "seed", "scenario", "settings", "sweep", "version", "cut", "tampered", "missing", "line.toml", "-o", "result.json")
	assert.Equal(t, exitBad, code)
	assert.Empty(t, out)
	for _, says := range []string{files[0] + ": is part 1 of 5", "seed: does not belong", "scenario: does not belong", "settings: does not belong", "sweep: does not belong", "version: was changed",
		"cut: is cut off", "tampered: was changed", "missing: cannot be read", "line.toml: is not a part", "part 4 of 5 is missing", "part 5 of 5 is missing"} {
		assert.Contains(t, errs, says)
	}
	for _, line := range strings.Split(strings.TrimSpace(errs), "\n") {
		assert.True(t, strings.HasPrefix(line, "rollchange merge: "), line)
	}
	result, err := os.ReadFile("result.json")
	require.NoError(t, err)
	assert.Equal(t, "what stood there", string(result))
}

// An interrupted run or sweep goes on from what its journal keeps, at whatever
// byte that ends, and comes to the same bytes.
func TestInterruptedWorkGoesOn(t *testing.T) {
	for name, args := range split {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			args := with(args, "--part", "1/2")
			whole := must(t, args...)
			kept := whole[:strings.LastIndex(strings.TrimSpace(whole), "\n")+1]
			lines := strings.SplitAfter(kept, "\n")
			for i := 0; i <= len(kept); i += 1 + len(kept)/effort.Of(5, 17, 17) {
				require.NoError(t, os.WriteFile("journal", []byte(kept[:i]), 0o644))
				code, out, errs := call(t, "", with(args, "--resume", "journal")...)
				require.Equal(t, exitAnswered, code, errs)
				require.Equal(t, whole, out, "from byte %d", i)
				require.NoFileExists(t, "journal")
			}
			two := lines[0] + lines[1]
			require.NoError(t, os.WriteFile("journal", []byte(two), 0o644))
			ctx, cancel := context.WithCancel(context.Background())
			cancel()
			var o, e bytes.Buffer
			assert.Equal(t, exitInterrupted, execute(ctx, with(args, "--resume", "journal", "-o", "result"), strings.NewReader(""), &o, &e))
			assert.Contains(t, e.String(), "kept in journal; the same command continues from there")
			assert.NoFileExists(t, "result")
			left, err := os.ReadFile("journal")
			require.NoError(t, err)
			assert.Equal(t, two, string(left))
		})
	}
}

// The scenario's own text is not all that it is read from.
func TestPartsOfOtherDataFilesDoNotBelong(t *testing.T) {
	inFolder(t)
	text := regexp.MustCompile(`values = \[[^]]*\]`).ReplaceAllString(template(t, "label_press"), `file = "times.csv", column = "time"`)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	args := []string{"run", "line.toml", "--replications", "4", "--horizon", "1 d"}
	for i, times := range []string{"200 s\n240 s\n", "200 s\n241 s\n"} {
		require.NoError(t, os.WriteFile("times.csv", []byte("time\n"+times), 0o644))
		must(t, with(args, "--part", fmt.Sprintf("%d/2", i+1), "-o", fmt.Sprintf("part-%d", i+1))...)
	}
	code, _, errs := call(t, "", "merge", "part-1", "part-2")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "part-2: does not belong to part-1: it was made with other settings")
}

func TestAJournalOfOtherWorkStopsTheCommand(t *testing.T) {
	inFolder(t)
	args := split["run"]
	part := must(t, with(args, "--part", "1/2")...)
	journal := part[:strings.LastIndex(strings.TrimSpace(part), "\n")+1]
	for says, c := range map[string]struct{ text, more string }{
		"it is part 1, not 2":      {journal, "--part=2/2"},
		"one of 2 parts, not of 1": {journal, "--seed=1"},
		"has seed 1, not 3":        {journal, "--seed=3 --part=1/2"},
		"is a finished part, not ": {part, "--part=1/2"},
		"is not a part of a run o": {"title = \"mine\"\n", "--part=1/2"},
	} {
		require.NoError(t, os.WriteFile("journal", []byte(c.text), 0o644))
		code, out, errs := call(t, "", with(args, append(strings.Fields(c.more), "--resume", "journal")...)...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
		left, err := os.ReadFile("journal")
		require.NoError(t, err)
		assert.Equal(t, c.text, string(left), says)
	}
}

func TestBadUseOfPartsTouchesNothing(t *testing.T) {
	inFolder(t)
	must(t, with(split["run"], "--part", "1/1", "-o", "part")...)
	before, err := os.ReadFile("part")
	require.NoError(t, err)
	for says, args := range map[string][]string{
		"there is no part 3 of 2":             with(split["run"], "--part", "3/2", "-o", "part"),
		"write K/N":                           with(split["sweep"], "--part", "two", "-o", "part"),
		"none of the others":                  with(split["run"], "--part", "1/2", "--json"),
		"--output: ./journal is read too":     with(split["run"], "--resume", "journal", "-o", "./journal"),
		"--output: line.toml is read too":     with(split["run"], "-o", "line.toml"),
		"--output: part is read too":          {"merge", "part", "-o", "part"},
		"give the part files":                 {"merge"},
		"precision resume":                    with(split["run"], "--precision", "1%", "--resume", "journal"),
		"cannot be written: it is not a file": with(split["run"], "--resume", "."),
		"cannot be written: no such":          with(split["sweep"], "--resume", "no/where"),
	} {
		code, out, errs := call(t, "", args...)
		assert.Equal(t, exitBad, code, says)
		assert.Empty(t, out, says)
		assert.Contains(t, errs, says)
		assert.NotContains(t, errs, "goroutine")
	}
	after, err := os.ReadFile("part")
	require.NoError(t, err)
	assert.Equal(t, before, after)
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Len(t, entries, 2, "nothing is left behind")
}

func TestAFullDiskIsOneClearError(t *testing.T) {
	inFolder(t)
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full here")
	}
	defer full.Close()
	must(t, with(split["run"], "--part", "1/1", "-o", "part")...)
	for _, args := range [][]string{with(split["run"], "--part", "1/2", "--resume", "journal"), with(split["run"], "--json"), with(split["sweep"], "--part", "1/2"), with(split["sweep"], "--csv"), {"merge", "part"}} {
		var e bytes.Buffer
		code := execute(context.Background(), args, strings.NewReader(""), full, &e)
		assert.Equal(t, exitBad, code, "%v", args)
		assert.Equal(t, 1, strings.Count(e.String(), "no space left on device"), "%v: %s", args, e.String())
		assert.Contains(t, e.String(), "rollchange: ")
	}
	assert.FileExists(t, "journal", "what is finished is kept: the answer was not written")
	code, _, errs := call(t, "", with(split["run"], "-o", "/dev/full")...)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "/dev/full: cannot be written")
}

// docs/scale-out.md names every field that a part file has.
func TestThePartFileIsDescribed(t *testing.T) {
	document, err := os.ReadFile("../../docs/scale-out.md")
	require.NoError(t, err)
	inFolder(t)
	for _, args := range split {
		text := must(t, with(args, "--part", "1/1")...)
		lines := strings.Split(strings.TrimSpace(text), "\n")
		for _, line := range []string{lines[0], lines[1], lines[len(lines)-1]} {
			var fields map[string]any
			require.NoError(t, json.Unmarshal([]byte(line), &fields))
			for name, value := range fields {
				assert.Regexp(t, "`"+name+"`|\""+name+"\":", string(document))
				inside, _ := value.(map[string]any)
				if list, ok := value.([]any); ok {
					inside, _ = list[0].(map[string]any)
				}
				for name := range inside {
					assert.Contains(t, string(document), "`"+name+"`")
				}
			}
		}
	}
}
