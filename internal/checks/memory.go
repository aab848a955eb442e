package checks

import (
	"fmt"
	"os"
	"runtime/debug"
	"testing"
)

// collectAt is how much garbage tests may make before it is collected, in per cent of
// what they keep, which is little: by the usual 100 an eighth to a quarter of their time
// goes into collecting.
const collectAt = 400

// init has tests collect garbage seldom. A GOGC of the person who runs them stands.
func init() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
}

// FilesInMemory runs a package's tests with their temporary folders in memory,
// where a sync costs nothing, if the computer has room there. What a power cut
// leaves is no concern of such a test: store has a disk of its own for that. A
// TMPDIR of the person who runs the tests stands. It gives the exit code.
func FilesInMemory(m *testing.M) int {
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
