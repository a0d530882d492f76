//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package files

import (
	"errors"
	"os"
)

// lock does nothing: an open file of another process cannot be removed here.
func lock(*os.File) bool { return true }

func own(os.FileInfo) bool { return true }

func openQuietly(path string) (*os.File, error) { return os.OpenFile(path, os.O_RDWR, 0) }

func keepOwner(*os.File, os.FileInfo) {}

// settle gives a finished temporary file its name, once it is closed.
func settle(f *os.File, path string) error {
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

func again(int) (*os.File, error) { return nil, errors.New("no descriptor can be named here") }
