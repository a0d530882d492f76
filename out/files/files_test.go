package files

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func newRun() *Run { return New(context.Background(), nil, io.Discard, nil) }

// says writes a text.
func says(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// holds asserts what a file holds.
func holds(t *testing.T, path, text string) {
	t.Helper()
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, text, string(b), path)
}

// only asserts that a folder holds these files and nothing else.
func only(t *testing.T, folder string, names ...string) {
	t.Helper()
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	var have []string
	for _, e := range list {
		have = append(have, e.Name())
	}
	assert.Equal(t, names, have)
}

func put(t *testing.T, path, text string) string {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func TestSaveIsWholeOrNothing(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "answer")
	require.NoError(t, newRun().Save(path, says("first")))
	large := strings.Repeat("x", 1<<20)
	err := newRun().Save(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, large)
		return syscall.ENOSPC
	})
	assert.ErrorIs(t, err, syscall.ENOSPC)
	assert.ErrorContains(t, err, path+": cannot be written: ")
	holds(t, path, "first")
	only(t, folder, "answer")
	require.NoError(t, newRun().Save(path, says(large)))
	holds(t, path, large)
	only(t, folder, "answer")
}

func TestWhatCannotBeWrittenIsSaidAndLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	loop := filepath.Join(folder, "loop")
	require.NoError(t, os.Symlink(loop, loop))
	for _, path := range []string{folder, filepath.Join(folder, "none", "a"), filepath.Join(folder, "none") + "/", loop, "", "/dev/fd/99", folder + "/a\x00b"} {
		assert.Error(t, newRun().Writes(path, "--output"), path)
		assert.Error(t, newRun().Save(path, says("x")), path)
	}
	assert.ErrorContains(t, newRun().Writes(folder+"/no\nsuch\x1b/a", "--output"), `/no\nsuch\u001b/a: cannot be written: `)
	require.NoError(t, newRun().Writes(filepath.Join(folder, "new"), "--output"))
	only(t, folder, "loop")
}

// What an output is must be no input and no other output, however it is named.
func TestOneFileUnderManyNames(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	put(t, "line.toml", "in")
	require.NoError(t, os.Mkdir("sub", 0o755))
	require.NoError(t, os.Symlink("line.toml", "link"))
	require.NoError(t, os.Symlink(filepath.Join(folder, "link"), "sub/link of link"))
	require.NoError(t, os.Link("line.toml", "hard"))
	require.NoError(t, os.Symlink("new.svg", "to nothing yet"))
	require.NoError(t, os.Symlink(folder, "sub/here"))
	names := []string{"line.toml", "./line.toml", "sub/../line.toml", filepath.Join(folder, "line.toml"), "link", "sub/link of link", "hard", "sub/here/line.toml"}
	for _, in := range names {
		for _, to := range names {
			r := newRun()
			require.NoError(t, r.Reads(in, "the scenario"))
			assert.ErrorContains(t, r.Writes(to, "--output"), "is read too, as the scenario", "%s, %s", in, to)
			r = newRun()
			require.NoError(t, r.Writes(to, "--output"))
			assert.ErrorContains(t, r.Reads(in, "the scenario"), "--output: "+to+" is read too", "%s, %s", in, to)
			r = newRun()
			require.NoError(t, r.Reads(in, "the scenario"))
			assert.ErrorContains(t, r.Save(to, says("x")), "is read too", "%s, %s: also when it was not said before", in, to)
		}
	}
	absent := []string{"new.svg", "./new.svg", "to nothing yet", "sub/here/new.svg", filepath.Join(folder, "new.svg"), "NEW.svg", "sub/here/New.SVG"}
	for _, a := range absent {
		for _, b := range absent {
			r := newRun()
			require.NoError(t, r.Writes(a, "--output"))
			assert.ErrorContains(t, r.Writes(b, "--plot"), "is written by --output too", "%s, %s", a, b)
			r = newRun()
			require.NoError(t, r.Reads(a, "the journal"))
			assert.ErrorContains(t, r.Writes(b, "--plot"), "is read too", "%s, %s", a, b)
		}
	}
	r := newRun()
	require.NoError(t, r.Writes("a\u00e9.svg", "--output"))
	assert.Error(t, r.Writes("ae\u0301.svg", "--plot"), "letters put together in another way")
	require.NoError(t, r.Writes("other.svg", "--plot"))
	holds(t, "line.toml", "in")
	only(t, folder, "hard", "line.toml", "link", "sub", "to nothing yet")
}

