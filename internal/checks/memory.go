package checks

import (
	"fmt"
	"os"
	"runtime/debug"
	"testing"
)

// collectAt is how much garbage such a test may make before it is collected, in per
// cent of what it keeps, which is little: by the usual 100 a quarter of the time goes
// into collecting.
const collectAt = 400

// FilesInMemory runs a package's tests with their temporary folders in memory,
// where a sync costs nothing, if the computer has room there, and collects
// garbage seldom. What a power cut leaves is no concern of such a test: store
// has a disk of its own for that. A TMPDIR and a GOGC of the person who runs the
// tests stand. It gives the exit code.
func FilesInMemory(m *testing.M) int {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	if os.Getenv("TMPDIR") != "" || !roomy(memory) {
		return m.Run()
	}
	dir, err := os.MkdirTemp(memory, "shopfloat-")
	if err != nil {
		return m.Run()
	}
	defer func() { _ = os.RemoveAll(dir) }()
	if err := os.Chmod(dir, 0o711); err != nil { // a program that is run as somebody else lies in it
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	if err := os.Setenv("TMPDIR", dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return m.Run()
}
