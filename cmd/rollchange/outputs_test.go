package main

import (
	"context"
	"fmt"
	"image"
	"image/png"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// output is one way in which a command writes a file. OUT in its arguments is
// the file, or the folder that holds it under the name in.
type output struct {
	command, flag string // "trace", "plot"
	args          []string
	ending        string // that the name must have
	in            string // --plots: the picture that is looked at
	reads         []string
}

// outputs are all ways in which the tool writes a file.
func outputs() []output {
	short := func(args ...string) []string { return append(args, "--replications", "2", "--horizon", "1 d") }
	scenario := []string{"line.toml", "times.csv"}
	run, sweep := short("run", "line.toml"), short("sweep", "line.toml", "--vary", "crew.operators=1,2")
	one, swings := []string{"--alternative", "automatic unwind"}, short("sensitivity", "line.toml", "--metric", "good_rate")
	size := func(what string) []string {
		return with(short("size", what, "line.toml"), "--alternative", "automatic unwind")
	}
	return []output{
		{"run", "output", with(run, "-o", "OUT"), "", "", scenario},
		{"run", "plots", with(run, "--plots", "OUT"), ".svg", "hours", scenario},
		{"run", "output", with(run, "--part", "1/2", "-o", "OUT"), "", "", scenario},
		{"run", "output", with(run, "--resume", "journal", "-o", "OUT"), "", "", append(scenario, "journal")},
		{"compare", "output", with(short("compare", "line.toml"), "-o", "OUT"), "", "", scenario},
		{"compare", "plots", with(short("compare", "line.toml"), "--plots", "OUT"), ".png", "unwind-storage-2", scenario},
		{"sweep", "output", with(sweep, "-o", "OUT"), "", "", scenario},
		{"sweep", "plots", with(sweep, "--plots", "OUT"), ".svg", "sweep-good_rate", scenario},
		{"sweep", "output", with(sweep, "--part", "1/2", "-o", "OUT"), "", "", scenario},
		{"size storage", "output", with(size("storage"), "--risk", "2 %", "-o", "OUT"), "", "", scenario},
		{"size storage", "plots", with(size("storage"), "--risk", "2 %", "--plots", "OUT"), ".png", "unwind-storage", scenario},
		{"size speed", "output", with(size("speed"), "--risk", "2 %", "-o", "OUT"), "", "", scenario},
		{"size residual", "output", with(size("residual"), "--web-cost", "1", "--run-out-cost", "9", "-o", "OUT"), "", "", scenario},
		{"size crew", "output", with(size("crew"), "-o", "OUT"), "", "", scenario},
		{"size roll", "output", with(size("roll"), "--set", "rewind.build.seam_thickness=20 um", "--set", "rewind.build.ridge=50 mm", "--set", "rewind.core_diameter=76 mm", "--set", "web.caliper=0.15 mm", "-o", "OUT"), "", "", scenario},
		{"sensitivity", "output", with(swings, "-o", "OUT"), "", "", scenario},
		{"sensitivity", "plots", with(swings, "--plots", "OUT"), ".svg", "sensitivity-good_rate", scenario},
		{"payback", "output", with(short("payback", "line.toml"), "-o", "OUT"), "", "", scenario},
		{"payback", "xlsx", with(short("payback", "line.toml"), "--xlsx", "OUT"), ".xlsx", "", scenario},
		{"plan", "output", with([]string{"plan", "week.toml", "-o", "OUT"}, "--replications", "2"), "", "", []string{"week.toml", "week.csv"}},
		{"plan", "plots", with([]string{"plan", "week.toml", "--plots", "OUT"}, "--replications", "2"), ".svg", "plan", []string{"week.toml", "week.csv"}},
		{"plan", "xlsx", with([]string{"plan", "week.toml", "--xlsx", "OUT"}, "--replications", "2"), ".xlsx", "", []string{"week.toml", "week.csv"}},
		{"report", "output", with(short("report", "line.toml"), "--logo", "logo.png", "-o", "OUT"), ".html", "", append(scenario, "logo.png")},
		{"report", "xlsx", with(short("report", "line.toml"), "--logo", "logo.png", "-o", "page.html", "--xlsx", "OUT"), ".xlsx", "", append(scenario, "logo.png")},
		{"report", "plots", with(short("report", "line.toml"), "--logo", "logo.png", "-o", "page.html", "--plots", "OUT"), ".png", "hours", append(scenario, "logo.png")},
		{"live", "output", []string{"live", "line.toml", "-o", "OUT"}, ".html", "", scenario},
		{"plot", "output", with(short("plot", "hours", "line.toml"), "-o", "OUT"), ".svg", "", scenario},
		{"trace", "output", with(with([]string{"trace", "line.toml", "-o", "OUT"}, one...), "--to", "1 h"), "", "", scenario},
		{"trace", "plot", with(with([]string{"trace", "line.toml", "--plot", "OUT"}, one...), "--to", "1 h"), ".svg", "", scenario},
		{"check", "output", []string{"check", "line.toml", "-o", "OUT"}, "", "", scenario},
		{"merge", "output", []string{"merge", "part-1", "part-2", "-o", "OUT"}, "", "", []string{"part-1", "part-2"}},
		{"fit", "output", []string{"fit", "stops.csv", "-o", "OUT"}, "", "", []string{"stops.csv"}},
		{"fit", "output", []string{"fit", "stops.csv", "-o", "OUT"}, ".toml", "", []string{"stops.csv"}},
		{"fit", "output", []string{"fit", "stops.csv", "--into", "line.toml", "-o", "OUT"}, ".toml", "", append(scenario, "stops.csv")},
		{"fit", "report", []string{"fit", "stops.csv", "--report", "OUT"}, ".html", "", []string{"stops.csv"}},
		{"fit", "plots", []string{"fit", "stops.csv", "--plots", "OUT"}, ".svg", "lost", []string{"stops.csv"}},
		{"new", "FILE", []string{"new", "OUT", "--force"}, "", "", nil},
	}
}

// inputFolder goes to a folder with everything that the commands read.
func inputFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	text := strings.Replace(template(t, "label_press"), `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, `reaction = { dist = "empirical", file = "times.csv", column = "walk" }`, 1)
	require.Contains(t, text, "times.csv")
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	require.NoError(t, os.WriteFile("times.csv", []byte("walk [s]\n20\n30\n45\n"), 0o644))
	require.NoError(t, os.WriteFile("stops.csv", scenarios.StopLog().Text, 0o644))
	week := template(t, "label_week")
	from, to := strings.Index(week, `list = """`), strings.LastIndex(week, `"""`)
	require.NoError(t, os.WriteFile("week.csv", []byte(strings.TrimPrefix(week[from:to], "list = \"\"\"\n")), 0o644))
	require.NoError(t, os.WriteFile("week.toml", []byte(week[:from]+`file = "week.csv"`+week[to+3:]), 0o644))
	logo, err := os.Create("logo.png")
	require.NoError(t, err)
	require.NoError(t, png.Encode(logo, image.NewGray(image.Rect(0, 0, 8, 8))))
	require.NoError(t, logo.Close())
	for _, k := range []string{"1", "2"} {
		must(t, "run", "line.toml", "--replications", "2", "--horizon", "1 d", "--part", k+"/2", "-o", "part-"+k)
	}
}

// fill puts the name of the file, or of its folder, into the arguments.
func (o output) fill(path string) []string {
	if o.in != "" {
		path = filepath.Dir(path)
	}
	var args []string
	for _, a := range o.args {
		args = append(args, strings.ReplaceAll(a, "OUT", path))
	}
	return args
}

// name is a name that the output can have, in a folder of its own.
func (o output) name(t *testing.T, base string) string {
	t.Helper()
	folder, err := os.MkdirTemp(".", "out-")
	require.NoError(t, err)
	if o.in != "" {
		base = o.in
	}
	return filepath.Join(folder, base+o.ending)
}

// The list above is whole: every flag that writes is in it, and so is every
// command that has none.
func TestEveryOutputIsInTheTable(t *testing.T) {
	known := map[string]bool{"new --FILE": true}
	for _, o := range outputs() {
		known[o.command+" --"+o.flag] = true
	}
	found := map[string]bool{"new --FILE": true}
	var walk func(cmd *cobra.Command, path string)
	walk = func(cmd *cobra.Command, path string) {
		cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
			words := strings.ToLower(f.Usage)
			if strings.Contains(words, "write") && f.Name != "part" && f.Name != "force" || strings.Contains(words, "draw") && f.Name != "draws" && f.Name != "controls" {
				found[strings.TrimSpace(path)+" --"+f.Name] = true
			}
		})
		for _, c := range cmd.Commands() {
			walk(c, path+" "+c.Name())
		}
	}
	walk(newRoot(), "")
	assert.Equal(t, found, known)
}

// snapshot is what all files of the folder hold, links as links.
func snapshot(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if to, err := os.Readlink(path); err == nil {
			all[path] = "-> " + to
			return nil
		}
		if d.Type().IsRegular() {
			b, err := os.ReadFile(path)
			all[path] = string(b)
			return err
		}
		return nil
	}))
	return all
}

// No output is a file that the run reads, by whatever name: nothing is written,
// and it is said before any simulation.
func TestNoOutputIsAnInput(t *testing.T) {
	effort.NotInRace(t)
	inputFolder(t)
	for i, o := range outputs() {
		if i%effort.Of(8, 2, 1) > 0 { // -short has one of eight, the usual form every other
			continue
		}
		for _, in := range o.reads {
			if in == "journal" {
				require.NoError(t, os.WriteFile("journal", nil, 0o644))
			}
			target, err := filepath.Abs(in)
			require.NoError(t, err)
			soft, hard := o.name(t, "soft"), o.name(t, "hard")
			require.NoError(t, os.Symlink(target, soft))
			require.NoError(t, os.Link(in, hard))
			names := []string{soft, hard}
			if o.ending == "" {
				names = append(names, in, "./"+in, target)
			}
			for _, name := range names {
				before := snapshot(t)
				code, out, errs := call(t, "", o.fill(name)...)
				assert.Equal(t, exitBad, code, "%v", o.fill(name))
				assert.Empty(t, out)
				assert.Contains(t, errs, "is read too", "%v", o.fill(name))
				assert.True(t, maps.Equal(before, snapshot(t)), "files were changed: %v", o.fill(name))
			}
			require.NoError(t, os.RemoveAll("journal"))
		}
	}
}

// No output is another one of the run.
func TestNoOutputIsAnother(t *testing.T) {
	inputFolder(t)
	require.NoError(t, os.Mkdir("p", 0o755))
	for _, o := range outputs() {
		if o.flag == "output" || o.flag == "FILE" {
			continue
		}
		name := "p/" + map[bool]string{true: o.in, false: "a"}[o.in != ""] + o.ending
		args := o.fill(name)
		if o.command == "report" && o.in == "" {
			name = "p/page.html"
			require.NoError(t, os.Symlink("page.html", "p/a.xlsx"))
		} else if o.command == "report" {
			name = "p/page.html"
			require.NoError(t, os.Symlink("page.html", "p/hours.png"))
		}
		for i := range args {
			if args[i] == "page.html" {
				args[i] = name
			}
		}
		if o.command != "report" {
			args = append(args, "-o", "./"+name)
		}
		before := snapshot(t)
		code, out, errs := call(t, "", args...)
		assert.Equal(t, exitBad, code, "%v", args)
		assert.Empty(t, out)
		assert.Contains(t, errs, "is written by --", "%v", args)
		assert.True(t, maps.Equal(before, snapshot(t)), "files were changed: %v", args)
		for _, link := range []string{"p/a.xlsx", "p/hours.png"} {
			_ = os.Remove(link)
		}
	}
}

// Every output is written through a link, which stays, keeps the mode of the
// file, and goes straight into a pipe.
func TestOutputsThroughLinksAndPipes(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	inputFolder(t)
	away := t.TempDir()
	tried := map[string]bool{}
	for i, o := range outputs() {
		what := fmt.Sprint(o.args)
		kind := o.flag + o.ending
		if tried[kind] && !effort.Long() {
			continue // the usual form has one of each flag and kind of file
		}
		piped := !tried[o.flag] || effort.Long() // and one of each flag through a pipe
		tried[kind], tried[o.flag] = true, true
		target := filepath.Join(away, fmt.Sprint(i)+o.ending)
		require.NoError(t, os.WriteFile(target, []byte("old"), 0o600))
		link := o.name(t, "link")
		require.NoError(t, os.Symlink(target, link))
		code, _, errs := callIn(together, "", o.fill(link)...)
		require.Less(t, code, exitBad, "%s: %s", what, errs)
		info, err := os.Lstat(link)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, what)
		whole, err := os.ReadFile(target)
		require.NoError(t, err)
		assert.Greater(t, len(whole), 100, what)
		info, err = os.Stat(target)
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), what)

		if !piped {
			continue
		}
		pipe := o.name(t, "pipe")
		require.NoError(t, exec.Command("mkfifo", pipe).Run())
		got := make(chan []byte, 1)
		go func() {
			b, _ := os.ReadFile(pipe)
			got <- b
		}()
		code, _, errs = callIn(together, "", o.fill(pipe)...)
		require.Less(t, code, exitBad, "%s: %s", what, errs)
		assert.Equal(t, len(whole), len(<-got), what)
		left, err := filepath.Glob(".rollchange-*")
		require.NoError(t, err)
		assert.Empty(t, left)
	}
}

// The answer can be named as standard output, and be appended to a file there.
func TestAnswerToADescriptor(t *testing.T) {
	effort.NotInRace(t)
	inputFolder(t)
	want := must(t, "check", "line.toml")
	assert.Equal(t, want, must(t, "check", "line.toml", "-o", "/dev/stdout"))
	for _, name := range []string{"/dev/stdout", "page.html"}[:effort.Of(0, 1, 2)] {
		args := []string{"report", "line.toml", "--replications", "1", "--horizon", "1 d", "-o", name}
		assert.Equal(t, name == "/dev/stdout", strings.HasPrefix(strings.ToLower(must(t, args...)), "<!doctype html>"))
	}
	log, err := os.OpenFile("log", os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	require.NoError(t, err)
	defer log.Close()
	_, _ = io.WriteString(log, "before\n")
	for _, args := range [][]string{{"check", "line.toml"}, {"check", "line.toml", "-o", "log"}} {
		require.Equal(t, exitAnswered, execute(context.Background(), args, strings.NewReader(""), log, io.Discard))
	}
	text, err := os.ReadFile("log")
	require.NoError(t, err)
	assert.Equal(t, "before\n"+want+want, string(text))

	scenario, err := os.OpenFile("line.toml", os.O_WRONLY|os.O_APPEND, 0o644)
	require.NoError(t, err)
	defer scenario.Close()
	before, _ := os.ReadFile("line.toml")
	assert.Equal(t, exitBad, execute(context.Background(), []string{"check", "line.toml"}, strings.NewReader(""), scenario, io.Discard))
	after, _ := os.ReadFile("line.toml")
	assert.Equal(t, string(before), string(after), "an answer is not appended to the scenario")
}
