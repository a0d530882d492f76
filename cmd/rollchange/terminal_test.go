package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model/legible"
	"rollchange/sim/effort"
)

// harmless asserts that a text may be shown on a terminal.
func harmless(t *testing.T, text, what string) {
	t.Helper()
	assert.True(t, utf8.ValidString(text), what)
	i := strings.IndexFunc(text, func(r rune) bool { return legible.Hidden(r) && r != '\n' && r != '\t' })
	if i >= 0 {
		t.Errorf("%s: %q reaches the terminal", what, text[max(0, i-40):min(len(text), i+40)])
	}
}

// evil is what must reach no terminal; TOML lets all of it stand in a string.
const evil = `\u001b[31m\u202e\u2066\u200b\u200f\ufeff\u009b2J\u2028\u00ad`

// evilRaw is the same as it stands in a name of a file or on a command line.
const evilRaw = "\x1b[31m\u202e\u2066\u200b\u200f\ufeff\u009b2J\u2028\u00ad"

// evilScenario is a right scenario whose texts would harm a terminal. Names may
// hold no control characters, but the others.
func evilScenario(t *testing.T) string {
	t.Helper()
	soft := strings.NewReplacer(`\u001b[31m`, "", `\u009b2J`, "").Replace(evil)
	text, _, _ := strings.Cut(template(t, "label_press"), "[[alternative]]\nname = \"automatic unwind and rewind\"") // two have all that a third has
	for from, to := range map[string]string{
		`title = "Label press, short runs"`: `title = "press` + evil + `"`, `name = "by hand"`: `name = "by hand` + soft + `x"`, `name = "automatic unwind"`: `name = "auto` + soft + `x"`,
		`name = "plate cleaning"`: `name = "clean` + soft + `x"`, `currency = "EUR"`: `currency = "E` + evil + `R"`,
		`source = "invented for this example: ten changes timed with a stop watch"`: `source = "seen` + evil + `"`,
	} {
		require.Contains(t, text, from)
		text = strings.Replace(text, from, to, 1)
	}
	return text + "\n[[sweep]]\nname = \"s" + evil + "\"\nvary = \"crew.operators=1,2\"\n"
}

