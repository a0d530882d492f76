package out

import (
	"context"
	"fmt"
	"io"
	"os"
	"syscall"
	"testing"

	"rollchange/out/files"
)

// saver saves files, as a command does.
func saver() Saver { return files.New(context.Background(), nil, nil, nil) }

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
