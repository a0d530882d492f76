//go:build unix

package effort

import (
	"syscall"
	"testing"
	"time"
)

// Processor is the processor time that this process has used so far. What is held to a
// time is held to this: what else runs on the machine is not in it.
func Processor(t testing.TB) time.Duration {
	t.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		t.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
