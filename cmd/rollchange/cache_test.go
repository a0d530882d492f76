package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
	"rollchange/sim/kept"
	"rollchange/sim/replicate"
)

// counted is a store that counts what it finds and what it is given.
type counted struct {
	*kept.Store
	found, keeps atomic.Int64
}

func (c *counted) Find(line, what string) []byte {
	data := c.Store.Find(line, what)
	if data != nil {
		c.found.Add(1)
	}
	return data
}

func (c *counted) Keep(line, what string, data []byte) {
	c.keeps.Add(1)
	c.Store.Keep(line, what, data)
}

// inCache runs a command as a process of its own would, with what is kept in a folder.
func inCache(t *testing.T, folder, stdin string, args ...string) (stdout, stderr string, c *counted) {
	t.Helper()
	program, err := os.Executable()
	require.NoError(t, err)
	c = &counted{Store: kept.New(folder, program)}
	var o, e bytes.Buffer
	code := execute(replicate.WithMemory(context.Background(), replicate.NewMemory(4000, c)), args, strings.NewReader(stdin), &o, &e)
	require.Less(t, code, exitBad, e.String())
	c.Tidy()
	return o.String(), e.String(), c
}

// Asked again, a question is answered with the same bytes and without a simulation that
// was made before; one that cannot be kept, or is asked not to be, as well.
func TestWhatIsKeptChangesNoAnswer(t *testing.T) {
	effort.NotInRace(t)
	folder := t.TempDir()
	page := filepath.Join(t.TempDir(), "page.html")
	short := func(args ...string) []string { return append(args, "--replications", "12", "--horizon", "2 d") }
	for _, args := range [][]string{
		short("compare", "-", "--json"), short("report", "-", "-o", page), short("run", "-", "--part", "1/2"), short("compare", "-", "--csv", "--controls", "none"),
		short("sweep", "-", "--vary", "line.speed=110 m/min,120 m/min", "--csv"), short("size", "storage", "-", "--risk", "2 %"), short("sensitivity", "-", "--json"), short("payback", "-", "--json"), short("run", "-", "--set", "run.warm_up=auto"),
	}[:effort.Of(1, 3, 9)] {
		what := strings.Join(args, " ")
		answer := func() []byte { // of a command that writes a file
			text, _ := os.ReadFile(page)
			_ = os.Remove(page)
			return text
		}
		text := template(t, "label_press")
		if !effort.Long() && args[0] != "payback" {
			text = removed(text, "life") // nothing is kept of savings, which are drawn anew
		}
		own := filepath.Join(folder, "own")
		require.NoError(t, os.RemoveAll(own))
		cold, told, first := inCache(t, own, text, args...)
		file := answer()
		warm, toldAgain, second := inCache(t, own, text, args...)
		assert.Equal(t, cold, warm, what)
		assert.Equal(t, told, toldAgain, what)
		assert.Equal(t, file, answer(), what)
		assert.Positive(t, first.keeps.Load(), what)
		assert.Positive(t, second.found.Load(), what)
		assert.Zero(t, second.keeps.Load(), "%s: simulated again", what)
		without, _, none := inCache(t, own, text, append(args, "--no-cache")...)
		assert.Equal(t, cold, without, what)
		assert.Equal(t, file, answer(), what)
		assert.Zero(t, none.found.Load()+none.keeps.Load(), what)
		if args[0] == "size" { // another target, of which some is known and some is not
			other := short("size", "storage", "-", "--risk", "0.5 %")
			part, _, some := inCache(t, own, text, other...)
			all, _, _ := inCache(t, own, text, append(other, "--no-cache")...)
			assert.Equal(t, all, part)
			assert.Positive(t, some.found.Load())
			assert.Positive(t, some.keeps.Load())
		}
	}
	// What is no folder keeps nothing, and nobody is told.
	blocked := filepath.Join(folder, "file")
	require.NoError(t, os.WriteFile(blocked, []byte("mine"), 0o644))
	plain, told, _ := inCache(t, filepath.Join(folder, "own"), template(t, "label_press"), short("run", "-")...)
	for range 2 {
		answer, also, c := inCache(t, blocked, template(t, "label_press"), short("run", "-")...)
		assert.Equal(t, plain, answer)
		assert.Equal(t, told, also)
		assert.Zero(t, c.found.Load())
	}
	text, err := os.ReadFile(blocked)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
}

// Values of a data file are part of a line: when they change, it is simulated anew.
func TestADataFileIsPartOfTheLine(t *testing.T) {
	t.Chdir(t.TempDir())
	text := strings.Replace(template(t, "label_press"), `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, `reaction = { dist = "empirical", file = "t.csv" }`, 1)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	args := []string{"run", "line.toml", "--csv", "--replications", "3", "--horizon", "4 d"}
	require.NoError(t, os.WriteFile("t.csv", []byte("t [s]\n5\n30\n"), 0o644))
	before, _, _ := inCache(t, "kept", "", args...)
	require.NoError(t, os.WriteFile("t.csv", []byte("t [s]\n5\n31\n"), 0o644))
	after, _, c := inCache(t, "kept", "", args...)
	assert.Zero(t, c.found.Load())
	assert.NotEqual(t, before, after)
}
