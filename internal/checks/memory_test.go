package checks

import (
	"os"
	"strings"
	"testing"
)

// wish is where the person who runs the tests wants their folders; the testing
// package asks for the second first.
var wish = os.Getenv("TMPDIR") + os.Getenv("GOTMPDIR")

func TestMain(m *testing.M) { os.Exit(FilesInMemory(m)) }

// The folders of tests lie where they were asked to be, and in memory without a wish.
func TestFilesInMemory(t *testing.T) {
	if !roomy(memory) {
		t.Skip("no room in memory")
	}
	if wish != "" {
		t.Skipf("%s was asked for", wish)
	}
	if dir := t.TempDir(); !strings.HasPrefix(dir, memory+"/shopfloat-") {
		t.Errorf("a folder in %s", dir)
	}
}

func TestRoomy(t *testing.T) {
	if roomy("/proc") || roomy("/no such folder") {
		t.Error("there is no room in a folder that holds nothing")
	}
}
