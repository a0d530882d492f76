//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package files

import (
	"os"
	"syscall"
)

// lock locks a file for this process alone, without waiting; false when another
// has it or the file system knows no locks.
func lock(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}

// own says whether a file is this user's and has no other name.
func own(info os.FileInfo) bool {
	s, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(s.Uid) == os.Geteuid() && s.Nlink == 1
}

// removeLeft removes a temporary file that was left, unless somebody has locked it.
// It is opened without following a link or waiting for anyone.
func removeLeft(path string, info os.FileInfo) {
	f, err := os.OpenFile(path, os.O_RDWR|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
	if err != nil {
		return
	}
	defer f.Close()
	if opened, err := f.Stat(); err != nil || !os.SameFile(info, opened) || !lock(f) {
		return
	}
	_ = os.Remove(path)
}

// discard removes a temporary file; it is locked until it is gone.
func discard(f *os.File) error {
	defer f.Close()
	return os.Remove(f.Name())
}

// mayReplace is an error when a file that is there may not be written.
func mayReplace(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

// keepOwner gives a new file the owner of the one that it replaces, as far as
// this user may.
func keepOwner(f *os.File, was os.FileInfo) {
	if s, ok := was.Sys().(*syscall.Stat_t); ok && (int(s.Uid) != os.Geteuid() || int(s.Gid) != os.Getegid()) {
		_ = f.Chown(int(s.Uid), int(s.Gid))
	}
}

// settle gives a finished temporary file its name; it is locked until it has it.
func settle(f *os.File, path string) error {
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return f.Close()
}

// again is an open descriptor of this process once more, at the place in the
// file where it stands.
func again(descriptor int) (*os.File, error) {
	n, err := syscall.Dup(descriptor)
	if err != nil {
		return nil, err
	}
	return os.NewFile(uintptr(n), "descriptor"), nil
}
