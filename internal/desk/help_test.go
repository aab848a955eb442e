package desk_test

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/desk"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

const (
	owner  = chat.Chat("term:owner")
	staff1 = chat.Chat("term:staff1")
	staff2 = chat.Chat("term:staff2")
)

var sixOClock = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)

// office is a desk on a file with the example shop, a clock that is set by
// hand and a screen that shows what was sent.
type office struct {
	t     testing.TB
	path  string
	db    *store.DB
	desk  *desk.Desk
	clock time.Time
	keys  int
	screen
}

// empty puts a file in place that went through its migrations and holds nothing.
var empty = checks.Copies(func(path string) error {
	db, err := store.Open(context.Background(), path, sixOClock)
	if err != nil {
		return err
	}
	return db.Close()
})

func newOffice(t testing.TB) *office {
	t.Helper()
	o := &office{t: t, path: filepath.Join(t.TempDir(), "shop.db"), clock: sixOClock}
	empty(t, o.path)
	o.start()
	_, err := o.db.AddShops(o.clock, []store.NewShop{{Settings: shop.Example(),
		Accounts: map[chat.Chat]shop.PersonID{owner: 1, staff1: 2, staff2: 3}}})
	ok(t, err)
	return o
}

// closed gives the file for others to begin with.
func (o *office) closed() string {
	o.t.Helper()
	ok(o.t, o.db.Close())
	return o.path
}

// copyOffice is a new office on a copy of a file: no schema is made again.
func copyOffice(t testing.TB, file string) *office {
	t.Helper()
	o := &office{t: t, path: filepath.Join(t.TempDir(), "shop.db"), clock: sixOClock}
	copyFile(t, file, o.path)
	o.start()
	return o
}

// start opens the file, as after a stop or a kill.
func (o *office) start() {
	o.t.Helper()
	db, err := store.Open(context.Background(), o.path, o.clock)
	ok(o.t, err)
	o.t.Cleanup(func() { _ = db.Close() })
	o.db = db
	o.desk = o.deskWith(step)
}

// deskWith is a desk on the office's file with another dialog.
func (o *office) deskWith(s desk.Step) *desk.Desk {
	return desk.New(desk.Options{
		Store: o.db, Step: s, Random: rand.NewChaCha8([32]byte{}), Now: func() time.Time { return o.clock },
	})
}

func (o *office) restart() {
	o.t.Helper()
	ok(o.t, o.db.Close())
	o.start()
}

// raw makes an input with a key of its own.
func (o *office) raw(where chat.Chat, text string) desk.Raw {
	o.keys++
	return desk.Raw{Source: "test", Key: fmt.Sprint(o.keys), Hash: sha256.Sum256([]byte(text)),
		Input: chat.Input{Chat: where, Kind: chat.Text, Text: text, At: o.clock}}
}

// say takes one input and sends what follows.
func (o *office) say(where chat.Chat, text string) {
	o.t.Helper()
	o.take(o.raw(where, text))
	o.flush()
}

func (o *office) take(raws ...desk.Raw) []desk.Notice {
	o.t.Helper()
	notices, err := o.desk.Take(context.Background(), raws)
	ok(o.t, err)
	return notices
}

func (o *office) flush() {
	o.t.Helper()
	ok(o.t, o.desk.Flush(context.Background(), &o.screen))
}

// state reads a chat's dialog from the file.
func (o *office) state(where chat.Chat) chat.State {
	o.t.Helper()
	tx, err := o.db.Begin(o.clock)
	ok(o.t, err)
	defer tx.Rollback()
	s, err := tx.State(where)
	ok(o.t, err)
	return s
}

func (o *office) verify(entries int) {
	o.t.Helper()
	reports, err := o.db.Reader().Verify(context.Background())
	ok(o.t, err)
	for _, r := range reports {
		if len(r.Faults) > 0 || r.Entries != entries {
			o.t.Errorf("want %d entries, got %+v", entries, r)
		}
	}
}

// ask reads one value with plain SQL.
func (o *office) ask(query string, args ...any) (s string) {
	o.t.Helper()
	ok(o.t, plain(o.t, o.path).QueryRow(query, args...).Scan(&s))
	return s
}

func (o *office) exec(query string) {
	o.t.Helper()
	_, err := plain(o.t, o.path).Exec(query)
	ok(o.t, err)
}

