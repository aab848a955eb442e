package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

var morning = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)

const owner = chat.Chat("term:owner")

// empty puts a file in place that went through its migrations and holds nothing.
var empty = checks.Copies(func(path string) error {
	db, err := store.Open(context.Background(), path, morning)
	if err != nil {
		return err
	}
	return db.Close()
})

// open makes a file with one example shop and gives the writer and its path.
func open(t testing.TB) (*store.DB, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	empty(t, path)
	return openAt(t, path), path
}

// openAt opens a file without shops, or makes one, and puts the example shop into it.
func openAt(t testing.TB, path string) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	_, err = db.AddShops(morning, []store.NewShop{{
		Settings: shop.Example(),
		Accounts: map[chat.Chat]shop.PersonID{owner: 1, "term:staff1": 2, "term:staff2": 3},
	}})
	ok(t, err)
	return db
}

func ok(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// plain opens a file as any other program would.
func plain(t testing.TB, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=busy_timeout(5000)")
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// ledger writes records into machine 1, one transaction and one cause each.
type ledger struct {
	t     testing.TB
	db    *store.DB
	now   time.Time
	cause int64
	rand  *rand.Rand

	settings int64 // version in force
}

func newLedger(t testing.TB, db *store.DB) *ledger {
	return &ledger{t: t, db: db, now: morning, rand: rand.New(rand.NewPCG(1, 2)), settings: 1}
}

func (l *ledger) salt() ([]byte, error) {
	return bytes.Repeat([]byte{byte(l.rand.Uint32()) | 1}, 16), nil
}

// try posts a record and says whether the books took it.
func (l *ledger) try(r books.Record) error {
	l.t.Helper()
	l.now = l.now.Add(time.Minute)
	l.cause++
	if r.Happened.IsZero() {
		r.Happened = l.now
	}
	tx, err := l.db.Begin(l.now)
	ok(l.t, err)
	err = tx.Try(func() error {
		return tx.Post(1, store.By{Person: 1, Settings: l.settings, Cause: l.cause}, r, l.salt)
	})
	ok(l.t, tx.Commit())
	return err
}

func (l *ledger) post(records ...books.Record) {
	l.t.Helper()
	for _, r := range records {
		if err := l.try(r); err != nil {
			l.t.Fatalf("%s: %v", r.Kind, err)
		}
	}
}

func (l *ledger) books() *books.Machine {
	l.t.Helper()
	tx, err := l.db.Begin(l.now)
	ok(l.t, err)
	defer tx.Rollback()
	m, _, err := tx.Machine(1)
	ok(l.t, err)
	return m
}

func boxes(field books.Field, notes ...int64) []books.Figure {
	var list []books.Figure
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		list = append(list, books.Figure{Field: field, Box: i + 1, Face: face, Notes: notes[i]})
	}
	return list
}

func printed(field books.Field, notes ...int64) []books.Figure {
	list := boxes(field, notes...)
	for i := range list {
		list[i].Box = 0
	}
	return list
}

// day is a whole trading day of the example shop, with words, a photo and an undo.
func day() []books.Record {
	return []books.Record{
		{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200), Ticks: []string{"safe"}},
		{Kind: books.Checks, Period: 1, Ticks: []string{"safe"}},
		{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 0, 50, 0)},
		{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 5, 0, 0)},
		{Kind: books.Undo, Period: 1, Target: 4},
		{Kind: books.Level, Period: 1, Figures: boxes(books.Shown, 30, 120, 100)},
		{Kind: books.Count, Period: 1, Figures: append(boxes(books.Remaining, 30, 108, 80),
			books.Figure{Field: books.Refused, Face: "20", Notes: 3}),
			Words: "counted in the back room", Photos: []books.Photo{{ID: "file-1", Unique: "one"}}},
		{Kind: books.Settlement, Period: 1, Due: decimal.NewFromInt(3460), Figures: append(
			printed(books.PaidOut, 10, 90, 120), books.Figure{Field: books.Cancelled, Face: "20", Notes: 2})},
		{Kind: books.Close, Period: 1, Where: books.Cash},
	}
}

func verify(t testing.TB, path string) []store.MachineReport {
	t.Helper()
	r, err := store.OpenReader(context.Background(), path)
	ok(t, err)
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(context.Background())
	ok(t, err)
	return reports
}
