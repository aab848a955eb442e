//go:build linux

package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

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
	fine         string // what they hear where the bot goes on
}{
	{"at rest", "", "", "somebody must look at the computer", ""},
	{"within a count", "topup", "0 10 0", "Write on paper: topup, 0 10 0, as you typed", "Please check"},
	{"between commit and answer", "topup 0 10 0", "history", "Write on paper: history, as you typed",
		"Last records"},
}

// accidentsPage is the document that tells how each accident goes.
const accidentsPage = "../../docs/ACCIDENTS.md"

// Each accident at each moment, on the program as it is shipped, see builtOnce: nothing is
// confirmed any more, everybody hears what to do, the program ends and says what
// is to be done; that is done, nothing that was confirmed is missing where it can
// be had, and people hear that the bot is back. What each play came to stands in the
// document; -update writes it anew when all are played.
func TestAccidentsOfTheFile(t *testing.T) {
	binary := built(t)
	t.Parallel()
	list := fileAccidents()
	total := len(list) * len(moments)
	n := checks.Size(t, 4, 12, total)
	page := newPage(t, n == total)
	for i := range n {
		at := i * 19 % total // another accident at another moment each time
		a, m := list[at/len(moments)], at%len(moments)
		t.Run(a.name+", "+moments[m].name, func(t *testing.T) {
			t.Parallel()
			w := &wreck{t: t, binary: binary, accident: a, moment: m}
			page.says(t, at, w.play(), a.loses)
		})
	}
}

// page is the document, as it is and as the plays make it.
type page struct {
	mu   sync.Mutex
	text string
	rows []string
}

func newPage(t *testing.T, whole bool) *page {
	t.Helper()
	data, err := os.ReadFile(accidentsPage)
	if err != nil {
		t.Fatal(err)
	}
	p := &page{text: string(data), rows: make([]string, len(fileAccidents())*len(moments))}
	if *update && whole {
		t.Cleanup(func() {
			head, _, _ := strings.Cut(p.text, "|---")
			text := head + "|---|---|---|---|---|\n" + strings.Join(p.rows, "")
			if err := os.WriteFile(accidentsPage, []byte(text), 0o600); err != nil {
				t.Error(err)
			}
		})
	}
	return p
}

// How much of what is lost was in the log, and how that is found, is a matter of the moment.
var (
	isHurt = regexp.MustCompile(`it (?:is damaged|cannot be read)`)
	isLost = regexp.MustCompile(`[0-2] of `)
)

