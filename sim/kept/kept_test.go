package kept

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// program is the file of this one.
func program(t *testing.T) string {
	t.Helper()
	name, err := os.Executable()
	require.NoError(t, err)
	return name
}

// files are those in a folder, however deep.
func files(t *testing.T, folder string) []string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(folder, "*", "*"))
	require.NoError(t, err)
	return list
}

func TestWhatIsKeptIsFoundByTheNextRun(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "not", "there")
	s := New(folder, program(t))
	assert.Nil(t, s.Find("line", "a"))
	assert.Empty(t, files(t, folder), "to look makes no folder")
	s.Keep("line", "a", []byte("one"))
	s.Keep("line", "b", nil)
	s.Keep("other", "a", []byte("two"))
	assert.Len(t, files(t, folder), 2)
	again := New(folder, program(t))
	assert.Equal(t, "one", string(again.Find("line", "a")))
	assert.Equal(t, "two", string(again.Find("other", "a")))
	assert.NotNil(t, again.Find("line", "b"))
	assert.Nil(t, again.Find("other", "b"))
	again.Keep("line", "a", []byte("three"))
	assert.Equal(t, "one", string(New(folder, program(t)).Find("line", "a")), "what is known is not kept a second time")

	changed := filepath.Join(t.TempDir(), "changed")
	text, err := os.ReadFile(program(t))
	require.NoError(t, err)
	id := buildID(text[:64<<10])
	require.Len(t, id, 83)
	at := bytes.Index(text, id)
	text[at] ^= 1
	require.NoError(t, os.WriteFile(changed, text, 0o644))
	assert.Nil(t, New(folder, changed).Find("line", "a"), "another program")
	text[at], text[at+20] = text[at]^1, '.' // no build ID: the whole of the program counts
	require.NoError(t, os.WriteFile(changed, text, 0o644))
	without, ok := nameOf(changed)
	require.True(t, ok)
	text[len(text)-1] ^= 1
	require.NoError(t, os.WriteFile(changed, text, 0o644))
	other, ok := nameOf(changed)
	require.True(t, ok)
	assert.NotEqual(t, without, other)
}

// A file cut at any byte, or with any byte changed, gives records as they were kept or
// none, and every one that the fault does not touch; what is appended after it is found.
func TestATornRecordIsPassedOver(t *testing.T) {
	var b []byte
	starts := []int{0}
	data := map[key]string{}
	for i := range 5 {
		k := keyOf(fmt.Sprint(i))
		data[k] = strings.Repeat(fmt.Sprint(i, mark), i) + "."
		b = append(b, record(k, []byte(data[k]))...)
		starts = append(starts, len(b))
	}
	require.Len(t, records(b), 5)
	last := keyOf("last")
	for at := range b {
		cut := records(append(bytes.Clone(b[:at]), record(last, []byte("z"))...))
		assert.Equal(t, "z", string(cut[last]), "%d", at)
		flipped := bytes.Clone(b)
		flipped[at] ^= 0x10
		for name, got := range map[string]map[key][]byte{"cut": cut, "changed": records(flipped)} {
			delete(got, last)
			whole := 0
			for i := range 5 {
				if at >= starts[i+1] || name == "changed" && at < starts[i] {
					whole++
				}
			}
			assert.Len(t, got, whole, "%s at %d", name, at)
			for k, x := range got {
				assert.Equal(t, data[k], string(x), "%s at %d", name, at)
			}
		}
	}
}

// Stores of several processes append to one file, and the next run finds what each
// has kept.
func TestStoresAtOnce(t *testing.T) {
	folder := t.TempDir()
	const stores, each = 8, 200
	var wg sync.WaitGroup
	for i := range stores {
		wg.Go(func() {
			s := New(folder, program(t))
			for k := range each {
				s.Keep("line", fmt.Sprint(i, k), bytes.Repeat([]byte{byte(i)}, 1000+k))
			}
		})
	}
	wg.Wait()
	s := New(folder, program(t))
	for i := range stores {
		for k := range each {
			require.Equal(t, bytes.Repeat([]byte{byte(i)}, 1000+k), s.Find("line", fmt.Sprint(i, k)))
		}
	}
}

