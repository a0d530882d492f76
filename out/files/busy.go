package files

import (
	"errors"
	"syscall"
	"time"
)

// Numbers of errors of Windows. Source: Microsoft, "System Error Codes (0-499)".
const (
	accessDenied     syscall.Errno = 5 // also of a name that is to be replaced while somebody has it open
	sharingViolation syscall.Errno = 32
	lockViolation    syscall.Errno = 33
)

// held says whether a step failed on a system, by its name in Go, because a program
// has the file open; elsewhere than on Windows that is no hindrance.
func held(system string, err error, replacing bool) bool {
	var number syscall.Errno
	if system != "windows" || !errors.As(err, &number) {
		return false
	}
	return number == sharingViolation || number == lockViolation || replacing && number == accessDenied
}

// patience is how often a file that is held is asked for again; the waits double
// from the first, so that all are some 1.3 s: a scanner for viruses looks at what is
// new for less.
const (
	patience  = 7
	firstWait = 10 * time.Millisecond
)

// patiently does a step, again after a while as long as a program has the file open.
func patiently(step func() error, held func(error) bool, wait func(time.Duration)) error {
	err := step()
	for k := 0; k < patience && err != nil && held(err); k++ {
		wait(firstWait << k)
		err = step()
	}
	return err
}

// heldError is the error of a file that stays open in another program.
type heldError struct{ err error }

func (e *heldError) Error() string {
	return "another program has it open: close it there, then run this again; what it held is kept"
}

func (e *heldError) Unwrap() error { return e.err }

// replaceable does a step to replace a file that is there, or says that another
// program keeps it.
func replaceable(system string, step func() error, replacing bool, wait func(time.Duration)) error {
	isHeld := func(err error) bool { return held(system, err, replacing) }
	err := patiently(step, isHeld, wait)
	if err != nil && isHeld(err) {
		return &heldError{err}
	}
	return err
}
