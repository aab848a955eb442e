package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// A second run on the same file goes on where the first one stopped: the clock,
// the records and the half-finished dialog.
func TestChatScriptGoesOnInTheFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.db")
	first := invoke(t, "@as staff1\n@2026-11-25 06:40\nopen 40 150 200", "chat", "--script", "-", "--db", file)
	if !strings.HasSuffix(first, "[More]\n") {
		t.Fatalf("no card at the end of\n%s", first)
	}
	second := invoke(t, "@as staff1\n[Confirm]\nstatus", "chat", "--script", "-", "--db", file)
	for _, want := range []string{"Back to opening", "Nov recorded, 06:40", "open, since 06:40"} {
		if !strings.Contains(second, want) {
			t.Errorf("%q is missing in\n%s", want, second)
		}
	}
	third := invoke(t, "status\n[Confirm]~", "chat", "--script", "-", "--db", file, "--as", "staff1")
	if want := "--- exit 2\nline 2: "; !strings.Contains(third, want) || strings.Contains(third, "Back to") {
		t.Errorf("want %q and no card in\n%s", want, third)
	}
}

func TestChatScriptIsTheSameEveryTime(t *testing.T) {
	t.Parallel()
	if first, second := invoke(t, "", "demo"), invoke(t, "", "demo"); first != second {
		t.Errorf("two runs differ:\n%s", difference(first, second))
	}
}

// The demonstration shows the main moments of a day.
func TestDemo(t *testing.T) {
	t.Parallel()
	got := invoke(t, "", "demo")
	for _, want := range []string{
		"Did you mean money?", "Nov recorded, 06:40", "will be empty", "bot*> Top-up recorded",
		"Borrowed for change", "1 missing", "bot@owner> Closing", "Everything is done",
	} {
		before, rest, found := strings.Cut(got, want)
		if !found {
			t.Fatalf("%q is missing, or stands too early, in\n%s", want, before)
		}
		got = rest
	}
	if strings.Contains(got, "--- exit") {
		t.Error(got)
	}
}

func TestChatPiped(t *testing.T) {
	t.Setenv("SHOPFLOAT_TOKEN", "")
	t.Setenv("SHOPFLOAT_DB", filepath.Join(t.TempDir(), "shop.db"))
	first := invoke(t, "open 40 150 200\n[c]\n[zzz]\n[\n@2026-01-05 08:00\n@as nobody\nhello")
	for _, want := range []string{
		"owner> open 40 150 200\nbot> Opening", "owner> [Confirm]\nbot*> Opening of ",
		`no button that begins with "zzz"`,
		"[Label]", "the clock runs by itself", "nobody> hello\nbot> ",
	} {
		if !strings.Contains(first, want) {
			t.Errorf("%q is missing in\n%s", want, first)
		}
	}
	if strings.Contains(first, "--- exit") || strings.Contains(first, "\x1b") {
		t.Errorf("want exit 0 and no colour:\n%s", first)
	}
	if second := invoke(t, "status"); !strings.Contains(second, "The machine is open") {
		t.Errorf("the opening is not kept:\n%s", second)
	}
}

// The first screen says who speaks and what to try; somebody who is nobody here is told who is.
// A file that is sent lies beside the database, and the chat says where; another one of its name
// does not replace it.
func TestChatOfANewcomer(t *testing.T) {
	t.Setenv("SHOPFLOAT_TOKEN", "")
	file := filepath.Join(t.TempDir(), "shop.db")
	t.Setenv("SHOPFLOAT_DB", file)
	got := invoke(t, "@as bob\n@as staff1\nopen 40 150 200\n[c]\n@as owner\nexport\nexport\n"+
		"picture\n[Levels]\nmove bank 20x5\n[Confirm]\nexport")
	for _, want := range []string{"You are Ada, owner of an example shop.",
		"Three things to try:\n    open 40 150 200",
		"(Nobody here is called bob yet. Known here: owner (Ada, owner), staff1 (Ben, staff), staff2",
		"(You are Ben now, staff of Example corner shop.)", ".csv, written to " + file + ".files",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	written := regexp.MustCompile(`written to ([^)]+)\)`).FindAllStringSubmatch(got, -1)
	if len(written) < 3 || written[0][1] != written[1][1] {
		t.Fatalf("written to %v:\n%s", written, got)
	}
	for _, w := range written {
		if data, err := os.ReadFile(w[1]); err != nil || len(data) < 50 {
			t.Errorf("%s: %d bytes, %v", w[1], len(data), err)
		}
	}
	got = invoke(t, "", "chat", "--db", filepath.Join(t.TempDir(), "none.db"), "--empty")
	if !strings.Contains(got, "There is no shop here yet. Type @start last") {
		t.Errorf("an empty file:\n%s", got)
	}
}

// What a chat writes holds together.
func TestChatVerifies(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.db")
	if got := invoke(t, demoScript, "chat", "--script", "-", "--db", file); strings.Contains(got, "--- exit") {
		t.Fatal(got)
	}
	if got := invoke(t, "", "verify", "--db", file); !strings.HasPrefix(got, "machine 1 (shop 1): ok") {
		t.Error(got)
	}
}

func TestChatErrInUse(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.db")
	e := &env{ctx: t.Context(), stdout: &strings.Builder{}, stderr: &strings.Builder{}}
	start := time.Date(2026, time.January, 5, 8, 0, 0, 0, time.UTC)
	f, err := prepare(t.Context(), file, start, lots("people"), false)
	if err != nil {
		t.Fatal(err)
	}
	talk, err := newTalk(e, f, func() time.Time { return start }, lots("run"))
	if err != nil {
		t.Fatal(err)
	}
	holder, err := talk.Open(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = holder.Close() }()
	got := invoke(t, "status", "chat", "--db", file)
	if want := "--- exit 1\n" + file + ": another shopfloat is using this file"; !strings.HasPrefix(got, want) {
		t.Errorf("want %q, got\n%s", want, got)
	}
}

func TestChatErrMisuse(t *testing.T) {
	for _, args := range [][]string{
		{"chat", "--script", filepath.Join(t.TempDir(), "none.txt")},
		{"chat", "--as", "Staff One"},
		{"chat", "--as", ""},
	} {
		if got := invoke(t, "", args...); !strings.Contains(got, "--- exit 2\n") {
			t.Errorf("%q: want exit 2, got\n%s", args, got)
		}
	}
}

func TestSheet(t *testing.T) {
	got := invoke(t, "", "sheet")
	if !strings.Contains(got, "OPENING") || !strings.HasSuffix(got, "Time ________\n") {
		t.Errorf("not a form:\n%s", got)
	}
}
