package parts

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"rollchange/model/legible"
)

// Journal keeps what is finished of a part in a file, so that an interrupted
// run can go on. It is a part file whose last line is missing.
type Journal struct {
	file *os.File
	Done []Unit // what an earlier run had finished, in order
}

// Open opens a journal, or begins one when there is none. A journal of
// something else is an error, and is left as it is; a line that was cut off is
// dropped.
func Open(file string, h Header) (*Journal, error) {
	path := legible.Visible(file) // in messages
	if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: cannot be written: it is not a file", path)
	}
	data, err := os.ReadFile(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, bare(err))
	}
	done, whole, err := finished(data, path, h)
	if err != nil {
		return nil, err
	}
	j := &Journal{Done: done}
	if j.file, err = os.OpenFile(file, os.O_RDWR|os.O_CREATE, 0o644); err != nil {
		return nil, fmt.Errorf("%s: cannot be written: %w", path, bare(err))
	}
	if err = j.file.Truncate(int64(whole)); err == nil {
		_, err = j.file.Seek(int64(whole), io.SeekStart)
	}
	if err != nil {
		err = fmt.Errorf("%s: cannot be written: %w", path, bare(err))
	} else if whole == 0 {
		err = j.line(h)
	}
	if err != nil {
		j.file.Close()
		return nil, err
	}
	return j, nil
}

// finished is what a journal holds of the work that a header describes, and the
// length of the lines that are whole. It must be a journal of nothing else.
func finished(data []byte, path string, h Header) (done []Unit, whole int, err error) {
	if len(data) == 0 {
		return nil, 0, nil
	}
	found, units, whole, err := read(data, path)
	switch {
	case err == nil:
		return nil, 0, fmt.Errorf("%s: is a finished part, not the journal of an interrupted run", path)
	case !errors.Is(err, errCutOff):
		return nil, 0, err
	case whole == 0:
		if header, err := encoded(h); err != nil || !bytes.HasPrefix(header, data) {
			return nil, 0, fmt.Errorf("%s: keeps other work", path)
		}
		return nil, 0, nil
	}
	if why := found.foreign(&h); why != "" {
		return nil, 0, fmt.Errorf("%s: keeps other work: it %s", path, why)
	}
	if found.Part != h.Part {
		return nil, 0, fmt.Errorf("%s: keeps other work: it is part %d, not %d", path, found.Part, h.Part)
	}
	if err := h.inOrder(units); err != nil {
		return nil, 0, fmt.Errorf("%s: %w", path, err)
	}
	return units, whole, nil
}

// Add keeps one more finished unit.
func (j *Journal) Add(u Unit) error { return j.line(u) }

func (j *Journal) line(v any) error {
	b, err := encoded(v)
	if err != nil {
		return err
	}
	if _, err := j.file.Write(b); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", legible.Visible(j.file.Name()), bare(err))
	}
	return nil
}

// encoded is a line of a part file. Names in it are written so that they harm no
// terminal on which the file is shown.
func encoded(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return legible.Bytes(b.Bytes()), err
}

// bare is an error without the path, which is said already.
func bare(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// Close closes the journal and keeps it.
func (j *Journal) Close() error { return j.file.Close() }
