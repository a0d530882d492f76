package out

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// WriteFile writes a file whole or not at all: into a temporary file beside
// it, which takes its name when everything is on the disk. On an error no
// trace is left and what stood under the name stays.
func WriteFile(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".rollchange-*")
	if err != nil {
		return cannot(path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	b := bufio.NewWriter(f)
	if err = write(b); err != nil {
		return cannot(path, err)
	}
	for _, step := range []func() error{b.Flush, f.Sync, func() error { return f.Chmod(0o644) }, f.Close} {
		if err = step(); err != nil {
			return cannot(path, err)
		}
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return cannot(path, err)
	}
	return nil
}

func cannot(path string, err error) error {
	var p *os.PathError
	if e, ok := err.(*os.PathError); ok {
		p = e
		err = p.Err
	}
	return fmt.Errorf("%s: cannot be written: %w", path, err)
}

// CheckWorkbook says, before a long run, whether a workbook can be written there.
func CheckWorkbook(path string) error {
	if !strings.HasSuffix(strings.ToLower(path), ".xlsx") {
		return fmt.Errorf("the name of the workbook must end in .xlsx: %q", path)
	}
	return CheckWritable(path)
}

// CheckWritable says, before a long run, whether a file can be written: its
// folder is there and takes a file, and the name is not a folder's. It leaves
// nothing behind.
func CheckWritable(path string) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s: cannot be written: it is no file", path)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".rollchange-*")
	if err != nil {
		return cannot(path, err)
	}
	f.Close()
	return os.Remove(f.Name())
}