// Where a folder cannot be made or written, nothing is kept and nothing said.
func TestWhatCannotBeWrittenIsNotKept(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o600))
	folder := t.TempDir()
	for _, s := range []*Store{New(file, program(t)), New(filepath.Join(file, "below"), program(t)), New(folder, filepath.Join(folder, "no program"))} {
		s.Keep("line", "a", []byte("x"))
		s.Tidy()
		assert.Nil(t, s.Find("line", "a"))
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
	assert.Empty(t, files(t, folder))
	// A folder in the place of the file of a line, and a link, are left alone.
	s := New(folder, program(t))
	s.Keep("line", "a", []byte("x"))
	at := files(t, folder)[0]
	require.NoError(t, os.Remove(at))
	require.NoError(t, os.Mkdir(at, 0o700))
	s = New(folder, program(t))
	assert.Nil(t, s.Find("line", "a"))
	s.Keep("line", "a", []byte("x"))
	assert.DirExists(t, at)
	require.NoError(t, os.Remove(at))
	if err := os.Symlink(file, at); err != nil {
		t.Skip("no links here")
	}
	s = New(folder, program(t))
	assert.Nil(t, s.Find("line", "a"))
	s.Keep("line", "a", []byte("x"))
	text, err = os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text), "what a link leads to")
}

// A folder stays within its size, what was used last being kept, and within its age;
// nothing else is touched.
func TestAFolderStaysSmall(t *testing.T) {
	folder := t.TempDir()
	now := time.Now()
	s := New(folder, program(t))
	for i := range 10 {
		s.Keep(fmt.Sprint(i), "a", make([]byte, 1000))
		x := s.shelf(fmt.Sprint(i))
		used := now.Add(-time.Duration(20-i) * time.Hour)
		require.NoError(t, os.Chtimes(x.path, used, used))
	}
	old := s.shelf("3").path
	long := now.Add(-mostAge - time.Hour)
	require.NoError(t, os.Chtimes(old, long, long))
	others := []string{"mine.kept", "mine", filepath.Join(filepath.Base(s.own), "mine.kept"), filepath.Join(filepath.Base(s.own), strings.Repeat("0", 32)+".txt")}
	for _, name := range others {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), make([]byte, 5000), 0o600))
		require.NoError(t, os.Chtimes(filepath.Join(folder, name), long, long))
	}
	tidy(folder, now, 1<<30)
	assert.NoFileExists(t, old)
	assert.Len(t, files(t, folder), 9+2)
	require.NotNil(t, New(folder, program(t)).Find("0", "a"), "now used again")
	tidy(folder, now, 4500)
	for i := range 10 {
		_, err := os.Stat(s.shelf(fmt.Sprint(i)).path)
		assert.Equal(t, i == 0 || i > 6, err == nil, "%d", i)
	}
	for _, name := range others {
		assert.FileExists(t, filepath.Join(folder, name))
	}
}

// One process fills no more than half of a folder, and of a line no more than its share.
func TestOneRunDoesNotFillAFolder(t *testing.T) {
	folder := t.TempDir()
	s := New(folder, program(t))
	data := make([]byte, 1<<20)
	for i := range 150 {
		s.Keep(fmt.Sprint(i/25), fmt.Sprint(i), data)
	}
	total := int64(0)
	for _, f := range files(t, folder) {
		info, err := os.Stat(f)
		require.NoError(t, err)
		assert.LessOrEqual(t, info.Size(), int64(mostShelf))
		total += info.Size()
	}
	assert.LessOrEqual(t, total, int64(mostBytes/2))
	assert.Greater(t, total, int64(mostBytes/2-2<<20))
}
