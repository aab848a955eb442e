package store_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

func TestTry(t *testing.T) {
	db, _ := open(t)
	tx, err := db.Begin(morning)
	ok(t, err)
	save := func(rev int) error { return tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Rev: rev}) }
	planted := errors.New("planted")
	ok(t, tx.Try(func() error { return save(1) }))
	if err := tx.Try(func() error { return errors.Join(save(2), planted) }); !errors.Is(err, planted) {
		t.Errorf("error %v", err)
	}
	err = tx.Try(func() error {
		ok(t, tx.Try(func() error { return save(3) }))
		panic("planted")
	})
	var p *store.Panic
	if !errors.As(err, &p) || p.Value != "planted" || !strings.Contains(string(p.Stack), "TestTry") {
		t.Errorf("error %v", err)
	}
	ok(t, tx.Commit())
	if got := stateOf(t, db).Rev; got != 1 {
		t.Errorf("state %d is kept", got)
	}
}

// A transaction that is gone is never taken for one that goes on.
func TestTryLost(t *testing.T) {
	db, path := open(t)
	_, err := plain(t, path).Exec(`CREATE TRIGGER lost BEFORE INSERT ON chat WHEN NEW.flow = 'x'
		BEGIN SELECT RAISE(ROLLBACK, 'gone'); END`)
	ok(t, err)
	tx, err := db.Begin(morning)
	ok(t, err)
	ok(t, tx.Try(func() error { return tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Rev: 1}) }))
	err = tx.Try(func() error {
		return tx.SaveState("term:staff1", 2, chat.State{V: chat.StateFormat, Flow: "x", Works: true})
	})
	if !errors.Is(err, store.ErrLost) {
		t.Fatalf("error %v", err)
	}
	tx.Rollback()
	ok(t, db.Reopen())
	if got := stateOf(t, db).Rev; got != 0 {
		t.Errorf("state %d is kept", got)
	}
}

func stateOf(t *testing.T, db *store.DB) chat.State {
	t.Helper()
	tx, err := db.Begin(morning)
	ok(t, err)
	defer tx.Rollback()
	s, err := tx.State(owner)
	ok(t, err)
	return s
}

// A dialog that cannot be read any more is told from a new one.
func TestUnreadableState(t *testing.T) {
	db, path := open(t)
	if s := stateOf(t, db); s.V != 0 {
		t.Errorf("a new chat has format %d", s.V)
	}
	_, err := plain(t, path).Exec("INSERT INTO chat (chat, state) VALUES (?, '{\"rev\": \"seven\"}')", owner)
	ok(t, err)
	if s := stateOf(t, db); s.V != -1 || s.Rev != 0 {
		t.Errorf("state %+v", s)
	}
}

// Emptying the log waits for nobody: a reader may be at work for long.
func TestTruncateBesideReader(t *testing.T) {
	db, path := open(t)
	other := plain(t, path)
	reading, err := other.Begin()
	ok(t, err)
	var n int
	ok(t, reading.QueryRow("SELECT count(*) FROM entry").Scan(&n))
	newLedger(t, db).post(day()...)
	if done, err := db.Truncate(); done || err != nil {
		t.Errorf("beside a reader: done %t, %v", done, err)
	}
	ok(t, reading.Rollback())
	if done, err := db.Truncate(); !done || err != nil {
		t.Errorf("after it: done %t, %v", done, err)
	}
	if info, err := os.Stat(path + "-wal"); err != nil || info.Size() != 0 {
		t.Errorf("the log: %d bytes, %v", info.Size(), err)
	}
	ok(t, db.Set(context.Background(), "user_version", "0")) // the settings are as they were
}

func TestSeed(t *testing.T) {
	db, path := open(t)
	ctx := context.Background()
	ok(
		t,
		db.Seed(
			ctx,
			rand.Reader,
			morning,
			[]store.ExampleAccounts{{Owner: "tg:1"}, {Staff1: "tg:2", Staff2: "tg:3"}},
		),
	)
	tx, err := db.Begin(morning)
	ok(t, err)
	for where, want := range map[chat.Chat]struct {
		shop shop.ID
		name string
		role shop.Role
	}{"tg:1": {2, "Ada", shop.Owner}, "tg:2": {3, "Ben", shop.Staff}, "tg:3": {3, "Cleo", shop.Staff}} {
		a, err := tx.Account(where)
		ok(t, err)
		s, err := tx.Shop(a.Shop)
		ok(t, err)
		p, found := s.Person(a.Person)
		if !found || a.Shop != want.shop || p.Name != want.name || p.Role != want.role {
			t.Errorf("%s: %+v, %+v", where, a, p)
		}
		if a.Person < 1000 || a.Person >= 1<<53 {
			t.Errorf("person %d is no random number", a.Person)
		}
	}
	tx.Rollback()
	if err := db.Seed(ctx, rand.Reader, morning, []store.ExampleAccounts{{Owner: "tg:4"},
		{Owner: "tg:1"}}); err == nil {
		t.Error("an account was taken for a second shop")
	}
	if err := db.Seed(ctx, bytes.NewReader(nil), morning, []store.ExampleAccounts{{}}); err == nil {
		t.Error("people without random numbers")
	}
	if n := len(verify(t, path)); n != 3 {
		t.Errorf("%d machines", n)
	}
}

// Words and photos are in the file once, and nowhere else.
func TestWordsStandApart(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	var n int
	ok(
		t,
		plain(
			t,
			path,
		).QueryRow(`SELECT (SELECT count(*) FROM entry WHERE body LIKE '%back room%' OR body LIKE '%file-1%')
		+ (SELECT count(*) FROM machine WHERE body LIKE '%back room%' OR body LIKE '%file-1%')`).
			Scan(&n),
	)
	if n != 0 {
		t.Errorf("%d rows beside the attachments tell them", n)
	}
}

// A record's time is the same after it is read back, whatever zone and
// precision it came in.
func TestTimesAreTidy(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	zone := time.FixedZone("", 3600)
	at := time.Date(2026, 1, 5, 7, 0, 0, 123_456_789, zone)
	l.post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 1, 2, 3), Happened: at,
		Amounts: []books.Amount{}, Marks: []books.Mark{}, Ticks: []string{}})
	p := l.books().Periods[0]
	if got := p.Opened.Format(time.RFC3339Nano); got != "2026-01-05T06:00:00.123Z" {
		t.Errorf("opened %s", got)
	}
	if faults := verify(t, path)[0].Faults; len(faults) > 0 {
		t.Errorf("faults: %q", faults)
	}
}
