package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// The forms of a file are those of its shops, one for each machine.
func TestSheetOfAFile(t *testing.T) {
	file := seeded(t, 3)
	for line, want := range map[string]int{"": 1, "--db " + file: 3, "--db " + file + " --shop 2": 1} {
		code, stdout, stderr := command(append([]string{"sheet"}, strings.Fields(line)...)...)
		forms := strings.Count(stdout, "OPENING")
		// A form has two pages; form feeds part all pages.
		if code != 0 || forms != want || strings.Count(stdout, "\f") != 2*want-1 {
			t.Errorf("%q: exit %d, %d forms, want %d; %s", line, code, forms, want, stderr)
		}
	}
}

func TestSheetRefused(t *testing.T) {
	file, none := seeded(t, 1), filepath.Join(t.TempDir(), "none.db")
	for line, want := range map[string]struct {
		code int
		says string
	}{
		"--shop 1":                     {2, "--db FILE"},
		"--shop -1 --db " + file:       {2, "--shop"},
		"--db " + none:                 {2, none},
		"--db " + file + " --shop 9":   {1, "no machine of a shop 9"},
		"--db " + seeded(t, 0) + "   ": {1, "no machine to print"},
	} {
		code, stdout, stderr := command(append([]string{"sheet"}, strings.Fields(line)...)...)
		if code != want.code || stdout != "" || !strings.Contains(stderr, want.says) {
			t.Errorf("%q: exit %d, %q, %s", line, code, stdout, stderr)
		}
	}
}
