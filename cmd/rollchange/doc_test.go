package main

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"rollchange/sim/effort"
)

var update = flag.Bool("update", false, "write what the commands print into the documents")

// slow are commands that the usual form does not run, a quarter of a second and more each: the same questions
// are asked in other documents, of lines that are simulated faster.
var slow = []string{
	`$ rollchange size speed baggers.toml --risk "5 %"`,
	`$ rollchange size speed baggers.toml --alternative "automatic, 2 operators" --risk "2 %"`,
	`$ rollchange sensitivity baggers.toml --alternative "45 m/min, nothing else" --metric waste.total`,
	`$ rollchange payback line.toml --alternative flying --solve investment --solve demand --solve "unwind.roll_length=5 km..200 km"`,
	`$ rollchange run learned.toml --records`,
	`$ rollchange report line.toml -o line.html --customer "Example Labels" --author "A. Planner" --date 2026-03-31`,
	`$ rollchange sensitivity line.toml --alternative "automatic unwind" --metric npv`,
	`$ rollchange plan week.toml --improve late`,
	`$ rollchange compare learned.toml --records`,
	`$ rollchange sweep baggers.toml --alternative "as today, 35 m/min" --vary line.speed="35 m/min..51 m/min/5" --risk "5 %"`,
	`$ rollchange payback line.toml --alternative flying --solve investment --solve crew_cost --for "discounted payback 1.2 years"`,
	`$ rollchange sweep line.toml --alternative "automatic unwind" --vary line.speed="100 m/min,120 m/min,140 m/min" --vary unwind.storage.capacity="20 m,40 m,60 m"`,
	`$ rollchange sweep baggers.toml --alternative "automatic, 2 operators" --vary line.speed="30 m/min..39 m/min/4" --risk "2 %"`,
	`$ rollchange compare line.toml --set line.speed="140 m/min" --set "alternative[automatic unwind].unwind.dwell.mean=6 s"`,
	`$ rollchange compare fitted.toml`,
	`$ rollchange size storage press.toml --alternative "automatic unwind" --risk "1 %" --strands 10..12`,
}

// Every command that a document shows runs here, in a fresh folder, and prints
// what the document says. A block of commands begins with ```console; a line
// that begins with "$ rollchange" is a command, what follows up to the next is
// what it prints on standard output; a line with only … stands for any lines.
func TestDocumentsShowWhatTheToolPrints(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	all := documents(t)
	if !*update && !effort.Long() { // of the studies the first: their lines are in the other documents too
		studies := slices.IndexFunc(all, func(path string) bool { return strings.Contains(filepath.ToSlash(path), "/studies/") })
		all = all[:studies+1]
	}
	for _, path := range all {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			t.Chdir(t.TempDir())
			changed := runDocument(t, string(text))
			if *update && changed != string(text) {
				require.NoError(t, os.WriteFile(path, []byte(changed), 0o644))
			}
		})
	}
}

// documents are the paths of all that show commands.
func documents(t *testing.T) []string {
	t.Helper()
	list := []string{"../../README.md"}
	for _, folder := range []string{"docs", "docs/studies"} {
		found, err := filepath.Glob(filepath.Join("../..", folder, "*.md"))
		require.NoError(t, err)
		list = append(list, found...)
	}
	for i := range list {
		path, err := filepath.Abs(list[i])
		require.NoError(t, err)
		list[i] = path
	}
	return list
}

// A slow command stands in a document still, and another one that is not slow asks
// the same.
func TestWhatSlowCommandsAskIsAskedElsewhere(t *testing.T) {
	asked := map[string]bool{}
	for _, path := range documents(t) {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			asked[line] = true
			if strings.HasPrefix(line, "$ rollchange") && !slices.Contains(slow, line) {
				asked[question(line)] = true
			}
		}
	}
	for _, line := range slow {
		assert.True(t, asked[line], "no document has %s", line)
		assert.True(t, asked[question(line)], "no other command asks %s", question(line))
	}
}

// question is what a command line asks, "size speed".
func question(line string) string {
	words := strings.Fields(line)
	if words[2] == "size" {
		return words[2] + " " + words[3]
	}
	return words[2]
}

