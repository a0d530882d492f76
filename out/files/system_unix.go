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

// openQuietly opens a file without following a link or waiting for anyone.
func openQuietly(path string) (*os.File, error) {
	return os.OpenFile(path, os.O_RDWR|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
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
