//go:build !js

package scenarios

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// onDisk is what a file holds. One outside the folder of the scenario, also
// through a link inside it, is read only when that was allowed; whether it is
// there is not told.
func (d *data) onDisk(name string) ([]byte, error) {
	outside := errors.New("is outside the folder of the scenario; --read-anywhere allows it")
	if d.current {
		outside = errors.New("is outside the current folder, where a scenario from standard input has its files; --read-anywhere allows it")
	}
	path := name
	if !filepath.IsAbs(path) {
		path = filepath.Join(d.dir, name)
	}
	if _, in := inside(d.dir, path); !in && !d.anywhere {
		return nil, outside
	}
	path, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, d.missing(name)
	}
	f, err := d.open(path)
	if err != nil {
		return nil, err
	}
	if f == nil {
		return nil, outside
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, errUnread
	case !info.Mode().IsRegular():
		return nil, errors.New("is not a file")
	case info.Size() > mostFile:
		return nil, fmt.Errorf("is larger than %d MB", mostFile>>20)
	}
	text, err := io.ReadAll(io.LimitReader(f, mostFile+1))
	if err != nil || len(text) > mostFile {
		return nil, errUnread
	}
	d.files = append(d.files, File{path, name})
	return text, nil
}

var errUnread = errors.New("cannot be read")

// open opens a file whose links have been followed; nil when it is outside the
// folder of the scenario and that was not allowed. A link that is put there in
// the meantime leads nowhere.
func (d *data) open(path string) (*os.File, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, errors.New("is not a file") // a pipe would wait for its writer
	}
	if d.anywhere {
		f, err := os.Open(path)
		if err != nil {
			return nil, errUnread
		}
		return f, nil
	}
	home, err := filepath.EvalSymlinks(d.dir)
	if err != nil {
		return nil, errUnread
	}
	rel, in := inside(home, path)
	if !in {
		return nil, nil
	}
	root, err := os.OpenRoot(home)
	if err != nil {
		return nil, errUnread
	}
	defer root.Close()
	f, err := root.Open(rel)
	if err != nil {
		return nil, errUnread
	}
	return f, nil
}

// inside is the way to a file from a folder, and whether it stays inside.
func inside(folder, path string) (rel string, in bool) {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return "", false
	}
	if path, err = filepath.Abs(path); err != nil {
		return "", false
	}
	rel, err = filepath.Rel(folder, path)
	return rel, err == nil && filepath.IsLocal(rel)
}
