package files

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// lock does nothing: what a process has open cannot be removed by another.
func lock(*os.File) bool { return true }

func own(os.FileInfo) bool { return true }

func keepOwner(*os.File, os.FileInfo) {}

// leaving is from when on a temporary file that nobody has open was left by a run
// that was killed: one that is finished is closed for a moment before it gets its name.
const leaving = time.Minute

// removeLeft removes a temporary file that was left; one that is open stays.
func removeLeft(path string, info os.FileInfo) {
	if time.Since(info.ModTime()) > leaving {
		_ = os.Remove(path)
	}
}

// discard removes a temporary file, once it is closed.
func discard(f *os.File) error {
	f.Close()
	return replaceable(system, func() error { return os.Remove(f.Name()) }, true, time.Sleep)
}

// settle gives a finished temporary file its name, once it is closed.
func settle(f *os.File, path string) error {
	if err := f.Close(); err != nil {
		return err
	}
	return replaceable(system, func() error { return os.Rename(f.Name(), path) }, true, time.Sleep)
}

// mayReplace is an error when a file that is there can be neither written nor given
// up for another: its attributes forbid it, or a program has it open.
func mayReplace(path string) error {
	return replaceable(system, func() error {
		name, err := syscall.UTF16PtrFromString(path)
		if err != nil {
			return err
		}
		const remove = 0x00010000 // the right to delete or rename it
		h, err := syscall.CreateFile(name, syscall.GENERIC_WRITE|remove, syscall.FILE_SHARE_READ|syscall.FILE_SHARE_WRITE|syscall.FILE_SHARE_DELETE, nil, syscall.OPEN_EXISTING, syscall.FILE_ATTRIBUTE_NORMAL, 0)
		if err != nil {
			return err
		}
		return syscall.CloseHandle(h)
	}, false, time.Sleep)
}

func again(int) (*os.File, error) { return nil, errors.New("no descriptor can be named here") }
