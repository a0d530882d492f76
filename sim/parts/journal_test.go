package parts

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// journalOf is the text of a journal with the first n units of a part.
func journalOf(t *testing.T, path string, h Header, n int) []byte {
	t.Helper()
	j, err := Open(path, h)
	require.NoError(t, err)
	for _, u := range unitsOf(h)[len(j.Done):n] {
		require.NoError(t, j.Add(u))
	}
	require.NoError(t, j.Close())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return text
}

// A journal that was cut off after any byte goes on from the last line that is
// whole, and comes to the same bytes.
func TestAJournalGoesOnFromAnyByte(t *testing.T) {
	h := header(6, 1, 2)
	path := filepath.Join(t.TempDir(), "journal")
	whole := journalOf(t, path, h, 3)
	for i := range len(whole) + 1 {
		require.NoError(t, os.Remove(path)) // a file that is written over waits for the disk
		require.NoError(t, os.WriteFile(path, whole[:i], 0o644))
		j, err := Open(path, h)
		require.NoError(t, err, i)
		require.NoError(t, j.Close())
		assert.Equal(t, max(0, bytes.Count(whole[:i], []byte("\n"))-1), len(j.Done), i)
		assert.Equal(t, string(whole), string(journalOf(t, path, h, 3)), i)
	}
}

// What a crash of the machine leaves of a file may be zeros.
func TestAJournalGoesOnFromWhereZerosBegin(t *testing.T) {
	h := header(6, 1, 2)
	path := filepath.Join(t.TempDir(), "journal")
	whole := journalOf(t, path, h, 3)
	lines := bytes.SplitAfter(whole, []byte("\n"))
	for _, text := range [][][]byte{{whole, make([]byte, 100)}, {lines[0], lines[1], make([]byte, len(lines[2])), lines[3]}, {lines[0], make([]byte, 9), []byte("\n")}} {
		require.NoError(t, os.WriteFile(path, bytes.Join(text, nil), 0o644))
		assert.Equal(t, string(whole), string(journalOf(t, path, h, 3)))
	}
}

func TestAJournalOfOtherWorkIsRefusedAndLeftAsItIs(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "journal")
	h := header(6, 1, 2)
	text := journalOf(t, path, h, 3)
	seed, version := h, h
	seed.Run.Seed, version.Version = 8, "2.0"
	finished, err := os.ReadFile(save(t, folder, "finished", h, unitsOf(h)))
	require.NoError(t, err)
	lines := bytes.SplitAfter(text, []byte("\n"))
	for _, c := range []struct {
		text []byte
		h    Header
		says string
	}{
		{text, header(6, 2, 2), "it is part 1, not 2"},
		{text, header(6, 1, 3), "one of 2 parts, not of 3"},
		{text, seed, "has seed 7, not 8"},
		{text, version, "was made by version 1.0, not 2.0"},
		{text[:len(lines[0])-2], seed, "keeps other work"},
		{finished, h, "is a finished part"},
		{[]byte("title = \"a scenario\"\n"), h, "is not a part"},
		{[]byte(`{"format":"something else"`), h, "is not a part"},
		{[]byte(`{"format":"` + Format + `", "mine": 1`), h, "keeps other work"},
		{append(bytes.Clone(text), "what is this\n"...), h, "line 5 cannot be read"},
		{append(bytes.Clone(text), lines[1]...), h, "holds 4 units instead of 3"},
		{bytes.Join([][]byte{lines[0], lines[2]}, nil), h, "holds unit 1 where 0 should stand"},
	} {
		require.NoError(t, os.WriteFile(path, c.text, 0o644))
		_, err := Open(path, c.h)
		assert.ErrorContains(t, err, c.says)
		is, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(c.text), string(is), c.says)
	}
}

func TestAFullDiskIsSaid(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full here")
	}
	defer full.Close()
	j := &Journal{file: full}
	assert.EqualError(t, j.Add(Unit{}), "/dev/full: cannot be written: no space left on device")
	h := header(3, 1, 1)
	assert.ErrorContains(t, Write(full, h, unitsOf(h)), "no space left")
	_, err = Open(filepath.Join(t.TempDir(), "no", "journal"), h)
	assert.ErrorContains(t, err, "cannot be written: no such file or directory")
}
