package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

var update = flag.Bool("update", false, "write the golden transcripts anew")

// TestChats plays every chat script of testdata/chats on a real file and
// compares the conversation with the transcript beside it. Look at every
// difference before you run it with -update.
func TestChats(t *testing.T) {
	for _, file := range chats(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			got := play(t, file, read(t, file))
			if !isAboutWords(file) {
				got = withoutWords(got)
			}
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

// freshFile puts a file in place that went through its migrations and holds nothing.
var freshFile = checks.Copies(func(path string) error {
	db, err := store.Open(context.Background(), path, time.Unix(0, 0))
	if err != nil {
		return err
	}
	return db.Close()
})

// play runs a script. Those of files whose name begins with "empty" or "setup" find no shop.
func play(t *testing.T, file, script string) string {
	t.Helper()
	db := filepath.Join(t.TempDir(), "chat.db")
	freshFile(t, db)
	args := []string{"chat", "--script", "-", "--files", "../../testdata/statements", "--db", db}
	if name := filepath.Base(file); strings.HasPrefix(name, "empty") || strings.HasPrefix(name, "setup") {
		args = append(args, "--empty")
	}
	return invoke(t, script, args...)
}

// checkWord finds the words of ledgers' heads, as a note of a closing and verify say them.
var checkWord = regexp.MustCompile(`[Cc]heck word (?:of the records: )?([a-z1-9]{4})-([a-z1-9]{4})\b`)

// checkWordLine finds the line in which those of several machines stand, checkWords each of
// them in it.
var checkWordLine = regexp.MustCompile(`(?m)^ *Check words: .*$`)

var checkWords = regexp.MustCompile(` [a-z1-9]{4}-[a-z1-9]{4}(,|$)`)

// withoutWords hides the check words of a conversation, however they are written.
// A word follows from all that came before, and from the order in which it came
// in, so that restarts and any new field of a record change it. It stands for
// nothing that a reader of the transcript could check.
func withoutWords(transcript string) string {
	transcript = checkWordLine.ReplaceAllStringFunc(transcript, func(line string) string {
		return checkWords.ReplaceAllString(line, " xxxx-xxxx$1")
	})
	for _, word := range checkWord.FindAllStringSubmatch(transcript, -1) {
		spelt := regexp.MustCompile(`(?i)\b` + word[1] + `[- ]?` + word[2] + `\b`)
		transcript = spelt.ReplaceAllString(transcript, "xxxx-xxxx")
	}
	return transcript
}

// isAboutWords reports whether check words are what a script is about: they
// stand in its transcript as they are. Such a file's name begins with "word".
func isAboutWords(file string) bool { return strings.HasPrefix(filepath.Base(file), "word") }

func TestWithoutWords(t *testing.T) {
	const before = "Check word of the records: abcd-12ef\nok, head 0a0b, check word mnpq-rstu\n" +
		"owner> Check word ABCD 12EF\nowner> abcd12ef, xabcd-12ef, well-kept\n"
	const after = "Check word of the records: xxxx-xxxx\nok, head 0a0b, check word xxxx-xxxx\n" +
		"owner> Check word xxxx-xxxx\nowner> xxxx-xxxx, xabcd-12ef, well-kept\n"
	if got := withoutWords(before); got != after {
		t.Errorf("got\n%s\nwant\n%s", got, after)
	}
}

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
