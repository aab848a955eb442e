package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/checks"
)

// builtOnce is the program as it is shipped.
var builtOnce = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "bot-")
	if err != nil {
		return "", err
	}
	binary := filepath.Join(dir, "bot")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("build: %w\n%s", err, out)
	}
	return binary, nil
})

func built(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds and starts the program")
	}
	if runtime.GOOS == "windows" {
		t.Skip("no signals")
	}
	binary, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	return binary
}

// fileAccident is something that befalls the file of a bot at work.
type fileAccident struct {
	name     string
	happens  func(path string) error
	survives bool // all that was confirmed comes out of it
}

func fileAccidents() []fileAccident {
	cut := func(to int64, end string) func(string) error {
		return func(p string) error { return os.Truncate(p+end, to) }
	}
	remove := func(end string) func(string) error { return func(p string) error { return os.Remove(p + end) } }
	return []fileAccident{
		{"file removed", remove(""), true},
		{"file moved", func(p string) error { return os.Rename(p, p+".away") }, true},
		{"old copy moved over", func(p string) error {
			return errors.Join(copyOver(p+".old", p+".new"), os.Rename(p+".new", p))
		}, true},
		{"another file copied over", func(p string) error {
			return os.WriteFile(p, bytes.Repeat([]byte("accounts of the year "), 50_000), 0o600)
		}, false},
		{"file cut to nothing", cut(0, ""), false},
		{"log removed", remove("-wal"), true},
		{"log cut to nothing", cut(0, "-wal"), false},
	}
}

func copyOver(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o600)
}

// The moments at which it happens: each leaves a person somewhere else.
var moments = []struct {
	name         string
	before, then string // what the person does, and what after it happened; empty: nothing
	on           string // what they must hear of it
}{
	{"at rest", "", "", "somebody must look at the computer"},
	{"in a dialog", "topup", "0 10 0", "Write on paper: topup, 0 10 0, as you typed"},
	{"at the button", "topup 0 10 0", "[Confirm]", "Write on paper: topup 0 10 0, as you typed"},
}

// Each accident at each moment, on the program as it is shipped: nothing is
// confirmed any more, everybody hears what to do, the program ends and says what
// is to be done; that is done, nothing that was confirmed is missing where it can
// be had, and people hear that the bot is back. With -v a table of it.
func TestAccidentsOfTheFile(t *testing.T) {
	binary := built(t)
	t.Parallel()
	total := len(fileAccidents()) * len(moments)
	for n := range checks.Size(t, 3, 9, total) {
		at := n * 8 % total // another accident at another moment each time; 8 and 21 share no factor
		a, m := fileAccidents()[at/len(moments)], at%len(moments)
		t.Run(a.name+", "+moments[m].name, func(t *testing.T) {
			t.Parallel()
			w := &wreck{t: t, binary: binary, accident: a, moment: m}
			w.play()
		})
	}
}

// wreck is one accident played.
type wreck struct {
	t        *testing.T
	binary   string
	accident fileAccident
	moment   int
	srv      *botapitest.Server
	file     string
	stderr   bytes.Buffer
}

func (w *wreck) play() {
	t, m := w.t, moments[w.moment]
	w.srv, w.file = standIn(t, owner1), seeded(t, 1)
	if err := copyOver(w.file, w.file+".old"); err != nil {
		t.Fatal(err)
	}
	bot := w.serve()
	owner := person{t, w.srv, owner1}
	owner.lives(day()[:5])
	copied := filepath.Join(t.TempDir(), "copy.db")
	w.run("backup", copied, "--db", w.file)
	owner.lives([][2]string{{"topup 0 50 0", "€1,000"}, {"[Confirm]", "Top-up recorded"}})
	if m.before != "" {
		owner.does(m.before, "top-up")
	}
	confirmed := w.entries()
	if err := w.accident.happens(w.file); err != nil {
		t.Fatal(err)
	}
	if m.then == "" {
		owner.sees(m.on)
	} else {
		owner.does(m.then, m.on)
	}
	told := owner.sees("I cannot write just now").Text
	if err := bot.Wait(); err == nil {
		t.Error("the bot ended as if all were well")
	}
	lost := confirmed - w.comesBack(copied)
	if w.accident.survives && lost != 0 || lost < 0 || lost > 1 {
		t.Errorf("%d of %d records lost", lost, confirmed)
	}
	bot = w.serve()
	owner.heard("I was started from an older copy") // what was typed in the accident may be answered after it
	if m.before == "" {                             // else something may be open, which is asked about first
		owner.does("[Enter it again]", "When did it happen?")
	}
	owner.does("history", "Last records")
	_ = bot.Process.Signal(os.Interrupt)
	if err := bot.Wait(); err != nil {
		t.Errorf("afterwards: %v\n%s", err, &w.stderr)
	}
	if n := len(w.srv.Report().Unanswered); n > 0 {
		t.Errorf("%d taps were never answered", n)
	}
	told = strings.ReplaceAll(told, "\n", " ")
	t.Logf("| %s | %s | %s | %d of %d |", w.accident.name, m.name, told, lost, confirmed)
}

