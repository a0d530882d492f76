package main

import (
	"io"
	"os"
	"testing"
)

func TestProgressIsSilent(t *testing.T) {
	f, err := os.CreateTemp(t.TempDir(), "")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p := newProgress(f, 10)
	p.Set(5, 10)
	p.Done()
	newProgress(io.Discard, 10).Set(1, 10)
	if info, err := f.Stat(); err != nil || info.Size() != 0 {
		t.Errorf("%d bytes where there is no terminal, %v", info.Size(), err)
	}
	if useColor(f) {
		t.Error("colour where there is no terminal")
	}
}
