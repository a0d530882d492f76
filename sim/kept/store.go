package kept

import (
	"encoding/hex"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Store is what is kept in a folder for one program.
type Store struct {
	folder  string // of all programs
	program string // its file
	named   sync.Once
	own     string // folder of this one; "": it cannot be told from others, and nothing is kept

	lock    sync.Mutex
	shelves map[string]*shelf // by line
	off     bool              // nothing more is kept: the folder is full, or cannot be written
	written int64
}

// shelf is what is known of a line.
type shelf struct {
	path  string
	once  sync.Once
	lock  sync.Mutex
	known map[key][]byte // nil: this process has written it, and need not read it again
	bytes int            // of the file
}

const (
	ending    = ".kept"
	mostShelf = 20 << 20  // bytes of a line
	usedEvery = time.Hour // how exactly it is known when a file was last used
)

// New is the store of a program, by the name of its file, in a folder that need not be
// there. Neither is looked at before something is asked for.
func New(folder, program string) *Store {
	return &Store{folder: folder, program: program, shelves: map[string]*shelf{}}
}

// shelf is that of a line, read when it is first asked for; nil where nothing is kept.
func (s *Store) shelf(line string) *shelf {
	s.named.Do(func() {
		if name, ok := nameOf(s.program); ok {
			s.own = filepath.Join(s.folder, name)
		}
	})
	if s.own == "" {
		return nil
	}
	s.lock.Lock()
	x := s.shelves[line]
	if x == nil {
		k := keyOf(line)
		x = &shelf{path: filepath.Join(s.own, hex.EncodeToString(k[:])+ending)}
		s.shelves[line] = x
	}
	s.lock.Unlock()
	x.once.Do(x.read)
	return x
}

// read takes in what stands in the file of a line.
func (x *shelf) read() {
	x.known = map[key][]byte{}
	info, err := os.Lstat(x.path)
	if err != nil {
		return
	}
	if !info.Mode().IsRegular() || info.Size() > 2*mostShelf { // not ours, or full
		x.bytes = mostShelf
		return
	}
	b, err := os.ReadFile(x.path)
	if err != nil {
		return
	}
	x.known, x.bytes = records(b), len(b)
	if now := time.Now(); now.Sub(info.ModTime()) > usedEvery {
		_ = os.Chtimes(x.path, now, now) // what was used last is thrown away last
	}
}

// Find returns what was kept of a line under a name, nil when it is not known. It is
// only to be read.
func (s *Store) Find(line, what string) []byte {
	x := s.shelf(line)
	if x == nil {
		return nil
	}
	x.lock.Lock()
	defer x.lock.Unlock()
	return x.known[keyOf(what)]
}

// Keep keeps data of a line under a name.
func (s *Store) Keep(line, what string, data []byte) {
	x := s.shelf(line)
	if x == nil {
		return
	}
	x.lock.Lock()
	defer x.lock.Unlock()
	k := keyOf(what)
	n := headSize + len(data)
	if _, known := x.known[k]; known || x.bytes+n > mostShelf || !s.room(n) {
		return
	}
	x.known[k] = nil
	x.bytes += n
	if appendTo(x.path, record(k, data)) != nil {
		s.lock.Lock()
		s.off = true
		s.lock.Unlock()
	}
}

// room says whether so many bytes more may be written: one process fills half of the
// folder at most, so that it throws away nothing of its own.
func (s *Store) room(n int) bool {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.off {
		return false
	}
	if s.written == 0 && os.MkdirAll(s.own, 0o700) != nil {
		s.off = true
		return false
	}
	s.written += int64(n)
	s.off = s.written > mostBytes/2
	return !s.off
}

// appendTo appends a record in one go, so that those of two processes do not mix.
func appendTo(path string, b []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
