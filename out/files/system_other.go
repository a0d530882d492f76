//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly || windows)

package files

import (
	"errors"
	"os"
)

// lock does nothing: whether a file is in use is not known here.
func lock(*os.File) bool { return true }

func own(os.FileInfo) bool { return true }

func keepOwner(*os.File, os.FileInfo) {}

// removeLeft removes nothing, since it may be in use.
func removeLeft(string, os.FileInfo) {}

// discard removes a temporary file, once it is closed.
func discard(f *os.File) error {
	f.Close()
	return os.Remove(f.Name())
}

// settle gives a finished temporary file its name, once it is closed.
func settle(f *os.File, path string) error {
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// mayReplace is an error when a file that is there may not be written.
func mayReplace(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

func again(int) (*os.File, error) { return nil, errors.New("no descriptor can be named here") }
