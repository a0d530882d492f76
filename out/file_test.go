package out

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// fullDisk takes so many bytes, then no more.
type fullDisk struct{ room int }

func (f *fullDisk) Write(p []byte) (int, error) {
	if len(p) > f.room {
		n := f.room
		f.room = 0
		return n, syscall.ENOSPC
	}
	f.room -= len(p)
	return len(p), nil
}

// alone says whether a folder holds exactly these files.
func alone(t *testing.T, folder string, names ...string) {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var have []string
	for _, e := range list {
		have = append(have, e.Name())
	}
	if fmt.Sprint(have) != fmt.Sprint(names) {
		t.Errorf("the folder holds %q, want %q", have, names)
	}
}

func TestWriteFileWholeOrNot(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	if err := WriteFile(path, func(w io.Writer) error { _, err := io.WriteString(w, "old"); return err }); err != nil {
		t.Fatal(err)
	}
	large := strings.Repeat("x", 1<<20)
	err := WriteFile(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, large); err != nil {
			return err
		}
		_, err := io.WriteString(io.MultiWriter(w, &fullDisk{10}), large)
		return err
	})
	if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), path) {
		t.Errorf("a full disk: %v", err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "old" {
		t.Errorf("what stood there became %.20q, %v", b, err)
	}
	alone(t, folder, "a.txt")
	if err := WriteFile(path, func(w io.Writer) error { _, err := io.WriteString(w, large); return err }); err != nil {
		t.Fatal(err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != large {
		t.Errorf("%d bytes, %v; want %d", len(b), err, len(large))
	}
	alone(t, folder, "a.txt")
}

func TestWriteFileFails(t *testing.T) {
	folder := t.TempDir()
	for _, path := range []string{filepath.Join(folder, "none", "a.txt"), folder} {
		err := WriteFile(path, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err })
		if err == nil || !strings.HasPrefix(err.Error(), path+": cannot be written: ") {
			t.Errorf("%s: %v", path, err)
		}
	}
	alone(t, folder)
}

func TestCheckWritable(t *testing.T) {
	folder := t.TempDir()
	if err := CheckWritable(filepath.Join(folder, "new.txt")); err != nil {
		t.Error(err)
	}
	alone(t, folder)
	for _, path := range []string{folder, filepath.Join(folder, "none", "a.txt"), filepath.Join(folder, "none") + "/"} {
		if err := CheckWritable(path); err == nil || !strings.Contains(err.Error(), "cannot be written") {
			t.Errorf("%s: %v", path, err)
		}
	}
	if os.Getuid() != 0 { // nothing is forbidden to the superuser
		closed := filepath.Join(folder, "closed")
		if err := os.Mkdir(closed, 0o500); err != nil {
			t.Fatal(err)
		}
		if err := CheckWritable(filepath.Join(closed, "a.txt")); err == nil {
			t.Error("a folder that takes no file")
		}
	}
}

func TestProgressIsSilent(t *testing.T) {
	f, err := os.CreateTemp(t.TempDir(), "")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p := NewProgress(f, 10)
	p.Set(5, 10)
	p.Done()
	NewProgress(io.Discard, 10).Set(1, 10)
	if info, err := f.Stat(); err != nil || info.Size() != 0 {
		t.Errorf("%d bytes where there is no terminal, %v", info.Size(), err)
	}
	if UseColor(f) {
		t.Error("colour where there is no terminal")
	}
}
