package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every command that writes refuses another program's file, and those that
// read say that it is none of ours. The file stays as it was.
func TestForeignFileRefused(t *testing.T) {
	folder := t.TempDir()
	file, empty := filepath.Join(folder, "songs.db"), filepath.Join(folder, "empty.db")
	db := other(t, file)
	if _, err := db.Exec("CREATE TABLE song (title TEXT)"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"seed", "--shops", "1", "--db", file},
		{"serve", "--token", "1:x", "--api-url", "http://127.0.0.1:1", "--db", file},
		{"chat", "--db", file},
		{"chat", "--script", "-", "--db", file},
		{"claim-code", "--db", file},
		{"verify", "--db", file},
		{"verify", "--db", empty},
		{"sheet", "--db", file},
	} {
		name := args[len(args)-1]
		code, _, stderr := command(args...)
		if code == 0 || stderr != name+" is not a shopfloat file; name another file\n" {
			t.Errorf("%s: %d, %q", strings.Join(args, " "), code, stderr)
		}
	}
	after, err := os.ReadFile(file)
	left, _ := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || string(before) != string(after) || len(left) != 2 {
		t.Errorf("changed: %v, %v", left, err)
	}
}