func plain(t testing.TB, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=busy_timeout(5000)")
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

func ok(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// screen shows what was sent, in the order of sending.
type screen struct {
	mu    sync.Mutex
	lines []string
	outs  []desk.Out
	fail  func(desk.Out) error
	last  int64
}

// Send implements desk.Sender.
func (s *screen) Send(_ context.Context, o desk.Out) (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fail != nil {
		if err := s.fail(o); err != nil {
			return 0, err
		}
	}
	if len(o.Reply.Body) == 0 {
		return 0, nil // no message
	}
	s.outs = append(s.outs, o)
	line := fmt.Sprintf("%s %s", o.Chat, o.Reply.Body[0].Text)
	if o.MessageID != 0 {
		line += fmt.Sprintf(" *%d", o.MessageID)
	}
	if o.Retired != 0 {
		line += fmt.Sprintf(" -%d", o.Retired)
	}
	s.lines = append(s.lines, line)
	if o.MessageID != 0 {
		return o.MessageID, nil
	}
	s.last++
	return s.last, nil
}

// shown gives what was sent since it was last asked, and forgets it.
func (s *screen) shown() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	lines := s.lines
	s.lines = nil
	return lines
}

func (o *office) wantShown(want ...string) {
	o.t.Helper()
	if got := o.shown(); fmt.Sprint(got) != fmt.Sprint(want) {
		o.t.Errorf("sent %q\nwant %q", got, want)
	}
}

// step is a dialog in which every word does one thing. Rev counts the inputs
// it has seen.
func step(s chat.State, in chat.Input, f chat.Facts) (r chat.Result) {
	say := func(text string) *chat.Reply {
		r.Replies = append(r.Replies, chat.Reply{Body: []chat.Block{{Text: text}}})
		return &r.Replies[len(r.Replies)-1]
	}
	if f.Shop == nil {
		say("private")
		say("not for you").To.Managers = true
		r.Records = []books.Record{{Kind: books.Opening}}
		return r
	}
	r.State = s
	r.State.V, r.State.Rev, r.State.Last = 1, s.Rev+1, in.At
	switch in.Kind {
	case chat.Remind:
		say("due " + in.Text + " " + in.At.Format("15:04")).To.Managers = true
		say("to nobody")
		r.State = chat.State{V: chat.StateFormat, Flow: "close", Machine: 1} // nobody's
		if in.Again {
			r.Replies = nil
			r.Deadlines = []chat.Deadline{{Name: "next", At: in.At.Add(time.Hour)}}
		}
		return r
	case chat.Press:
		r.Notice = "noted " + in.Tap
	}
	word, rest, _ := strings.Cut(in.Text, " ")
	switch word {
	case "open":
		r.Records = []books.Record{
			{Kind: books.Opening, Happened: in.At, Figures: boxes(books.Loaded, 40, 150, 200)}}
	case "add":
		for range max(1, len(rest)) {
			r.Records = append(r.Records, books.Record{Kind: books.TopUp, Period: f.Machine.Open,
				Happened: in.At, Figures: boxes(books.Added, 0, 10, 0)})
		}
	case "bad":
		r.Records = []books.Record{
			{Kind: books.Opening, Happened: in.At, Figures: boxes(books.Loaded, 1, 1, 1)},
			{Kind: books.Close, Period: 1, Happened: in.At},
		}
		say("recorded")
	case "panic":
		panic("a fault planted in the dialog")
	case "card":
		r.State.Flow, r.State.Machine, r.State.Since = rest, 1, in.At
		say("card " + rest).Key = "card"
		return r
	case "edit":
		say("edit " + rest).Edit = "card"
		return r
	case "retire":
		reply := say("new card")
		reply.Key, reply.Retire = "card", "card"
		return r
	case "tell":
		say("managers " + rest).To.Managers = true
		say("person " + rest).To.Person = 3
		say("nobody " + rest).To.Person = 77
	case "at":
		d, err := time.ParseDuration(rest)
		if err != nil {
			panic(err)
		}
		r.Deadlines = []chat.Deadline{{Name: "call", At: in.At.Add(d)}}
	case "drop":
		r.Deadlines = []chat.Deadline{{Name: "call"}}
	case "freeze":
		r.Freeze = 2 // staff1
	case "over":
		r.TakeOver = chat.Chat(rest)
	case "others":
		for _, a := range f.Others {
			say(fmt.Sprintf("%s does %s", a.Chat, a.Flow))
		}
	}
	say(in.Text + "!")
	return r
}

func boxes(field books.Field, notes ...int64) []books.Figure {
	var list []books.Figure
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		list = append(list, books.Figure{Field: field, Box: i + 1, Face: face, Notes: notes[i]})
	}
	return list
}

// commits counts the commits in a write-ahead log: its frames that give a size
// of the database (https://sqlite.org/fileformat2.html, 4.1: bytes 4 to 7 of a
// frame header, "for commit records, the size of the database file in pages
// after the commit"). Each is followed by one fsync under synchronous FULL.
func commits(t testing.TB, path string) (n int) {
	t.Helper()
	wal, err := os.ReadFile(path + "-wal")
	ok(t, err)
	page := int(binary.BigEndian.Uint32(wal[8:]))
	salt := string(wal[16:24])
	for at := 32; at+24+page <= len(wal); at += 24 + page {
		if string(wal[at+8:at+16]) != salt {
			break // frames of an earlier round
		}
		if binary.BigEndian.Uint32(wal[at+4:]) != 0 {
			n++
		}
	}
	return n
}

type dialogsChat = chat.Chat

func copyFile(t testing.TB, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	ok(t, err)
	ok(t, os.WriteFile(to, data, 0o600))
}

// handled lives one life in which the step of an input ends the program, and
// says whether it came to that. The file is what a kill leaves.
func (o *office) handled(t testing.TB, deadly, next desk.Raw) (begun bool) {
	t.Helper()
	dir := t.TempDir()
	ok(t, o.db.Close())
	o.start()
	kill := func(s chat.State, in chat.Input, f chat.Facts) chat.Result {
		if in.Chat == deadly.Input.Chat && !begun {
			begun = true
			for _, end := range []string{"", "-wal"} {
				copyFile(t, o.path+end, dir+"/shop.db"+end)
			}
		}
		return step(s, in, f)
	}
	_, err := o.deskWith(kill).Take(context.Background(), []desk.Raw{deadly, next})
	ok(t, err)
	if begun {
		ok(t, o.db.Close())
		o.path = dir + "/shop.db"
		o.start()
	}
	return begun
}
