//go:build !unix

package effort

import (
	"testing"
	"time"
)

var begun = time.Now()

// Processor is the time that this process has run, where the system is not asked for that of
// the processor.
func Processor(testing.TB) time.Duration { return time.Since(begun) }