// An output that turns into an input between the check and the end of a long
// run is not written.
func TestALinkThatTurnsIsNotFollowedIntoAnInput(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "line.toml", "in")
	put(t, "old.html", "old")
	require.NoError(t, os.Symlink("old.html", "latest"))
	r := newRun()
	require.NoError(t, r.Reads("line.toml", "the scenario"))
	require.NoError(t, r.Writes("latest", "--output"))
	require.NoError(t, os.Remove("latest"))
	require.NoError(t, os.Symlink("line.toml", "latest"))
	assert.ErrorContains(t, r.Save("latest", says("page")), "is read too")
	holds(t, "line.toml", "in")
}

func TestLinksStayAndWhatTheyPointToIsWritten(t *testing.T) {
	folder, away := t.TempDir(), t.TempDir()
	target := put(t, filepath.Join(away, "page.html"), "old")
	link, missing := filepath.Join(folder, "latest"), filepath.Join(folder, "next")
	require.NoError(t, os.Symlink(target, link))
	require.NoError(t, os.Symlink(filepath.Join(away, "next.html"), missing))
	for _, path := range []string{link, missing} {
		require.NoError(t, newRun().Save(path, says("new")))
		info, err := os.Lstat(path)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, "%s is a link still", path)
	}
	holds(t, target, "new")
	holds(t, filepath.Join(away, "next.html"), "new")
	only(t, folder, "latest", "next")
	only(t, away, "next.html", "page.html")
}

// Standard output that goes to a file is that file: it is appended to where it
// stands, and is no input and no output of its own.
func TestStandardOutputIsAFileToo(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "line.toml", "in")
	put(t, "log", "before\n")
	open := func(name string) *os.File {
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o644)
		require.NoError(t, err)
		t.Cleanup(func() { f.Close() })
		return f
	}
	r := New(context.Background(), nil, open("log"), nil)
	require.NoError(t, r.Writes("log", "--output"))
	require.NoError(t, r.Save("log", says("after\n")))
	holds(t, "log", "before\nafter\n")

	r = New(context.Background(), nil, open("log"), nil)
	require.NoError(t, r.Answers())
	assert.ErrorContains(t, r.Writes("log", "--xlsx"), "is where standard output goes")
	r = New(context.Background(), nil, open("log"), nil)
	require.NoError(t, r.Writes("log", "--xlsx"))
	assert.ErrorContains(t, r.Answers(), "is where standard output goes")
	r = New(context.Background(), nil, open("line.toml"), nil)
	require.NoError(t, r.Reads("line.toml", "the scenario"))
	assert.ErrorContains(t, r.Answers(), "standard output goes to a file that is read, as the scenario")
	r = New(context.Background(), nil, open("line.toml"), nil)
	require.NoError(t, r.Answers())
	assert.ErrorContains(t, r.Reads("line.toml", "the scenario"), "which is read")
	r = New(context.Background(), nil, io.Discard, open("errors"))
	assert.ErrorContains(t, r.Writes("errors", "--output"), "is where standard error goes")
	in, err := os.Open("line.toml")
	require.NoError(t, err)
	defer in.Close()
	r = New(context.Background(), in, io.Discard, nil)
	assert.ErrorContains(t, r.Writes("line.toml", "--output"), "is read too, as standard input")
	holds(t, "line.toml", "in")
}