// runDocument runs the commands of a document and returns it with what they print.
func runDocument(t *testing.T, text string) string {
	var out []string
	inside := false
	ran := map[string]string{}
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		line := lines[i]
		out = append(out, line)
		switch {
		case strings.HasPrefix(line, "```console"):
			inside = true
		case strings.HasPrefix(line, "```"):
			inside = false
		case inside && strings.HasPrefix(line, "$ rollchange"):
			var shown []string
			for i+1 < len(lines) && !strings.HasPrefix(lines[i+1], "$ ") && !strings.HasPrefix(lines[i+1], "```") {
				i++
				shown = append(shown, lines[i])
			}
			if slices.Contains(slow, line) && !*update && !effort.Long() {
				out = append(out, shown...)
				continue
			}
			stdout, again := ran[line] // a document shows parts of one answer in several places
			if !again {
				stdout = answer(t, line)
				ran[line] = stdout
			}
			var printed []string
			if stdout != "" {
				printed = strings.Split(strings.TrimRight(stdout, "\n"), "\n")
			}
			switch {
			case elided(shown) && *update:
				out = append(out, refreshed(shown, printed)...)
			case elided(shown):
				assert.True(t, matches(shown, printed), "%s prints otherwise:\n%s", line, stdout)
				out = append(out, shown...)
			case *update:
				out = append(out, printed...)
			default:
				assert.Equal(t, strings.Join(shown, "\n"), strings.Join(printed, "\n"), line)
			}
		}
	}
	return strings.Join(out, "\n")
}

// answered are the answers of commands that wrote no file, by their line and the files
// that they had: several documents show the same.
var answered = map[string]string{}

// answer runs a command line of a document and returns what it prints.
func answer(t *testing.T, line string) string {
	t.Helper()
	before := snapshot(t)
	what := fmt.Sprint(line, before)
	if stdout, known := answered[what]; known {
		return stdout
	}
	var stdout, stderr bytes.Buffer
	code := execute(together, splitWords(strings.TrimPrefix(line, "$ rollchange")), strings.NewReader(""), &stdout, &stderr)
	require.Less(t, code, exitBad, "%s\n%s", line, stderr.String())
	if maps.Equal(before, snapshot(t)) {
		answered[what] = stdout.String()
	}
	return stdout.String()
}

// splitWords splits a command line at spaces outside double quotes.
func splitWords(s string) []string {
	quoted := false
	fields := strings.FieldsFunc(s, func(c rune) bool {
		if c == '"' {
			quoted = !quoted
		}
		return c == ' ' && !quoted
	})
	for i := range fields {
		fields[i] = strings.ReplaceAll(fields[i], `"`, "")
	}
	return fields
}

func elided(lines []string) bool {
	return slices.ContainsFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "…" })
}

// matches says whether printed is shown, where … stands for any lines.
func matches(shown, printed []string) bool {
	for i, s := range shown {
		if strings.TrimSpace(s) == "…" {
			for skip := 0; skip <= len(printed); skip++ {
				if matches(shown[i+1:], printed[skip:]) {
					return true
				}
			}
			return false
		}
		if len(printed) == 0 || printed[0] != s {
			return false
		}
		printed = printed[1:]
	}
	return len(printed) == 0
}

// refreshed is a block with … in it as it should be now: the stretches between two
// … are replaced by stretches of what is printed, as long and in the same order, that
// are together most like them, figures not looked at. What does not begin or end
// with … is the beginning or the end of what is printed.
func refreshed(shown, printed []string) []string {
	var stretches [][]string
	var out []string
	var stretch []string
	for _, line := range append(slices.Clone(shown), "…") {
		if strings.TrimSpace(line) != "…" {
			stretch = append(stretch, line)
			continue
		}
		stretches = append(stretches, stretch[:min(len(stretch), len(printed))])
		stretch = nil
	}
	places := placed(stretches, printed, len(stretches[0]) > 0, len(stretches[len(stretches)-1]) > 0)
	for k, stretch := range stretches {
		if k > 0 {
			out = append(out, "…")
		}
		if at := places[k]; at >= 0 {
			out = append(out, printed[at:at+len(stretch)]...)
		}
	}
	return out
}