// says holds a row against the document.
func (p *page) says(t *testing.T, at int, row string, loses bool) {
	t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.rows[at] = row
	want := regexp.QuoteMeta(row)
	if loses {
		want = isHurt.ReplaceAllLiteralString(want, isHurt.String())
		want = isLost.ReplaceAllLiteralString(want, isLost.String())
	}
	if !*update && !regexp.MustCompile(want).MatchString(p.text) {
		t.Errorf("%s does not say\n%s", accidentsPage, row)
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
	copied   string
	bot      *exec.Cmd
	owner    person
	stderr   bytes.Buffer
	lost     int64 // number of the message that tells of what the copy does not have
}

// play gives the row of the document.
func (w *wreck) play() string {
	t, m := w.t, moments[w.moment]
	w.srv, w.file = standIn(t, owner1), seeded(t, 1)
	w.owner = person{t, w.srv, owner1}
	if err := errors.Join(copyOver(w.file, w.file+".old"), grown(w.file), w.belongs()); err != nil {
		t.Fatal(err)
	}
	w.serve()
	w.owner.lives(day()[:5])
	w.copied = filepath.Join(filepath.Dir(w.file), "copies.db")
	w.run("backup", w.copied, "--db", w.file)
	w.owner.lives([][2]string{{"topup 0 50 0", "€1,000"}, {"[Confirm]", "Top-up recorded"}})
	w.lost = int64(w.owner.sees("Top-up recorded").ID)
	answered := w.reaches()
	confirmed := w.entries()
	if w.accident.dead {
		_ = w.bot.Process.Kill()
		_ = w.bot.Wait()
	}
	if err := w.accident.happens(w); err != nil {
		t.Fatal(err)
	}
	answered()
	var told string
	var after int
	switch w.accident.ends {
	case stops:
		told, after = w.stopped()
	case refuses:
		told, after = w.refused()
	default:
		told, after = w.goneOn()
	}
	lost := confirmed - after
	if lost < 0 || lost > 2 || lost != 0 && !w.accident.loses {
		t.Errorf("%d of %d records lost", lost, confirmed)
	}
	_ = w.bot.Process.Signal(os.Interrupt)
	if err := w.bot.Wait(); err != nil {
		t.Errorf("afterwards: %v\n%s", err, &w.stderr)
	}
	if n := len(w.srv.Report().Unanswered); n > 0 && !w.accident.dead {
		t.Errorf("%d taps were never answered", n)
	}
	told = clockOf.ReplaceAllString(strings.ReplaceAll(told, "\n", " "), "14:32")
	return fmt.Sprintf("| %s | %s | %s | %s | %d of %d |\n", w.accident.name, m.name, told, w.accident.ends,
		lost, confirmed)
}

var clockOf = regexp.MustCompile(`\b\d\d:\d\d\b`)

// reaches goes on to the moment at which it happens. What it gives lets the answer out
// that is on its way then.
func (w *wreck) reaches() (answered func()) {
	m := moments[w.moment]
	switch w.moment {
	case 1:
		w.owner.does(m.before, "top-up")
	case 2:
		w.owner.does(m.before, "€200")
		release, held := make(chan struct{}), make(chan struct{})
		w.srv.Inject(botapitest.Fault{Kind: botapitest.Slow, Method: "editMessageText", Chat: owner1,
			Wait: func(ctx context.Context) {
				close(held)
				select {
				case <-release:
				case <-ctx.Done():
				}
			}})
		w.owner.tap("Confirm")
		<-held // what is sent is committed
		return func() { close(release) }
	}
	return func() {}
}

// stopped is how it goes where the bot ends by itself: what people heard, and how many
// records there are after what its last words say was done.
func (w *wreck) stopped() (told string, entries int) {
	w.t.Helper()
	if m := moments[w.moment]; m.then == "" {
		w.owner.sees(m.on)
	} else {
		w.owner.does(m.then, m.on)
	}
	told = w.owner.sees("I cannot write just now").Text
	if err := w.waits(); err == nil {
		w.t.Error("the bot ended as if all were well")
	}
	from, words := w.copied, w.stderr.String()
	if m := regexp.MustCompile(`saved in (\S+)\. `).FindStringSubmatch(words); m != nil {
		from = m[1]
	} else if !strings.Contains(words, "could not be saved") || !w.accident.loses {
		w.t.Errorf("it does not say what to do: %s", words)
	}
	return told, w.comesBack(from)
}

// refused is how it goes where the bot is not started on what lies there.
func (w *wreck) refused() (told string, entries int) {
	w.t.Helper()
	w.serve()
	if err := w.waits(); err == nil {
		w.t.Error("it started")
	}
	if !strings.Contains(w.stderr.String(), "Nothing was changed") {
		w.t.Errorf("it does not say what to do: %s", &w.stderr)
	}
	return "nothing while the bot is down", w.comesBack(w.copied)
}

// comesBack puts a file in the place of what is there, starts the bot on it, and sees that
// people hear of it and can enter again what is missing.
func (w *wreck) comesBack(from string) (entries int) {
	w.t.Helper()
	aside := filepath.Join(filepath.Dir(w.file), "aside")
	if err := os.Mkdir(aside, 0o700); err != nil {
		w.t.Fatal(err)
	}
	for _, end := range []string{"", "-wal", "-shm", "-journal", ".mark", ".lock"} {
		err := os.Rename(w.file+end, filepath.Join(aside, filepath.Base(w.file)+end))
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			w.t.Fatal(err)
		}
	}
	w.run("restore", from, "--db", w.file)
	entries = w.entries()
	w.serve()
	w.owner.heard("I was started from an older copy") // what was typed in the accident may be answered after it
	switch {
	case w.moment != 0: // something may be open, which is asked about first
	case from == w.copied:
		w.srv.SendReply(owner1, int(w.lost), "?")
		w.owner.sees("not on record any more")
		w.owner.does("[Enter it again]", time.Now().Format("2 Jan")) // the opening may be of the same minute
	default:
		w.owner.does("[Enter it again]", "When did it happen?")
	}
	w.owner.asks("history", "Last records")
	return entries
}

// goneOn is how it goes where the bot goes on, perhaps after the fault was mended.
func (w *wreck) goneOn() (told string, entries int) {
	w.t.Helper()
	m := moments[w.moment]
	then, fine := cmp.Or(m.then, "history"), cmp.Or(m.fine, "Last records")
	if w.accident.dead {
		if w.accident.mends != nil {
			w.mended()
		}
		w.serve()
	}
	if w.accident.ends == waits {
		told = w.owner.does(then, "I cannot write just now").Text
		w.mended()
		w.owner.heard("I am back")
		w.owner.does("history", "Last records")
	} else {
		told = w.owner.does(then, fine).Text
		told, _, _ = strings.Cut(told, "\n")
	}
	_ = w.bot.Process.Signal(os.Interrupt)
	if err := w.bot.Wait(); err != nil {
		w.t.Errorf("at the end: %v\n%s", err, &w.stderr)
	}
	if err := errors.Join(os.Chmod(filepath.Dir(w.file), 0o755), os.Chmod(w.file, 0o600)); err != nil {
		w.t.Fatal(err)
	}
	if w.accident.ends == carriesOn && w.accident.mends != nil {
		w.mended()
	}
	entries = w.entries()
	w.serve()
	w.owner.does("agenda", "due")
	return told, entries
}