// serve starts the bot.
func (w *wreck) serve() *exec.Cmd {
	w.t.Helper()
	cmd := exec.Command(w.binary, "serve", "--rate", "0", "--log-level", "warn", "--db", w.file)
	cmd.Env = append(os.Environ(), "SHOPFLOAT_TOKEN="+w.srv.Token(), "SHOPFLOAT_API_URL="+w.srv.URL())
	cmd.Stderr = &w.stderr
	if err := cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(func() { _ = cmd.Process.Kill() })
	return cmd
}

// run runs a command and gives what it says.
func (w *wreck) run(args ...string) string {
	w.t.Helper()
	out, err := exec.Command(w.binary, args...).CombinedOutput()
	if err != nil {
		w.t.Errorf("bot %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

var entriesOf = regexp.MustCompile(`entries (\d+)`)

func (w *wreck) entries() int {
	w.t.Helper()
	m := entriesOf.FindStringSubmatch(w.run("verify", "--db", w.file))
	if m == nil {
		w.t.Fatal("verify tells no entries")
	}
	n, _ := strconv.Atoi(m[1])
	return n
}

// comesBack does what the bot's last words say, with what was saved or else with
// the copy, and gives how many records there are then.
func (w *wreck) comesBack(copied string) int {
	w.t.Helper()
	from := copied
	words := w.stderr.String()
	if m := regexp.MustCompile(`saved in (\S+)\. `).FindStringSubmatch(words); m != nil {
		from = m[1]
	} else if !strings.Contains(words, "could not be saved") || w.accident.survives {
		w.t.Errorf("it does not say what to do: %s", words)
	}
	aside := filepath.Join(filepath.Dir(w.file), "aside")
	if err := os.Mkdir(aside, 0o700); err != nil {
		w.t.Fatal(err)
	}
	for _, end := range []string{"", "-wal", "-shm", ".mark", ".lock"} {
		err := os.Rename(w.file+end, filepath.Join(aside, filepath.Base(w.file)+end))
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			w.t.Fatal(err)
		}
	}
	w.run("restore", from, "--db", w.file)
	return w.entries()
}

// With a copy in the place of a newer file the bot does not start, says what can
// be done, and leaves all as it was.
func TestRefusedStart(t *testing.T) {
	binary := built(t)
	t.Parallel()
	w := &wreck{t: t, binary: binary, srv: standIn(t, owner1), file: seeded(t, 1)}
	if err := copyOver(w.file, w.file+".old"); err != nil {
		t.Fatal(err)
	}
	bot := w.serve()
	person{t, w.srv, owner1}.lives(day()[:5])
	_ = bot.Process.Kill()
	_ = bot.Wait()
	if err := errors.Join(os.Remove(w.file+"-wal"), os.Rename(w.file+".old", w.file)); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	if err := w.serve().Wait(); err == nil {
		t.Error("it started")
	}
	t.Logf("refused after %v: %s", time.Since(began), &w.stderr)
	for _, want := range []string{"lacks what was confirmed", "bot serve --as-is", "Nothing was changed"} {
		if !strings.Contains(w.stderr.String(), want) {
			t.Errorf("it does not say %q", want)
		}
	}
}
