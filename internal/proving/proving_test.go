package proving_test

import (
	"context"
	"database/sql"
	"errors"
	"io"
	"log/slog"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/proving"
	"shopfloat/internal/store"
)

var (
	ctx     = context.Background()
	morning = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)
)

func TestMain(m *testing.M) { os.Exit(checks.FilesInMemory(m)) }

func ok(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// opened is a file with two example shops, the first of which has opened.
func opened(t *testing.T) (*store.DB, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(ctx, path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	ok(t, db.Seed(ctx, rand.NewChaCha8([32]byte{1}), morning,
		[]store.ExampleAccounts{{Owner: "tg:1000001"}, {Owner: "tg:1000002"}}))
	tx, err := db.Begin(morning)
	ok(t, err)
	r := books.Record{Kind: books.Opening, Happened: morning}
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		r.Figures = append(r.Figures, books.Figure{Field: books.Loaded, Box: i + 1, Face: face, Notes: 40})
	}
	ok(t, tx.Post(1, store.By{Person: 1, Settings: 1, Cause: 1}, r, nil))
	ok(t, tx.Commit())
	return db, path
}

// tamper changes the file from outside.
func tamper(t *testing.T, path, sql string) {
	t.Helper()
	other := plain(t, path)
	_, err := other.Exec(sql)
	ok(t, errors.Join(err, other.Close()))
}

func plain(t *testing.T, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	ok(t, err)
	return db
}

// What is found is told at once and once, to the shop it is about; when it is
// mended and comes again it is told again, and when it could not be told as well.
func TestNight(t *testing.T) {
	db, path := opened(t)
	var told []string
	var fails error
	n := &proving.Night{Reader: db.Reader(), Log: slog.New(slog.NewTextHandler(io.Discard, nil)),
		Tell: func(_ context.Context, r store.MachineReport) error {
			told = append(told, r.Faults[0])
			if r.Shop != 1 {
				t.Errorf("told shop %d", r.Shop)
			}
			return fails
		}}
	if n.Proved(1) != nil {
		t.Error("something is known before anybody looked")
	}
	look := func(day, tellings, faults int) {
		t.Helper()
		told = nil
		now := morning.AddDate(0, 0, day)
		n.Look(ctx, now)
		p := n.Proved(1)
		if len(told) != tellings || p == nil || p.Faults != faults || !p.At.Equal(now) || n.Faults() != faults {
			t.Errorf("day %d: told %q, %+v; want %d tellings, %d faults", day, told, p, tellings, faults)
		}
		if other := n.Proved(2); other.Faults != 0 || other.Entries != 0 {
			t.Errorf("day %d: the other shop hears of %+v", day, other)
		}
	}
	look(0, 0, 0)
	if n.Proved(1).Entries != 1 {
		t.Errorf("%+v", n.Proved(1))
	}
	tamper(t, path, "UPDATE machine SET seq = 2 WHERE id = 1")
	fails = errors.New("no line")
	look(1, 1, 1)
	fails = nil
	look(2, 1, 1)
	look(3, 0, 1)
	tamper(t, path, "UPDATE machine SET seq = 1 WHERE id = 1")
	look(4, 0, 0)
	tamper(t, path, "UPDATE machine SET seq = 2 WHERE id = 1")
	look(5, 1, 1)
	tamper(t, path, "UPDATE machine SET seq = 1 WHERE id = 1")
	look(6, 0, 0)
	// What only the whole proof sees waits for the week's.
	tamper(t, path, `UPDATE machine SET body = replace(body, '"cash"', '"till"') WHERE id = 1`)
	look(6, 0, 0)
	look(7, 1, 1)
}

func TestDue(t *testing.T) {
	at := func(day, hour, minute int) time.Time { return time.Date(2026, 1, day, hour, minute, 0, 0, time.UTC) }
	for _, c := range []struct {
		last, now time.Time
		want      bool
	}{
		{time.Time{}, at(5, 12, 0), true},
		{at(5, 12, 0), at(5, 23, 0), false},
		{at(5, 12, 0), at(6, 2, 59), false},
		{at(5, 12, 0), at(6, 3, 0), true},
		{at(6, 3, 5), at(6, 12, 0), false},
		{at(6, 3, 5), at(9, 1, 0), true}, // the computer was off
	} {
		if got := proving.Due(c.last, c.now); got != c.want {
			t.Errorf("last %s, now %s: %t", c.last, c.now, got)
		}
	}
}

// A person reads what is wrong, up to when records are there, and what to do.
func TestWrite(t *testing.T) {
	db, path := opened(t)
	tamper(t, path, "UPDATE machine SET seq = 2 WHERE id = 1")
	reports, err := db.Reader().Verify(ctx)
	ok(t, err)
	var out strings.Builder
	broken, err := proving.Write(&out, reports)
	ok(t, err)
	lines := strings.Split(out.String(), "\n")
	for i, want := range []string{
		"machine 1 (shop 1): BROKEN, the books stand at entry 2, the last one is 1",
		"machine 1 (shop 1): newest record of Mon 5 Jan 2026, 06:00 GMT",
		"machine 1 (shop 1): what to do: The records themselves may be whole",
		"machine 2 (shop 2): ok, entries 0",
	} {
		if broken != 1 || !strings.HasPrefix(lines[i], want) {
			t.Errorf("%d broken, line %q, want %q", broken, lines[i], want)
		}
	}
	if !proving.Known(reports, reports[0].Word) || proving.Known(reports, "abcd-efgh") {
		t.Error("a check word is taken for another")
	}
}

// The first look waits for the chat server: until then people wait for the first poll.
func TestFirstLookWaitsForTheLine(t *testing.T) {
	db, _ := opened(t)
	online := make(chan struct{})
	n := &proving.Night{Reader: db.Reader(), Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Now: time.Now,
		Online: online}
	offline, stop := context.WithTimeout(ctx, 50*time.Millisecond)
	defer stop()
	ok(t, n.Run(offline))
	if n.Proved(1) != nil {
		t.Error("the file was looked at before the chat server was reached")
	}
	close(online)
	running, end := context.WithCancel(ctx)
	done := make(chan error)
	go func() { done <- n.Run(running) }()
	for n.Proved(1) == nil {
		time.Sleep(time.Millisecond)
	}
	end()
	ok(t, <-done)
}
