package files

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
)

// ours is how a temporary file is called: nothing else is ever taken away.
var ours = regexp.MustCompile(`^\.rollchange-[0-9a-f]{16}\.tmp$`)

// temporary makes a temporary file in a folder and locks it. The lock ends with
// the process, however that ends.
func temporary(folder string, mode fs.FileMode) (*os.File, error) {
	for range 100 {
		var b [8]byte
		_, _ = rand.Read(b[:]) // never fails
		path := filepath.Join(folder, fmt.Sprintf(".rollchange-%s.tmp", hex.EncodeToString(b[:])))
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		lock(f)
		// Another run may have taken it for a leaving before it was locked.
		if here, err := os.Lstat(path); err == nil {
			if info, err := f.Stat(); err == nil && os.SameFile(here, info) {
				return f, nil
			}
		}
		f.Close()
	}
	return nil, errors.New("no temporary file can be kept there")
}

// clean takes away what runs that were killed have left in a folder: regular
// files under a name of ours, of this user, under no other name, and in use
// by nobody.
func clean(folder string) {
	f, err := os.Open(folder)
	if err != nil {
		return
	}
	defer f.Close()
	for {
		names, err := f.Readdirnames(1000)
		for _, name := range names {
			if ours.MatchString(name) {
				takeAway(filepath.Join(folder, name))
			}
		}
		if err != nil || len(names) == 0 {
			return
		}
	}
}

// takeAway removes one such file, if it is one.
func takeAway(path string) {
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() || !own(info) {
		return
	}
	removeLeft(path, info)
}
