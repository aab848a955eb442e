package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A name typed wrongly must not make a file whose code is good for nothing.
func TestClaimCodeNeedsItsFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "typo.db")
	code, out, stderr := command("claim-code", "--db", file)
	if _, err := os.Stat(file); code != 2 || out != "" || !strings.Contains(stderr, "typo.db") || err == nil {
		t.Errorf("exit %d, %q, %q, %v", code, out, stderr, err)
	}
}

// Without a past the advice says that it knows nothing, as the chat does.
func TestLoadKnowsNothing(t *testing.T) {
	file := seeded(t, 1)
	code, out, stderr := command("load", "--db", file, "--on", "2026-11-25")
	if code != 0 || !strings.Contains(out, "No closed day is known yet") {
		t.Errorf("exit %d, %q, %s", code, out, stderr)
	}
	if code, _, stderr = command("load", "--db", file); code == 0 ||
		!strings.Contains(stderr, "nothing is known of this shop") {
		t.Errorf("without a date: exit %d, %s", code, stderr)
	}
}
