package invented

import (
	"context"
	"fmt"
	"os"
	"syscall"
	"testing"

	"rollchange/out/files"
)

// Saver saves files, as a command does.
func Saver() *files.Run { return files.New(context.Background(), nil, nil, nil) }

// FullDisk takes so many bytes, then no more.
type FullDisk struct{ room int }

// Write takes what there is room for.
func (f *FullDisk) Write(p []byte) (int, error) {
	if len(p) > f.room {
		n := f.room
		f.room = 0
		return n, syscall.ENOSPC
	}
	f.room -= len(p)
	return len(p), nil
}

// Alone says whether a folder holds exactly these files.
func Alone(t *testing.T, folder string, names ...string) {
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
