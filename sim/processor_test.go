//go:build !windows

package sim

import (
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// processorTime is what the process has used so far.
func processorTime(t testing.TB) time.Duration {
	var used syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &used))
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
