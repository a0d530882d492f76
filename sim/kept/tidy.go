package kept

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// What a folder holds at most. A file that is not used for longer is thrown away, and
// those used longest ago where they are too many bytes.
const (
	mostBytes = 200 << 20
	mostAge   = 30 * 24 * time.Hour
)

// leaf is a file of a folder.
type leaf struct {
	path string
	size int64
	used time.Time
}

// Tidy throws away what is too old or too much, if this store has kept anything.
// Nothing that is not called as a store calls its files is touched.
func (s *Store) Tidy() {
	s.lock.Lock()
	written := s.written
	s.lock.Unlock()
	if written > 0 {
		tidy(s.folder, time.Now(), mostBytes)
	}
}

func tidy(folder string, now time.Time, most int64) {
	var list []leaf
	total := int64(0)
	programs, _ := os.ReadDir(folder)
	for _, p := range programs {
		if !p.IsDir() || !isKey(p.Name()) {
			continue
		}
		files, _ := os.ReadDir(filepath.Join(folder, p.Name()))
		for _, f := range files {
			name, ours := strings.CutSuffix(f.Name(), ending)
			if !ours || !isKey(name) || !f.Type().IsRegular() {
				continue
			}
			if info, err := f.Info(); err == nil {
				list = append(list, leaf{filepath.Join(folder, p.Name(), f.Name()), info.Size(), info.ModTime()})
				total += info.Size()
			}
		}
	}
	slices.SortFunc(list, func(a, b leaf) int { return cmp.Or(a.used.Compare(b.used), strings.Compare(a.path, b.path)) })
	for _, f := range list {
		if total <= most && now.Sub(f.used) <= mostAge {
			break
		}
		_ = os.Remove(f.path)
		_ = os.Remove(filepath.Dir(f.path)) // only if that is empty
		total -= f.size
	}
}

// isKey says whether a name is a key in hexadecimal digits.
func isKey(name string) bool {
	return len(name) == 2*keySize && strings.Trim(name, "0123456789abcdef") == ""
}
