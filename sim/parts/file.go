package parts

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Unit is one unit of work that is done.
type Unit struct {
	Unit int             `json:"unit"` // 0-based, of the whole
	Data json.RawMessage `json:"data"`
}

// end is the last line of a part that is whole.
type end struct {
	End *int `json:"end"`
}

// Write writes a whole part.
func Write(w io.Writer, h Header, units []Unit) error {
	b := bufio.NewWriter(w)
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(h); err != nil {
		return err
	}
	for _, u := range units {
		if err := e.Encode(u); err != nil {
			return err
		}
	}
	n := len(units)
	if err := e.Encode(end{&n}); err != nil {
		return err
	}
	return b.Flush()
}

// Journal keeps what is finished of a part in a file, so that an interrupted
// run can go on. It is a part file whose last line is missing.
type Journal struct {
	file *os.File
	Done []Unit // what an earlier run had finished, in order
}

// Open opens a journal, or begins one when there is none. A journal of
// something else is an error, and is left as it is; a line that was cut off is
// dropped.
func Open(path string, h Header) (*Journal, error) {
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read", path)
	}
	j := &Journal{}
	whole := 0
	if len(data) > 0 {
		found, units, n, err := read(data, path)
		if err != nil && !errors.Is(err, errCutOff) {
			return nil, err
		}
		if n > 0 {
			if why := found.foreign(&h); why != "" || found.Part != h.Part {
				return nil, fmt.Errorf("%s: keeps other work than this: it %s", path, orElse(why, fmt.Sprintf("is part %d", found.Part)))
			}
			j.Done, whole = units, n
		}
	}
	j.file, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be written", path)
	}
	if err := j.file.Truncate(int64(whole)); err != nil {
		return nil, fmt.Errorf("%s: cannot be written", path)
	}
	if _, err := j.file.Seek(int64(whole), io.SeekStart); err != nil {
		return nil, fmt.Errorf("%s: cannot be written", path)
	}
	if whole == 0 {
		return j, j.line(h)
	}
	return j, nil
}

func orElse(s, t string) string {
	if s != "" {
		return s
	}
	return t
}

// Add keeps one more finished unit.
func (j *Journal) Add(u Unit) error { return j.line(u) }

func (j *Journal) line(v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	if _, err := j.file.Write(b.Bytes()); err != nil {
		return fmt.Errorf("%s: cannot be written: is the disk full?", j.file.Name())
	}
	return nil
}

// Close closes the journal and keeps it.
func (j *Journal) Close() error { return j.file.Close() }

// Remove closes the journal and takes it away: all is done.
func (j *Journal) Remove() error {
	if err := j.file.Close(); err != nil {
		return err
	}
	return os.Remove(j.file.Name())
}

var errCutOff = errors.New("is cut off: its last line is missing")

// read reads a part. used is the length of the lines that are whole; with
// errCutOff the rest was missing.
func read(data []byte, name string) (h Header, units []Unit, used int, err error) {
	bad := func(what string) error { return fmt.Errorf("%s: %s", name, what) }
	line := func() []byte {
		i := bytes.IndexByte(data[used:], '\n')
		if i < 0 {
			return nil
		}
		return data[used : used+i+1]
	}
	first := line()
	if first == nil || json.Unmarshal(first, &h) != nil || h.Format != Format {
		if first == nil && bytes.HasPrefix(data, []byte(`{"format":"`)) {
			return h, nil, 0, fmt.Errorf("%s: %w", name, errCutOff)
		}
		return h, nil, 0, bad("is no part of a run or sweep")
	}
	if h.Part < 1 || h.Of < 1 || h.Part > h.Of || h.Units < 0 {
		return h, nil, 0, bad("says that it is part " + fmt.Sprintf("%d of %d", h.Part, h.Of))
	}
	used = len(first)
	for {
		l := line()
		if l == nil {
			return h, units, used, fmt.Errorf("%s: %w", name, errCutOff)
		}
		var e end
		if json.Unmarshal(l, &e) == nil && e.End != nil {
			if *e.End != len(units) || used+len(l) != len(data) {
				return h, nil, 0, bad("does not hold what it says at its end")
			}
			return h, units, used, nil
		}
		var u Unit
		if json.Unmarshal(l, &u) != nil || u.Data == nil {
			return h, units, used, bad(fmt.Sprintf("line %d cannot be read", len(units)+2))
		}
		units = append(units, u)
		used += len(l)
	}
}

// Join reads all parts and returns what they are parts of and its units in
// order. Parts that are missing, doubled, foreign or cut off are named, all of
// them.
func Join(paths []string) (Header, []Unit, error) {
	var problems []error
	var first *Header
	firstName := ""
	byPart := map[int]string{}
	var all []Unit
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			problems = append(problems, fmt.Errorf("%s: cannot be read", path))
			continue
		}
		h, units, _, err := read(data, path)
		if err != nil {
			problems = append(problems, err)
			continue
		}
		if first == nil {
			first, firstName = &h, path
		}
		if why := h.foreign(first); why != "" {
			problems = append(problems, fmt.Errorf("%s: does not belong to %s: it %s", path, firstName, why))
			continue
		}
		if other, twice := byPart[h.Part]; twice {
			problems = append(problems, fmt.Errorf("%s: is part %d of %d, as %s is", path, h.Part, h.Of, other))
			continue
		}
		byPart[h.Part] = path
		from, to := h.Range()
		if len(units) != to-from {
			problems = append(problems, fmt.Errorf("%s: holds %d units in place of %d", path, len(units), to-from))
			continue
		}
		for i, u := range units {
			if u.Unit != from+i {
				problems = append(problems, fmt.Errorf("%s: holds unit %d where %d should stand", path, u.Unit, from+i))
				break
			}
		}
		all = append(all, units...)
	}
	if first == nil {
		return Header{}, nil, errors.Join(problems...)
	}
	for k := 1; k <= first.Of && len(problems) < 50; k++ {
		if byPart[k] == "" {
			problems = append(problems, fmt.Errorf("part %d of %d is missing", k, first.Of))
		}
	}
	if len(problems) > 0 {
		return Header{}, nil, errors.Join(problems...)
	}
	sorted := make([]Unit, first.Units)
	for _, u := range all {
		sorted[u.Unit] = u
	}
	return *first, sorted, nil
}
