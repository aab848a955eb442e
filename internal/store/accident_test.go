package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/store"
)

// accident is something that befalls the files of a shop.
type accident struct {
	name    string
	happens func(path string) error
	ends    end
}

// end is how the program comes out of an accident.
type end int

const (
	rescues end = iota // it stops, and all that was confirmed is rescued
	stops              // it stops; what it rescues, if it does, is whole
	goesOn             // it goes on, and rightly
)

func accidents() []accident {
	on := func(fn func(string) error, end string) func(string) error {
		return func(path string) error { return fn(path + end) }
	}
	cut := func(to int64) func(string) error { return func(p string) error { return os.Truncate(p, to) } }
	aside := func(p string) error { return os.Rename(p, p+".aside") }
	return []accident{
		{"file removed", os.Remove, rescues},
		{"file moved", aside, rescues},
		{"an old copy moved over it", func(p string) error {
			return errors.Join(copyTo(p+".old", p+".tmp"), os.Rename(p+".tmp", p))
		}, rescues},
		{"an old copy copied over it", func(p string) error { return copyTo(p+".old", p) }, stops},
		{"file emptied", cut(0), stops},
		{"file cut", cut(8192), stops},
		{"file overwritten with zeros", func(p string) error {
			info, err := os.Stat(p)
			return errors.Join(err, os.WriteFile(p, make([]byte, info.Size()), 0o600))
		}, stops},
		{"log removed", on(os.Remove, "-wal"), rescues},
		{"log moved", on(aside, "-wal"), rescues},
		{"log emptied", on(cut(0), "-wal"), stops},
		{"log cut", on(cut(40_000), "-wal"), stops},
		{"memory removed", on(os.Remove, "-shm"), rescues},
		{"lock removed", on(os.Remove, ".lock"), goesOn},
		{"all removed", func(p string) error {
			return errors.Join(os.Remove(p), os.Remove(p+"-wal"), os.Remove(p+"-shm"), os.Remove(p+".lock"))
		}, rescues},
		{"a link in its place", func(p string) error {
			return errors.Join(aside(p), os.Symlink(p+".aside", p))
		}, rescues},
		{"mark removed", on(os.Remove, ".mark"), goesOn},
		{"touched", func(p string) error { return os.Chtimes(p, time.Now(), time.Now()) }, goesOn},
	}
}

func copyTo(from, to string) error {
	in, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600) // the same file, as cp does
	if err != nil {
		return err
	}
	_, err = f.Write(in)
	return errors.Join(err, f.Close())
}

// Each accident, between two commits, within a transaction, long after the last one, and
// where a page that cannot be read is met before the watch looks: nothing more is confirmed,
// and what was comes out where it can.
func TestAccidents(t *testing.T) {
	each := 2 / checks.Size(t, 1, 2, 2) // of every so many, one is played
	for i, a := range accidents() {
		for j, when := range []string{"between commits", "in a transaction", "at rest", "nothing at hand"} {
			if (i+j)%each > 0 {
				continue // of an accident two moments, of the next one the others
			}
			t.Run(a.name+" "+when, func(t *testing.T) { a.play(t, when) })
		}
	}
}

// before is how many records are in the file, some in the database and some in its log.
var before = len(day()) + 1 + 60 + 2

func (a accident) play(t *testing.T, when string) {
	path := filepath.Join(t.TempDir(), "shop.db")
	db := openAt(t, path)
	l := newLedger(t, db)
	ok(t, l.checkpoint())
	ok(t, copyTo(path, path+".old"))
	l.post(day()...)
	l.post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
	for n := range 62 {
		if n == 60 {
			ok(t, l.checkpoint())
		}
		l.post(books.Record{Kind: books.TopUp, Period: 10, Figures: boxes(books.Added, 1, 1, 1)})
	}
	err := a.strikes(l, path, when)
	var d *store.Doubt
	if (a.ends == goesOn) != (err == nil) || err != nil && !errors.As(err, &d) {
		t.Fatalf("afterwards: %v", err)
	}
	name := path
	if err != nil {
		if _, err := db.Begin(l.now); !errors.As(err, &d) {
			t.Errorf("it is forgotten: %v", err)
		}
		name, err = db.Rescue(context.Background(), l.now)
		if a.ends == rescues && err != nil {
			t.Fatal(err)
		}
		if left, _ := filepath.Glob(path + ".rescued*"); len(left) > 0 != (err == nil) {
			t.Errorf("files left: %v after %v", left, err)
		}
		if err != nil {
			return
		}
	}
	if m, err := filewatch.ReadMark(path); a.ends == goesOn && (err != nil || m.Seq == 0) {
		t.Errorf("the mark says %+v, %v", m, err)
	}
	if rep := verify(t, name)[0]; len(rep.Faults) > 0 || rep.Entries != before {
		t.Errorf("%d of %d entries are there, %v", rep.Entries, before, rep.Faults)
	}
}

// strikes lets it happen and gives what the next commit says, or the next look.
func (a accident) strikes(l *ledger, path, when string) error {
	l.t.Helper()
	switch when {
	case "at rest":
		ok(l.t, a.happens(path))
		return l.db.Look(context.Background())
	case "between commits":
		ok(l.t, a.happens(path))
		return l.commits(nil)
	case "nothing at hand":
		ok(l.t, l.db.Set(context.Background(), "shrink_memory", "1")) // no page is remembered
		ok(l.t, a.happens(path))
		return l.commits(nil)
	}
	return l.commits(func() { ok(l.t, a.happens(path)) })
}

func (l *ledger) checkpoint() error {
	done, err := l.db.Truncate()
	if err == nil && !done {
		err = errors.New("somebody reads")
	}
	return err
}

func (l *ledger) commits(within func()) error {
	tx, err := l.db.Begin(l.now)
	if err != nil {
		return err
	}
	if _, _, err := tx.Handled(store.Arrival{Source: "test", Key: l.now.String(), Chat: owner}); err != nil {
		tx.Rollback()
		return err
	}
	l.now = l.now.Add(time.Second)
	if within != nil {
		within()
	}
	return tx.Commit()
}

// With the lock beside the file gone, the lock on the file itself keeps a second
// program off.
func TestLockOnTheFileItself(t *testing.T) {
	db, path := open(t)
	ok(t, os.Remove(path+".lock"))
	if _, err := store.Open(context.Background(), path, morning); !errors.Is(err, store.ErrInUse) {
		t.Errorf("a second writer: %v", err)
	}
	newLedger(t, db).post(day()...)
}