// Whatever stands in a scenario, a name of a file or a flag, no answer, warning or
// error holds anything that could harm a terminal.
func TestNothingReachesATerminalRaw(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	t.Chdir(t.TempDir())
	folder := "a\nb" + strings.ReplaceAll(evilRaw, "/", "") + "\x9b"
	require.NoError(t, os.Mkdir(folder, 0o755))
	put := func(name, text string) string {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	text := evilScenario(t)
	good := put("l"+evilRaw+".toml", text)
	second := "auto" + strings.NewReplacer("\x1b[31m", "", "\u009b2J", "").Replace(evilRaw) + "x"
	bad := put("bad.toml", text+"\n[\"x"+evil+"\"]\n\"k"+evil+"\" = \"v"+evil+"\"\n[web]\n\"y"+evil+"\" = 1\n")
	values := put("values.toml", strings.NewReplacer(`units = "metric"`, `units = "m`+evil+`"`, `speed = "120 m/min"`, `speed = "120 m`+evil+`"`, `path = "14 m"`, `path = "`+evil+`"`,
		`change = "manual"`, `change = "`+evil+`"`, `reaction = { dist = "uniform"`, `reaction = { dist = "`+evil+`"`, `repair = { dist = "gamma", shape`, `repair = { dist = "gamma", "`+evil+`" = 1, shape`).Replace(template(t, "label_press")))
	twice := put("twice.toml", "\"k"+evil+"\" = 1\n\"k"+evil+"\" = 2\n")
	raw := put("raw.toml", "title = \"\u202e\u200b\u2028\" x\n")
	head := put("head.toml", strings.Replace(template(t, "label_press"), `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, `reaction = { dist = "empirical", file = "h.csv", column = "c`+evil+`" }`, 1))
	put("h.csv", "a"+evilRaw+",b\x9b\x1b[2J,\"c\nd\"\n1,2,3\n")
	cell := put("cell.toml", strings.Replace(template(t, "label_press"), `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, `reaction = { dist = "empirical", file = "c.csv" }`, 1))
	put("c.csv", "c [s]\n"+evilRaw+"\n")
	short := func(args ...string) []string { return append(args, "--replications", "2", "--horizon", "1 d") }
	out := filepath.Join(folder, "o"+evilRaw)
	part := func(k int) string { return filepath.Join(folder, fmt.Sprintf("p%d%s", k, evilRaw)) }
	for _, c := range []struct {
		args []string
		code int
	}{
		{[]string{"check", good}, 0}, {short("run", good), 0}, {short("run", good, "--json"), 0}, {short("run", good, "--csv"), 0}, {short("run", good, "--alternative", second), 0},
		{short("compare", good), 0}, {short("compare", good, "--json"), 0}, {short("compare", good, "--csv"), 0}, {short("sweep", good), 0}, {short("sweep", good, "--json"), 0}, {short("sweep", good, "--csv"), 0},
		{short("payback", good), 0}, {short("payback", good, "--json"), 0}, {short("payback", good, "--csv"), 0}, {short("payback", good, "--solve", "price"), 0}, {short("sensitivity", good, "--metric", "good_rate"), 0},
		{short("sensitivity", good, "--metric", "good_rate", "--json"), 0}, {short("size", "storage", good, "--alternative", second, "--risk", "2 %"), 0}, {short("size", "storage", good, "--json", "--alternative", second, "--risk", "2 %"), 0},
		{[]string{"trace", good, "--to", "8 h"}, 0}, {[]string{"trace", good, "--csv"}, 0}, {short("run", good, "--part", "1/2", "-o", part(1)), 0}, {short("run", good, "--part", "2/2", "-o", part(2)), 0}, {[]string{"merge", part(1), part(2)}, 0},
		{short("run", good, "--part", "1/2"), 0}, {short("run", good, "-o", out), 0}, {short("report", good, "-o", out+".html"), 0}, {[]string{"new", out + ".toml"}, 0},
		{[]string{"check", bad}, 2}, {[]string{"check", values}, 2}, {[]string{"check", twice}, 2}, {[]string{"check", raw}, 2}, {[]string{"check", head}, 2}, {[]string{"check", cell}, 2},
		{[]string{"check", folder}, 2}, {[]string{"check", folder + "/none"}, 2}, {[]string{"check", good, "-o", good}, 2}, {[]string{"check", good, "-o", folder + "/no/x"}, 2}, {[]string{"new", good}, 2}, {[]string{"new", "--template", evilRaw}, 2},
		{[]string{"run", good, "--alternative", evilRaw}, 2}, {[]string{"run", good, "--" + evilRaw}, 2}, {[]string{"run", good, "-\x1b"}, 2}, {[]string{"run", good, "--horizon", evilRaw}, 2}, {[]string{"run", good, "--seed", "1\n2" + evilRaw}, 2},
		{[]string{"run", good, "--set", evilRaw}, 2}, {[]string{"run", good, "--set", evilRaw + "=1"}, 2}, {[]string{"run", good, "--set", "line.speed=" + evilRaw}, 2}, {short("run", good, "--set", "title="+evilRaw), 0}, {short("run", good, "--csv", "--set", "title="+evilRaw), 0},
		{[]string{"run", good, "--set", "alternative[" + evilRaw + "].line.speed=1"}, 2}, {[]string{"compare", good, "--base", evilRaw}, 2}, {[]string{"__complete", "compare", good, "--base", ""}, 0}, {[]string{"__complete", "run", good, "--set", "alternative["}, 0},
		{[]string{"run", good, "--workers", evilRaw}, 2}, {[]string{"run", good, "--units", evilRaw}, 2}, {[]string{"run", good, "--part", evilRaw}, 2}, {[]string{"run", good, "--resume", folder}, 2}, {[]string{"run", good, "--precision", evilRaw + "=1%"}, 2},
		{[]string{"run", good, "--precision", evilRaw}, 2}, {[]string{"run", good, "--plots", good}, 2}, {[]string{"sweep", good, "--vary", evilRaw + "=1,2"}, 2}, {[]string{"sweep", good, "--vary", "line.speed=" + evilRaw + ",2"}, 2},
		{[]string{"sweep", good, "--vary", evilRaw}, 2}, {[]string{"sweep", good, "--sweep", evilRaw}, 2}, {[]string{"sweep", good, "--risk", evilRaw}, 2}, {[]string{"size", evilRaw}, 2}, {[]string{"size", "storage", good, "--risk", evilRaw}, 2},
		{[]string{"size", "storage", good, "--station", evilRaw}, 2}, {[]string{"size", "storage", good, "--most", evilRaw}, 2}, {[]string{"size", "speed", good, "--waste", evilRaw}, 2}, {[]string{"size", "crew", good, "--lost", evilRaw}, 2}, {[]string{"size", "crew", good, "--group", evilRaw}, 2},
		{[]string{"sensitivity", good, "--metric", evilRaw}, 2}, {[]string{"sensitivity", good, "--by", evilRaw}, 2}, {[]string{"payback", good, "--solve", evilRaw}, 2}, {[]string{"payback", good, "--solve", "price", "--for", evilRaw}, 2}, {[]string{"payback", good, "--solve", evilRaw + "=1..2"}, 2},
		{[]string{"payback", good, "--xlsx", evilRaw}, 2}, {[]string{"report", good, "-o", evilRaw}, 2}, {[]string{"report", good, "-o", "a.html", "--lang", evilRaw}, 2}, {[]string{"report", good, "-o", "a.html", "--logo", good}, 2},
		{[]string{"plot", evilRaw, good, "-o", "a.svg"}, 2}, {[]string{"plot", "hours", good, "-o", evilRaw}, 2}, {[]string{"plot", "hours", good, "-o", "a.svg", "--width", evilRaw}, 2},
		{[]string{"trace", good, "--around", evilRaw}, 2}, {[]string{"trace", good, "--from", evilRaw}, 2}, {[]string{"merge", good, folder + "/none"}, 2}, {[]string{"merge", part(1)}, 2}, {[]string{"merge", part(1), part(1)}, 2},
		{[]string{"keys", evilRaw}, 2}, {[]string{evilRaw}, 2}, {[]string{"help", evilRaw}, 2}, {[]string{"__complete", "run", evilRaw}, 0},
	} {
		code, stdout, stderr := callIn(together, "", c.args...)
		what := fmt.Sprintf("%.200q", c.args)
		assert.Equal(t, c.code, code, "%s: %s", what, stderr)
		harmless(t, stdout, what+", standard output")
		harmless(t, stderr, what+", standard error")
		if c.code == exitBad {
			assert.NotContains(t, stderr, "a\nb", "%s: a name of two lines is shown in one", what)
		}
	}
	// What is saved is what is printed, and JSON says what the scenario says.
	saved, err := os.ReadFile(out)
	require.NoError(t, err)
	_, printed, _ := call(t, "", short("run", good)...)
	assert.Equal(t, printed, string(saved))
	_, whole, _ := call(t, "", short("run", good, "--json")...)
	_, merged, _ := call(t, "", "merge", part(1), part(2))
	assert.Equal(t, whole, merged)
	var got struct{ Scenario struct{ Title string } }
	require.NoError(t, json.Unmarshal([]byte(whole), &got))
	assert.Equal(t, "press"+evilRaw, got.Scenario.Title)
}