// placed is where each stretch is in what is printed, one after the other, so that
// the likeness of all is most; -1 for one that there is no room for. first and last
// say that the first begins and the last ends what is printed.
func placed(stretches [][]string, printed []string, first, last bool) []int {
	type best struct {
		alike float64
		at    int // of this stretch, -1: left out
	}
	n := len(printed)
	table := make([][]best, len(stretches)+1) // by stretch, by the place from which it may stand
	table[len(stretches)] = make([]best, n+1)
	for k := len(stretches) - 1; k >= 0; k-- {
		stretch := stretches[k]
		table[k] = make([]best, n+1)
		for from := n; from >= 0; from-- {
			b := best{table[k+1][from].alike - 1, -1} // left out, if it must be
			if from < n && table[k][from+1].alike > b.alike {
				b = table[k][from+1]
			}
			end := from + len(stretch)
			if end <= n && (k > 0 || !first || from == 0) && (k < len(stretches)-1 || !last || end == n) {
				alike := table[k+1][end].alike
				for i, line := range stretch {
					alike += likeness(line, printed[from+i])
				}
				if alike >= b.alike {
					b = best{alike, from}
				}
			}
			table[k][from] = b
		}
	}
	places := make([]int, len(stretches))
	from := 0
	for k := range stretches {
		places[k] = table[k][from].at
		if places[k] >= 0 {
			from = places[k] + len(stretches[k])
		}
	}
	return places
}

// likeness is 3 for lines that are the same, and up to 2 for lines of the same words.
func likeness(a, b string) float64 {
	if a == b {
		return 3
	}
	words := func(line string) []string {
		return strings.FieldsFunc(line, func(c rune) bool { return strings.ContainsRune("0123456789.,±−+-~ ", c) })
	}
	x, y := words(a), words(b)
	same := 0
	for _, w := range x {
		if slices.Contains(y, w) {
			same++
		}
	}
	return 2 * float64(same) / float64(max(1, len(x), len(y)))
}

func TestABlockWithGapsIsRefreshed(t *testing.T) {
	printed := strings.Split("head\na   1.5 m\n  x 2\nb 3\nc 4 ± 1\ntail", "\n")
	shown := strings.Split("head\n…\n  x 1\n…\nc 9 ± 3\n…", "\n")
	got := refreshed(shown, printed)
	assert.Equal(t, strings.Split("head\n…\n  x 2\n…\nc 4 ± 1\n…", "\n"), got)
	assert.True(t, matches(got, printed))
}

// What is refreshed is right at once, whatever the block was: no stretch is there that
// was not, and a second time changes nothing.
func TestARefreshedBlockIsRight(t *testing.T) {
	words := []string{"speed", "good web", "waste", "stopped", ""}
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.Custom(func(t *rapid.T) string {
			return fmt.Sprint(rapid.SampledFrom(words).Draw(t, "word"), " ", rapid.IntRange(0, 3).Draw(t, "figure"))
		})
		printed := rapid.SliceOfN(line, 12, 20).Draw(t, "printed")
		var shown []string
		for k := range rapid.IntRange(1, 3).Draw(t, "gaps") {
			if k > 0 || rapid.Bool().Draw(t, "begins") {
				shown = append(shown, rapid.SliceOfN(line, 1, 3).Draw(t, "stretch")...)
			}
			shown = append(shown, "…")
		}
		if rapid.Bool().Draw(t, "ends") {
			shown = append(shown, rapid.SliceOfN(line, 1, 3).Draw(t, "stretch")...)
		}
		got := refreshed(shown, printed)
		require.LessOrEqual(t, len(got), len(shown)) // a stretch may have no place any more
		assert.True(t, matches(got, printed), "%q of %q", got, printed)
		assert.Equal(t, got, refreshed(got, printed))
	})
}

// The row of the second table that has not changed does not draw the first table to it.
func TestAStretchStaysInItsPlace(t *testing.T) {
	printed := strings.Split("first\nwaste 7\nsum 7\nsecond\nwaste 5\nsum 5\nend", "\n")
	shown := strings.Split("…\nwaste 5\n…\nsecond\nwaste 4\n…", "\n")
	assert.Equal(t, strings.Split("…\nwaste 7\n…\nsecond\nwaste 5\n…", "\n"), refreshed(shown, printed))
	assert.Equal(t, []string{"first", "…", "end"}, refreshed([]string{"second", "…", "sum 5"}, printed), "ends stay ends")
}
