package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/out/words"
	"rollchange/sim/effort"
)

// What --set lays over a file gives the figures of a file that says so itself.
func TestSetIsAsIfTheFileSaidSo(t *testing.T) {
	inFolder(t)
	text := pressFor(t)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	other := strings.Replace(text, "\nspeed = \"120 m/min\"", "\nspeed = \"90 m/min\"", 1)
	require.NotEqual(t, text, other)
	require.NoError(t, os.WriteFile("other.toml", []byte(other), 0o644))
	read := func(args ...string) (got struct {
		Scenario     struct{ Set map[string]string }
		Alternatives json.RawMessage
		Differences  json.RawMessage
		Economics    json.RawMessage
	}) {
		require.NoError(t, json.Unmarshal([]byte(must(t, with(args, short...)...)), &got))
		return got
	}
	set, said, plain := read("compare", "line.toml", "--json", "--set", "line.speed=90 m/min"), read("compare", "other.toml", "--json"), read("compare", "line.toml", "--json")
	assert.Equal(t, said.Alternatives, set.Alternatives)
	assert.Equal(t, said.Differences, set.Differences)
	assert.Equal(t, said.Economics, set.Economics)
	assert.NotEqual(t, plain.Alternatives, set.Alternatives)
	assert.Equal(t, map[string]string{"line.speed": "90 m/min"}, set.Scenario.Set)
	assert.Nil(t, plain.Scenario.Set)
	assert.Equal(t, read("compare", "line.toml", "--json", "--seed", "7").Alternatives, read("compare", "line.toml", "--json", "--set", "run.seed=7").Alternatives)
}

// Every answer says what was set, and says nothing when nothing was.
func TestEveryAnswerSaysWhatWasSet(t *testing.T) {
	inFolder(t)
	const says = "Set on the command line: line.speed = 100 m/min; crew.operators = 3"
	set := []string{"--set", "line.speed=100 m/min", "--set", "crew.operators=3"}
	one := []string{"--alternative", "automatic unwind"}
	every := [][]string{with([]string{"run", "line.toml"}, short...), {"check", "line.toml"}, {"trace", "line.toml"}, with([]string{"payback", "line.toml"}, short...), with([]string{"compare", "line.toml"}, short...),
		with([]string{"sweep", "line.toml", "--vary", "unwind.residual=3 m,4 m"}, short...), with([]string{"size", "crew", "line.toml", "--lost", "50 %"}, with(short, one...)...),
		with([]string{"sensitivity", "line.toml", "--metric", "good_rate"}, short...)}
	for _, args := range every[:effort.Of(2, 6, len(every))] {
		got := shown(t, with(args, set...)...)
		head, _, _ := strings.Cut(strings.Join(strings.Fields(got), " "), "What")
		assert.Contains(t, head[:min(len(head), 400)], says, "%v", args)
		assert.NotContains(t, shown(t, args...), "command line", "%v", args)
	}
	for _, args := range effort.Some([][]string{with([]string{"run", "line.toml", "--csv"}, short...), {"trace", "line.toml", "--csv"}, with([]string{"plot", "hours", "line.toml", "-o", "hours.svg"}, short...)}, 2) {
		code, out, errs := callIn(together, "", with(args, set...)...)
		require.Equal(t, exitAnswered, code, errs)
		assert.NotContains(t, out, says, "a table for machines keeps its columns")
		assert.Contains(t, errs, says, "%v", args)
		_, _, errs = callIn(together, "", args...)
		assert.NotContains(t, errs, "command line", "%v", args)
	}
	if testing.Short() {
		return
	}
	shown(t, with([]string{"report", "line.toml", "-o", "line.html", "--xlsx", "line.xlsx", "--base", "automatic unwind"}, with(short, set...)...)...)
	page, err := os.ReadFile("line.html")
	require.NoError(t, err)
	for _, x := range []string{words.Keyless(says), "--set &#39;line.speed=100 m/min&#39; --set &#39;crew.operators=3&#39;", "--base &#39;automatic unwind&#39;", "source: --set"} { // the command that makes it again; the source of an input
		assert.True(t, strings.Contains(string(page), x), x)
	}
	book, err := excelize.OpenFile("line.xlsx")
	require.NoError(t, err)
	for _, sheet := range []string{words.SheetAnswer, "Notes"} {
		rows, err := book.GetRows(sheet)
		require.NoError(t, err)
		found := false
		for _, row := range rows {
			found = found || strings.Contains(strings.Join(row, " "), says)
		}
		assert.True(t, found, sheet)
	}
}

func TestPartsWithOtherSettingsAreRefused(t *testing.T) {
	inFolder(t)
	for _, args := range [][]string{with([]string{"run", "line.toml"}, short...), with([]string{"sweep", "line.toml", "--vary", "crew.operators=1,2"}, short...)} {
		set := with(args, "--set", "line.speed=90 m/min")
		assert.Equal(t, must(t, with(set, "--json")...), must(t, with([]string{"merge"}, saved(t, set, 2)...)...), "merge says what was set")
		must(t, with(args, "--part", "2/2", "-o", "plain")...)
		must(t, with(args, "--set", "line.speed=101 m/min", "--part", "2/2", "-o", "other")...)
		// The same line, by what the file says itself: it is still not the same command.
		must(t, with(args, "--set", "units=metric", "--part", "2/2", "-o", "same")...)
		for _, second := range []string{"plain", "other", "same"} {
			code, out, errs := call(t, "", "merge", "part-1-of-2.jsonl", second)
			assert.Equal(t, exitBad, code, second)
			assert.Empty(t, out)
			assert.Contains(t, errs, second+": does not belong to part-1-of-2.jsonl: it was made with other settings: alternatives, what was set")
		}
	}
}

