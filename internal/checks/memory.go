package checks

import (
	"fmt"
	"os"
	"testing"
)

// FilesInMemory runs a package's tests with their temporary folders in memory,
// where a sync costs nothing, if the computer has room there. What a power cut
// leaves is no concern of such a test: store has a disk of its own for that.
// A TMPDIR of the person who runs the tests stands. It gives the exit code.
func FilesInMemory(m *testing.M) int {
	if os.Getenv("TMPDIR") != "" || !roomy(memory) {
		return m.Run()
	}
	dir, err := os.MkdirTemp(memory, "shopfloat-")
	if err != nil {
		return m.Run()
	}
	defer func() { _ = os.RemoveAll(dir) }()
	if err := os.Setenv("TMPDIR", dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return m.Run()
}