func (w *wreck) mended() {
	w.t.Helper()
	if err := w.accident.mends(w); err != nil {
		w.t.Fatal(err)
	}
}

// nobody is somebody without any rights of their own.
const nobody = 65534

// belongs gives the files to nobody, where their rights are to mean something.
func (w *wreck) belongs() error {
	if !w.accident.user || os.Getuid() != 0 {
		return nil
	}
	folder := filepath.Dir(w.file)
	list, err := filepath.Glob(w.file + "*")
	err = errors.Join(err, os.Chown(folder, nobody, nobody), os.Chmod(filepath.Dir(folder), 0o755))
	for _, name := range list {
		err = errors.Join(err, os.Chown(name, nobody, nobody))
	}
	return err
}

// command is the program, run by whom the files belong to.
func (w *wreck) command(args ...string) *exec.Cmd {
	cmd := exec.Command(w.binary, args...)
	if w.accident.user && os.Getuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	return cmd
}

// serve starts the bot.
func (w *wreck) serve() {
	w.t.Helper()
	cmd := w.command("serve", "--rate", "0", "--log-level", "warn", "--db", w.file)
	cmd.Env = append(os.Environ(), "SHOPFLOAT_TOKEN="+w.srv.Token(), "SHOPFLOAT_API_URL="+w.srv.URL())
	w.stderr.Reset()
	cmd.Stderr = &w.stderr
	if err := cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(func() { _ = cmd.Process.Kill() })
	w.bot = cmd
}

// grow writes something into a file.
func grow(db *store.DB) error {
	for n := range 600 {
		tx, err := db.Begin(time.Now())
		if err != nil {
			return err
		}
		_, _, err = tx.Handled(store.Arrival{Source: "before", Key: strconv.Itoa(n)})
		if err = errors.Join(err, tx.Commit()); err != nil {
			return err
		}
	}
	return nil
}

// grown makes a file differ from an older copy, in itself and not in its log alone.
func grown(path string) error {
	db, err := store.Open(context.Background(), path, time.Now())
	if err != nil {
		return err
	}
	return errors.Join(grow(db), db.Close())
}

// other is the file of another shop, as a bot at work leaves it, with its log and mark.
func (w *wreck) other() string {
	w.t.Helper()
	folder := w.t.TempDir()
	from, script := filepath.Join(folder, "other.db"), filepath.Join(folder, "script")
	if err := os.WriteFile(script, []byte("@as staff1\nopen 40 150 200\n[Confirm]\n"), 0o600); err != nil {
		w.t.Fatal(err)
	}
	w.run("chat", "--db", from, "--script", script)
	to := filepath.Join(filepath.Dir(w.file), "other.db")
	db, err := store.Open(w.t.Context(), from, time.Now())
	if err == nil {
		err = grow(db)
	}
	if err != nil {
		w.t.Fatal(err)
	}
	err = errors.Join(copyOver(from, to), copyOver(from+"-wal", to+"-wal"), copyOver(from+".mark", to+".mark"))
	if err = errors.Join(err, db.Close()); err != nil {
		w.t.Fatal(err)
	}
	return to
}

// waits waits until the bot ends; one that does not is killed.
func (w *wreck) waits() error {
	bot := w.bot.Process
	defer time.AfterFunc(patience, func() { _ = bot.Kill(); w.t.Error("it goes on") }).Stop()
	return w.bot.Wait()
}

// run runs a command and gives what it says.
func (w *wreck) run(args ...string) string {
	w.t.Helper()
	out, err := w.command(args...).CombinedOutput()
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

// With a copy in the place of a newer file the bot does not start, says what can
// be done, and leaves all as it was.
func TestRefusedStart(t *testing.T) {
	binary := built(t)
	t.Parallel()
	w := &wreck{t: t, binary: binary, srv: standIn(t, owner1), file: seeded(t, 1)}
	if err := copyOver(w.file, w.file+".old"); err != nil {
		t.Fatal(err)
	}
	w.serve()
	person{t, w.srv, owner1}.lives(day()[:5])
	_ = w.bot.Process.Kill()
	_ = w.bot.Wait()
	if err := errors.Join(os.Remove(w.file+"-wal"), os.Rename(w.file+".old", w.file)); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	w.serve()
	if err := w.bot.Wait(); err == nil {
		t.Error("it started")
	}
	t.Logf("refused after %v: %s", time.Since(began), &w.stderr)
	for _, want := range []string{"lacks what was confirmed", "bot serve --as-is", "Nothing was changed"} {
		if !strings.Contains(w.stderr.String(), want) {
			t.Errorf("it does not say %q", want)
		}
	}
}
