package files

import (
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// folderOn is a folder for a test, entered, and left to the system afterwards: some
// programs that stand in for Windows cannot remove as the library of tests does.
func folderOn(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "rollchange")
	require.NoError(t, err)
	t.Chdir(folder)
	return folder
}

func TestOnWindowsAFileIsWholeOrNothing(t *testing.T) {
	folder := folderOn(t)
	require.NoError(t, newRun().Writes("page.html", "--output"))
	only(t, folder)
	require.NoError(t, newRun().Save("page.html", says("first")))
	require.NoError(t, newRun().Save(`.\page.html`, says("second")))
	require.NoError(t, newRun().Save("C:page.html", says("third"))) // the folder where one is on that drive
	holds(t, "page.html", "third")
	require.NoError(t, newRun().Save(`\\?\`+filepath.Join(folder, "page.html"), says("fourth")))
	holds(t, "page.html", "fourth")
	assert.Error(t, newRun().Save("page.html", func(io.Writer) error { return io.ErrShortWrite }))
	holds(t, "page.html", "fourth")
	require.NoError(t, newRun().Save("NUL", says("nowhere")))
	require.NoError(t, os.Chmod("page.html", 0o444))
	if f, err := os.OpenFile("page.html", os.O_WRONLY, 0); err == nil { // this stands in for Windows, and may write all
		f.Close()
	} else {
		assert.Error(t, newRun().Writes("page.html", "--output"), "a file that may only be read")
	}
	holds(t, "page.html", "fourth")
	only(t, folder, "page.html")
}

// What another program has open is said before the work, and again where it was
// opened in the meantime; it keeps what it held.
func TestOnWindowsAFileThatIsOpenElsewhere(t *testing.T) {
	folder := folderOn(t)
	put(t, "book.xlsx", "old")
	r := newRun()
	require.NoError(t, r.Writes("book.xlsx", "--xlsx"))
	f, err := os.Open("book.xlsx") // without leave to remove it, as by most programs
	require.NoError(t, err)
	const text = "book.xlsx: cannot be written: another program has it open: close it there, then run this again; what it held is kept"
	assert.EqualError(t, r.Save("book.xlsx", says("new")), text)
	assert.EqualError(t, newRun().Writes("book.xlsx", "--xlsx"), "--xlsx: "+text)
	only(t, folder, "book.xlsx")
	holds(t, "book.xlsx", "old")
	time.AfterFunc(200*time.Millisecond, func() { f.Close() })
	require.NoError(t, r.Save("book.xlsx", says("new")), "one that is held for a moment is waited for")
	holds(t, "book.xlsx", "new")
	only(t, folder, "book.xlsx")
}

// A temporary file goes when the run is abandoned, though it is open; so does what a
// run that was killed has left, once it is old enough not to be in use.
func TestOnWindowsTemporaryFilesGo(t *testing.T) {
	folder := folderOn(t)
	r := newRun()
	assert.Error(t, r.Save("page.html", func(w io.Writer) error {
		require.NoError(t, newRun().Writes("other.html", "--output"))
		list, err := os.ReadDir(folder)
		require.NoError(t, err)
		assert.Len(t, list, 1, "that of a run that lives stays")
		r.Abandon()
		return says("x")(w)
	}))
	only(t, folder)
	const left = ".rollchange-0123456789abcdef.tmp"
	put(t, left, "half")
	require.NoError(t, newRun().Writes("page.html", "--output"))
	only(t, folder, left)
	old := time.Now().Add(-2 * leaving)
	require.NoError(t, os.Chtimes(left, old, old))
	require.NoError(t, newRun().Writes("page.html", "--output"))
	only(t, folder)
}

// Names that differ for the others are one here.
func TestOnWindowsOneFileUnderManyNames(t *testing.T) {
	folder := folderOn(t)
	put(t, "line.toml", "in")
	for _, name := range []string{"LINE.toml", `.\line.toml`, "./line.toml", filepath.Join(folder, "line.toml"), "C:line.toml", `\\?\` + filepath.Join(folder, "line.toml")} {
		r := newRun()
		require.NoError(t, r.Reads("line.toml", "the scenario"))
		assert.ErrorContains(t, r.Writes(name, "--output"), "is read too, as the scenario", name)
	}
	for _, name := range []string{"NEW.svg", `.\new.svg`, "C:new.svg", filepath.Join(folder, "new.svg")} {
		r := newRun()
		require.NoError(t, r.Writes("new.svg", "--output"))
		assert.ErrorContains(t, r.Writes(name, "--plot"), "is written by --output too", name)
	}
	only(t, folder, "line.toml")
}
