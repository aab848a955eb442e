package main

import (
	"compress/gzip"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

// fixtureDir holds files written by an earlier program; its README.md says how.
const fixtureDir = "../../testdata/files"

// TestFixtures reads the files of an earlier program: they verify, the commands
// print of them what they printed, managers are told the same figures before
// and after one more day of trade, the dialogs that were open are answered, and
// the files verify still. Figures and dialogs have transcripts of their own: the
// figures of old records never change, while a dialog may be told in other words.
// What comes after is played on every fourth file, on all where more is to be tried.
func TestFixtures(t *testing.T) {
	names := fixtureNames(t)
	further := some(t, names)
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			t.Run("prints", func(t *testing.T) {
				file := upgraded(t, name)
				fixtureGolden(t, name+".prints.golden", printsOf(t, file))
				// a start mends what that program left unplanned; the golden names it
				invoke(t, "", "chat", "--script", "-", "--db", file)
				allWell(t, file)
			})
			if !slices.Contains(further, name) {
				return
			}
			t.Run("then", func(t *testing.T) {
				fixtureGolden(t, name+".then.golden", figuresIn(goesOn(t, name, "then")))
			})
			if _, err := os.Stat(filepath.Join(fixtureDir, name+".drafts.txt")); errors.Is(err, fs.ErrNotExist) {
				return // no dialog is open in it
			}
			t.Run("drafts", func(t *testing.T) {
				fixtureGolden(t, name+".drafts.golden", goesOn(t, name, "drafts"))
			})
		})
	}
}

// goesOn plays a script on a file of an earlier program and gives the
// conversation; the file must verify after it.
func goesOn(t *testing.T, name, part string) string {
	t.Helper()
	file := unpacked(t, name)
	script := read(t, filepath.Join(fixtureDir, name+"."+part+".txt"))
	got := invoke(t, script, "chat", "--script", "-", "--db", file)
	if strings.Contains(got, "--- exit") {
		t.Errorf("the script does not come to its end:\n%s", tail(got))
	}
	allWell(t, file)
	return drawnLink.ReplaceAllString(withoutWords(got), "start=xxxx")
}

// drawnLink finds the code of a link, which follows from all that was drawn by lot before it.
var drawnLink = regexp.MustCompile(`start=[A-Za-z0-9_-]{22}`)

// figuresIn keeps of a conversation what managers were told when they asked for
// figures: the question and the first answer, without its buttons.
func figuresIn(conversation string) string {
	var kept strings.Builder
	asked, answers := false, 0
	for line := range strings.Lines(conversation) {
		if who, said, ok := strings.Cut(line, "> "); ok && !strings.Contains(who, " ") {
			if strings.HasPrefix(who, "bot") {
				answers++
			} else {
				word, _, _ := strings.Cut(strings.TrimSpace(said), " ")
				asked, answers = slices.Contains(figureWords, word), 0
			}
		}
		if asked && answers < 2 && !strings.HasPrefix(line, "  [") {
			kept.WriteString(line)
		}
	}
	return kept.String()
}

// figureWords are the commands that tell figures of the past.
var figureWords = []string{"day", "month", "owed", "float", "history", "export"}

// printsOf gives what the commands print of a file without a conversation.
func printsOf(t *testing.T, file string) string {
	t.Helper()
	var all strings.Builder
	for _, args := range [][]string{
		{"verify"},
		{"agenda", "--days", "1", "--at", latestIn(t, file).UTC().Format(time.RFC3339)},
		{"load"},
		{"backtest"},
		{"sheet"},
	} {
		all.WriteString("$ bot " + strings.Join(args, " ") + "\n")
		all.WriteString(invoke(t, "", append(args, "--db", file)...))
	}
	said := drawnHead.ReplaceAllString(all.String(), "head xxxx, check word xxxx-xxxx")
	return strings.ReplaceAll(said, filepath.Dir(file)+string(filepath.Separator), "")
}

// drawnHead finds the head and the word of a file, which hold salts drawn by lot
// when it was brought up to date.
var drawnHead = regexp.MustCompile(`head [0-9a-f]{64}, check word [a-z1-9]{4}-[a-z1-9]{4}`)

// allWell fails unless there are machines in a file and every one verifies.
func allWell(t *testing.T, file string) {
	t.Helper()
	said := invoke(t, "", "verify", "--db", file)
	if strings.Contains(said, "--- exit") || !strings.Contains(said, "): ok") {
		t.Errorf("verify says\n%s", said)
	}
}

// latestIn is the newest instant of which a file tells, whatever program wrote it.
func latestIn(t *testing.T, file string) time.Time {
	t.Helper()
	ms := ask(t, file, `SELECT max(coalesce((SELECT max(at) FROM inbox), 0),
		coalesce((SELECT max(recorded) FROM entry), 0))`)
	return time.UnixMilli(int64(ms)).UTC()
}

// upgraded is a file of an earlier program that this one has opened once.
func upgraded(t *testing.T, name string) string {
	t.Helper()
	file := unpacked(t, name)
	db, err := store.Open(t.Context(), file, latestIn(t, file))
	if err == nil {
		err = db.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// fixtureNames lists the files of an earlier program.
func fixtureNames(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(fixtureDir, "*.db.gz"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".db.gz")
	}
	return slices.Sorted(slices.Values(files))
}

// some gives every fourth file, all of them where more is to be tried.
func some(t *testing.T, names []string) []string {
	t.Helper()
	var list []string
	for i := 0; i < len(names); i += 4 / checks.Size(t, 1, 4, 4) {
		list = append(list, names[i])
	}
	return list
}

// inEach runs a test for each file, beside one another, and waits for all.
func inEach(t *testing.T, names []string, test func(t *testing.T, name string)) {
	t.Helper()
	t.Run("files", func(t *testing.T) {
		for _, name := range names {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				test(t, name)
			})
		}
	})
}

// unpacked writes a file of an earlier program, with the log that belongs to
// it, into a folder that is thrown away.
func unpacked(t *testing.T, name string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name+".db")
	unpack(t, name+".db", file)
	if _, err := os.Stat(filepath.Join(fixtureDir, name+".db-wal.gz")); err == nil {
		unpack(t, name+".db-wal", file+"-wal")
	}
	return file
}

func unpack(t *testing.T, name, to string) {
	t.Helper()
	packed, err := os.Open(filepath.Join(fixtureDir, name+".gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = packed.Close() }()
	z, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func fixtureGolden(t *testing.T, name, got string) {
	t.Helper()
	golden := filepath.Join(fixtureDir, name)
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := read(t, golden); got != want {
		t.Errorf("not as in %s:\n%s", golden, difference(want, got))
	}
}