func TestWrongSettingsAreAllNamed(t *testing.T) {
	inFolder(t)
	for _, command := range []string{"run", "compare", "check", "trace", "sweep", "sensitivity", "payback", "size crew", "plot hours", "report"} {
		args := append(strings.Fields(command), "line.toml", "--set", "line.sped=3", "--set", "line.speed=fast")
		if command == "plot hours" || command == "report" {
			args = append(args, "-o", map[bool]string{true: "x.html", false: "x.svg"}[command == "report"])
		}
		code, out, errs := call(t, "", args...)
		assert.Equal(t, exitBad, code, command)
		assert.Empty(t, out)
		assert.Contains(t, errs, "--set line.sped=3: no such key; did you mean line.speed?", command)
		assert.Contains(t, errs, "--set line.speed=fast: ", command)
	}
	code, _, errs := call(t, "", "run", "line.toml", "--set", "run.seed=3", "--seed", "4")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "--set run.seed: --seed sets it too")
}

type compared struct {
	Alternatives []struct{ Name string }
	Differences  []struct {
		Alternative, Against string
		Metrics              map[string]struct {
			Mean, Half float64 `json:"-"`
			M          float64 `json:"mean"`
			H          float64 `json:"half_width"`
		}
	}
}

// The difference of two is the same whichever of them is the base, with the other sign.
func TestAnyAlternativeIsTheBase(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	inFolder(t)
	require.NoError(t, os.WriteFile("bare.toml", []byte(removed(template(t, "label_press"), "life")), 0o644)) // what it makes needs no savings
	read := func(args ...string) (c compared) {
		require.NoError(t, json.Unmarshal([]byte(shown(t, with(args, "--json", "--replications", "3", "--horizon", "2 d")...)), &c))
		return c
	}
	usual, turned := read("compare", "bare.toml"), read("compare", "bare.toml", "--base", "automatic unwind")
	var names []string
	for _, a := range turned.Alternatives {
		names = append(names, a.Name)
	}
	assert.Equal(t, []string{"automatic unwind", "by hand", "automatic unwind and rewind"}, names)
	a, b := usual.Differences[0], turned.Differences[0]
	assert.Equal(t, []string{"automatic unwind", "by hand", "by hand", "automatic unwind"}, []string{a.Alternative, a.Against, b.Alternative, b.Against})
	assert.InDelta(t, a.Metrics["good_rate"].M, -b.Metrics["good_rate"].M, 1e-12)
	assert.InDelta(t, a.Metrics["good_rate"].H, b.Metrics["good_rate"].H, 1e-12)
	assert.NotZero(t, a.Metrics["good_rate"].M)
	assert.Equal(t, usual, read("compare", "bare.toml", "--base", "by hand"), "the first is the base when none is named")
	pair := read("compare", "bare.toml", "--base", "automatic unwind", "--alternative", "by hand")
	assert.Len(t, pair.Alternatives, 2)
	assert.Equal(t, turned.Differences[:1], pair.Differences)

	args := []string{"line.toml", "--replications", "3", "--horizon", "2 d", "--base", "automatic unwind"}
	assert.Contains(t, shown(t, with([]string{"payback", "--alternative", "by hand"}, args...)...), `more than "automatic unwind" before tax`)
	assert.Contains(t, shown(t, with([]string{"compare"}, args...)...), `Savings against "automatic unwind"`)
	assert.Contains(t, shown(t, with([]string{"sensitivity", "--metric", "savings", "--alternative", "by hand", "--json"}, args...)...), `"against": "automatic unwind"`)
}

func TestABaseThatIsNotThere(t *testing.T) {
	inFolder(t)
	for _, args := range [][]string{{"compare", "line.toml"}, {"payback", "line.toml"}, {"sensitivity", "line.toml", "--metric", "npv"}, {"report", "line.toml", "-o", "x.html"}, {"plot", "worth", "line.toml", "-o", "x.svg"}} {
		code, out, errs := call(t, "", with(args, "--base", "by hnd")...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, `--base: no alternative "by hnd"; the scenario has ["by hand" "automatic unwind" "automatic unwind and rewind"]`, "%v", args)
		assert.Equal(t, 1, strings.Count(errs, "rollchange"), "one error")
	}
	for says, args := range map[string][]string{"only savings, npv and payback compare": {"sensitivity", "line.toml", "--base", "by hand"},
		"is what the others are compared with": {"payback", "line.toml", "--base", "automatic unwind", "--alternative", "automatic unwind"}} {
		code, _, errs := call(t, "", args...)
		assert.Equal(t, exitBad, code)
		assert.Contains(t, errs, says)
	}
}
