//go:build unix

package store_test

import (
	"syscall"
	"testing"
	"time"
)

// cpuTime is what the process has used of the processor so far. A busy machine does not
// change it much, unlike the time of the wall.
func cpuTime(tb testing.TB) time.Duration {
	tb.Helper()
	var use syscall.Rusage
	ok(tb, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
