package parts

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
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

// end is the last line of a part that is whole: how many units there are, and
// the hash of all lines before it.
type end struct {
	End    *int   `json:"end"`
	SHA256 string `json:"sha256"`
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Write writes a whole part.
func Write(w io.Writer, h Header, units []Unit) error {
	b := bufio.NewWriter(w)
	sum := sha256.New()
	line := func(v any) error {
		text, err := encoded(v)
		if err == nil {
			_, err = io.MultiWriter(b, sum).Write(text)
		}
		return err
	}
	if err := line(h); err != nil {
		return err
	}
	for _, u := range units {
		if err := line(u); err != nil {
			return err
		}
	}
	n := len(units)
	if err := line(end{&n, hex.EncodeToString(sum.Sum(nil))}); err != nil {
		return err
	}
	return b.Flush()
}

var errCutOff = errors.New("is cut off: its last line is missing")

// The most that a header may say: no run or sweep is larger.
const (
	mostUnits = 1_000_000
	mostParts = 100_000
)

// opening is how every part file begins.
var opening = []byte(`{"format":"` + Format + `"`)

// readFile reads a file whole, unless it begins otherwise than a part; a device
// would never end.
func readFile(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && info.Mode()&fs.ModeDevice != 0 {
		return nil, errors.New("is a device")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, len(opening))
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if head = head[:n]; n < len(opening) || !bytes.Equal(head, opening) {
		return head, nil // read says what is wrong
	}
	rest, err := io.ReadAll(f)
	return append(head, rest...), err
}

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
	if n := min(len(data), len(opening)); first == nil && n > 0 && bytes.Equal(data[:n], opening[:n]) {
		return h, nil, 0, fmt.Errorf("%s: %w", name, errCutOff)
	}
	if json.Unmarshal(first, &h) != nil || h.Format != Format {
		return h, nil, 0, bad("is not a part of a run or sweep")
	}
	if h.Part < 1 || h.Part > h.Of || h.Of > mostParts {
		return h, nil, 0, bad(fmt.Sprintf("says that it is part %d of %d", h.Part, h.Of))
	}
	if h.Units < 0 || h.Units > mostUnits {
		return h, nil, 0, bad(fmt.Sprintf("says that it is part of %d units", h.Units))
	}
	used = len(first)
	for {
		l := line()
		if l == nil || l[0] == 0 { // zeros are what a crash leaves, or another process that writes further on
			return h, units, used, fmt.Errorf("%s: %w", name, errCutOff)
		}
		var e end
		if json.Unmarshal(l, &e) == nil && e.End != nil {
			if *e.End != len(units) || used+len(l) != len(data) || e.SHA256 != hashOf(data[:used]) {
				return h, nil, 0, bad("was changed: its content does not match the hash at its end")
			}
			return h, units, used, nil
		}
		var u Unit
		if json.Unmarshal(l, &u) != nil || u.Data == nil || bytes.Equal(u.Data, []byte("null")) {
			return h, nil, 0, bad(fmt.Sprintf("line %d cannot be read", len(units)+2))
		}
		units = append(units, u)
		used += len(l)
	}
}

// inOrder says what is wrong with the units of a part, if they are not the
// first of those that it should hold.
func (h *Header) inOrder(units []Unit) error {
	from, to := h.Range()
	if len(units) > to-from {
		return fmt.Errorf("holds %d units instead of %d", len(units), to-from)
	}
	for i, u := range units {
		if u.Unit != from+i {
			return fmt.Errorf("holds unit %d where %d should stand", u.Unit, from+i)
		}
	}
	return nil
}
