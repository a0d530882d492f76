package files

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is said of an interrupted run is what there is.
func TestInterruptedSaysWhatWasWritten(t *testing.T) {
	t.Chdir(t.TempDir())
	ctx, cancel := context.WithCancel(context.Background())
	var out strings.Builder
	r := New(ctx, nil, &out, nil)
	assert.Equal(t, "interrupted, nothing written", r.Interrupted())
	require.NoError(t, r.Answers())
	require.NoError(t, r.Folder("p/q"))
	for _, name := range []string{"p/a.svg", "p/b.svg", "p/c.svg"} {
		require.NoError(t, r.Writes(name, "--plots"))
	}
	assert.Equal(t, "interrupted, nothing written", r.Interrupted())
	require.NoError(t, r.Save("p/a.svg", says("a")))
	err := r.Save("p/b.svg", func(w io.Writer) error {
		cancel()
		return says("b")(w)
	})
	assert.Error(t, err)
	assert.Error(t, r.Save("p/c.svg", says("c")), "nothing is begun any more")
	r.Keeps("journal")
	assert.Equal(t, "interrupted; written: p/a.svg; not written: the answer on standard output, p/b.svg, p/c.svg; what is finished is kept in journal", r.Interrupted())
	only(t, "p", "a.svg", "q")
	_, err = io.WriteString(r.Stdout(), "no answer is begun any more")
	assert.Error(t, err)
	assert.Empty(t, out.String())
	r.Abandon()
	only(t, "p", "a.svg")

	r = New(context.Background(), nil, &out, nil)
	require.NoError(t, r.Answers())
	_, _ = io.WriteString(r.Stdout(), "half")
	assert.Equal(t, "interrupted; written in part only: the answer on standard output", r.Interrupted())
	r.Abandon()
	_, err = io.WriteString(r.Stdout(), "more")
	assert.Error(t, err)
	assert.Equal(t, "half", out.String())

	r = New(context.Background(), nil, io.Discard, nil)
	require.NoError(t, r.Writes("whole", "--output"))
	require.NoError(t, r.Save("whole", says("x")))
	assert.Equal(t, "interrupted, after all was written: whole", r.Interrupted())
	for i := range 9 {
		require.NoError(t, r.Writes(fmt.Sprint(i), "--plots"))
	}
	assert.Equal(t, "interrupted; written: whole; not written: 0, 1, 2, 3, 4 and 4 more", r.Interrupted())
}

// Abandoned while a file is being written: its temporary file is gone at once,
// and it never gets its name.
func TestAbandonWhileWriting(t *testing.T) {
	folder := t.TempDir()
	path := put(t, filepath.Join(folder, "answer"), "old")
	r := newRun()
	err := r.Save(path, func(w io.Writer) error {
		r.Abandon()
		only(t, folder, "answer")
		return says("new")(w)
	})
	assert.Error(t, err)
	holds(t, path, "old")
	only(t, folder, "answer")
	assert.Equal(t, "interrupted, nothing written", r.Interrupted())
}

func TestFoldersThatStayedEmptyGo(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, well := range []bool{false, true} {
		r := newRun()
		require.NoError(t, r.Folder("a/b/c"))
		r.Close(well)
		_, err := os.Stat("a/b/c")
		assert.Equal(t, well, err == nil)
	}
	put(t, "a/file", "kept")
	r := newRun()
	require.NoError(t, r.Folder("a/b"))
	r.Close(false)
	only(t, "a", "b", "file")
	assert.ErrorContains(t, newRun().Folder("a/file/x"), "cannot be made a folder")
}
