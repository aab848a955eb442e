//go:build unix

package checks

import (
	"syscall"
	"testing"
	"time"
)

// Processor is what the process has used of the processor so far. A busy machine does not
// change it much, unlike the time of the wall.
func Processor(tb testing.TB) time.Duration {
	tb.Helper()
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
