package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden transcripts anew")

// TestChats plays every chat script of testdata/chats on a real file and
// compares the conversation with the transcript beside it. Look at every
// difference before you run it with -update.
func TestChats(t *testing.T) {
	for _, file := range chats(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			got := play(t, file, read(t, file))
			if ended, broken := strings.Contains(got, "--- exit"), isBroken(file); ended != broken {
				t.Errorf("want a script that ends early: %t, got:\n%s", broken, tail(got))
			}
			golden := strings.TrimSuffix(file, ".txt") + ".golden"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if want := read(t, golden); got != want {
				t.Errorf("not as in %s:\n%s", golden, difference(want, got))
			}
		})
	}
}

// TestChatsRestarted stops and starts the bot after every third line of every
// script. Nothing may be lost or said twice by that: the conversation is the same.
func TestChatsRestarted(t *testing.T) {
	if testing.Short() {
		t.Skip("opens the file a few hundred times")
	}
	for _, file := range chats(t) {
		if isBroken(file) {
			continue // the number of the broken line is another
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			script := read(t, file)
			want, got := play(t, file, script), play(t, file, restarted(script))
			if got != want {
				t.Errorf("restarts change the conversation:\n%s", difference(want, got))
			}
		})
	}
}

func restarted(script string) string {
	var often strings.Builder
	for i, line := range strings.Split(strings.TrimSpace(script), "\n") {
		often.WriteString(line + "\n")
		if i%3 == 2 {
			often.WriteString("@restart\n")
		}
	}
	return often.String()
}

// chats lists the chat scripts.
func chats(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/chats/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no chat scripts: %v", err)
	}
	return files
}

// isBroken reports whether a script is to end with exit code 2 before its end.
func isBroken(file string) bool { return strings.HasPrefix(filepath.Base(file), "broken") }

func tail(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	return strings.Join(lines[max(0, len(lines)-10):], "\n")
}

func read(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// play runs a script. Those of files whose name begins with "empty" or "setup" find no shop.
func play(t *testing.T, file, script string) string {
	t.Helper()
	args := []string{"chat", "--script", "-"}
	if name := filepath.Base(file); strings.HasPrefix(name, "empty") || strings.HasPrefix(name, "setup") {
		args = append(args, "--empty")
	}
	return checkWord.ReplaceAllString(invoke(t, script, args...), "${1}xxxx-xxxx")
}

// checkWord finds the word of the ledger's head, which follows from the order
// in which everything came in, so that restarts and any new field change it.
var checkWord = regexp.MustCompile(`(Check word of the records: )[a-z1-9]{4}-[a-z1-9]{4}\b`)

// invoke runs the program in this process and gives all that a person sees of it.
func invoke(t *testing.T, stdin string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	e := &env{ctx: t.Context(), stdin: strings.NewReader(stdin), stdout: &out, stderr: &errs}
	if code := run(e, args); code != 0 || errs.Len() > 0 {
		fmt.Fprintf(&out, "--- exit %d\n%s", code, errs.String())
	}
	return out.String()
}

// difference shows where two texts part.
func difference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	n := 0
	for n < len(w) && n < len(g) && w[n] == g[n] {
		n++
	}
	show := func(lines []string) string { return strings.Join(lines[max(0, n-3):min(len(lines), n+6)], "\n  ") }
	return fmt.Sprintf("line %d, want\n  %s\ngot\n  %s", n+1, show(w), show(g))
}
