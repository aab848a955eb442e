package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A shop's own guide takes the place of the one that came with the program; a
// broken file is named with its line, and the built-in one stays.
func TestChatWithOwnGuides(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	own := "guide: offline\ntitle: Our own line\nrecord: when\n\n== start\nLook at the blue box.\n- It hums " +
		"-> done\n\n" +
		"== done\nGood.\nend: solved\n"
	for name, text := range map[string]string{"offline.guide": own, "power.guide": "guide: power\nnonsense\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	script := "@2026-11-25 10:00\n@as staff1\nmachine is offline\n[It hums]\nno power\n"
	got := invoke(t, script, "chat", "--script", "-", "--guides", dir)
	for _, want := range []string{"Our own line. Step 1 of at most 2.", "Look at the blue box.",
		"No power, or hot", "power.guide:2"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}
