package files

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// What is held is asked for again, for some 1.3 s in all; anything else at once not.
func TestPatience(t *testing.T) {
	sharing := &os.LinkError{Op: "rename", Old: "a", New: "b", Err: sharingViolation}
	isHeld := func(err error) bool { return held("windows", err, true) }
	for _, c := range []struct {
		fails  int
		err    error
		steps  int
		waited time.Duration
		ends   bool // well
	}{
		{0, sharing, 1, 0, true},
		{1, sharing, 2, 10 * time.Millisecond, true},
		{3, sharing, 4, 70 * time.Millisecond, true},
		{7, sharing, 8, 1270 * time.Millisecond, true},
		{8, sharing, 8, 1270 * time.Millisecond, false},
		{99, syscall.ENOENT, 1, 0, false},
	} {
		steps, waited := 0, time.Duration(0)
		err := patiently(func() error {
			steps++
			if steps <= c.fails {
				return c.err
			}
			return nil
		}, isHeld, func(d time.Duration) { waited += d })
		assert.Equal(t, c.ends, err == nil, "%+v", c)
		assert.Equal(t, c.steps, steps, "%+v", c)
		assert.Equal(t, c.waited, waited, "%+v", c)
	}
}

// Access is denied to who would replace a file that is open, and to who may not
// write it: only the first is worth waiting for. On other systems the numbers are of
// other errors.
func TestWhatIsHeld(t *testing.T) {
	wrapped := func(n syscall.Errno) error { return fmt.Errorf("x: %w", &fs.PathError{Op: "open", Path: "x", Err: n}) }
	for _, c := range []struct {
		system    string
		err       error
		replacing bool
		want      bool
	}{
		{"windows", wrapped(32), false, true}, {"windows", wrapped(33), true, true},
		{"windows", wrapped(5), true, true}, {"windows", wrapped(5), false, false},
		{"windows", wrapped(2), true, false}, {"windows", errors.New("x"), true, false}, {"windows", nil, true, false},
		{"linux", wrapped(32), true, false}, {"darwin", wrapped(5), true, false},
	} {
		assert.Equal(t, c.want, held(c.system, c.err, c.replacing), "%+v", c)
	}
}

func TestAHeldFileSaysWhatToDo(t *testing.T) {
	err := replaceable("windows", func() error { return sharingViolation }, false, func(time.Duration) {})
	assert.EqualError(t, cannot("book.xlsx", err), "book.xlsx: cannot be written: another program has it open: close it there, then run this again; what it held is kept")
	assert.ErrorIs(t, err, sharingViolation)
	assert.Equal(t, syscall.Errno(5), replaceable("windows", func() error { return accessDenied }, false, time.Sleep), "forbidden, not held")
}
