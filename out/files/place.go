package files

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// place is what a name stands for: a file that is there, or the name under which
// one would be made.
type place struct {
	name string      // as it was given
	path string      // absolute, with every link followed
	info os.FileInfo // nil: it is not there yet
	fd   int         // a descriptor that this process has open and that the name stands for, as /dev/stdout does; else -1
}

// mostLinks is how many links in a row are followed, as Linux does.
const mostLinks = 40

// placeOf follows a name, through links that point to nothing yet as well.
func placeOf(name string) (place, error) {
	p := place{name: name, fd: -1}
	path, err := filepath.Abs(name)
	if err != nil {
		return p, err
	}
	if p.fd, err = descriptorOf(path); err != nil {
		return p, err
	}
	if endsInSeparator(name) { // a folder, whether it is there or not
		path += string(filepath.Separator)
	}
	info, err := os.Stat(path)
	if err == nil {
		p.path, p.info = path, info
		if real, err := filepath.EvalSymlinks(path); err == nil {
			p.path = real
		}
		return p, nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return p, err
	}
	for range mostLinks {
		to, ok := linked(path)
		if !ok {
			break
		}
		path = to
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return p, err
	}
	p.path = filepath.Join(folder, filepath.Base(path))
	if endsInSeparator(name) {
		p.path += string(filepath.Separator)
	}
	return p, nil
}

func endsInSeparator(name string) bool {
	return name != "" && os.IsPathSeparator(name[len(name)-1])
}

// same says whether two names stand for one file: the file that is there (hard
// links, other spellings of its name, other ways to its folder), or the name
// that it would have. Names that differ in capitals only are one file on some
// file systems, so they are on all.
func (p place) same(q place) bool {
	switch {
	case p.info != nil && q.info != nil:
		return os.SameFile(p.info, q.info)
	case p.info != nil || q.info != nil:
		return false
	}
	return folded(p.path) == folded(q.path)
}

// folded is equal for names that some file system may take for one: capitals
// and letters put together in another way make no difference.
func folded(name string) string { return strings.ToLower(norm.NFKC.String(name)) }

// regular says whether a file is there and holds what was written to it, so that
// writing to it again would destroy something.
func (p place) regular() bool { return p.info != nil && p.info.Mode().IsRegular() }

// kept says whether reading from and writing to it can meet: not so for a
// terminal, a device or a socket, which are two ways.
func (p place) kept() bool {
	return p.info == nil || p.info.Mode()&(fs.ModeDevice|fs.ModeCharDevice|fs.ModeSocket) == 0
}

// descriptorOf is the open descriptor that a name stands for, "/dev/stdout" or
// "/dev/fd/3"; -1 when it stands for a file.
func descriptorOf(path string) (int, error) {
	own, err := filepath.EvalSymlinks("/dev/fd")
	if err != nil {
		return -1, nil // there are no such names here
	}
	for range mostLinks {
		if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil && folder == own {
			return strconv.Atoi(filepath.Base(path))
		}
		to, ok := linked(path)
		if !ok {
			break
		}
		path = to
	}
	return -1, nil
}

// linked is what a link points to; false when a name is none.
func linked(path string) (to string, ok bool) {
	to, err := os.Readlink(path)
	if err != nil {
		return "", false
	}
	if !filepath.IsAbs(to) {
		to = filepath.Join(filepath.Dir(path), to)
	}
	return to, true
}

// Straight says whether what is written under a name goes there as it comes: to
// a pipe, a device or an open descriptor, whose name has no ending that says what
// it holds.
func Straight(name string) bool {
	p, err := placeOf(name)
	return err == nil && (p.fd >= 0 || p.info != nil && !p.info.Mode().IsRegular() && !p.info.IsDir())
}
