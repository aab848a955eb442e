package store_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/store"
)

// left is what a run of the program left of a file: as a kill leaves it, or closed.
func left(t *testing.T, closed bool) string {
	t.Helper()
	db, path := open(t)
	l := newLedger(t, db)
	ok(t, l.checkpoint())
	ok(t, copyTo(path, path+".old"))
	l.post(day()...)
	ok(t, l.checkpoint())
	l.post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
	for range 9 {
		ok(t, l.commits(nil))
	}
	if closed {
		ok(t, db.Close())
	}
	to := filepath.Join(t.TempDir(), "shop.db")
	for _, end := range []string{"", "-wal", ".mark", ".old"} {
		if _, err := os.Stat(path + end); err == nil {
			ok(t, copyTo(path+end, to+end))
		}
	}
	return to
}

// sums are the files in a folder; those that say nothing of the shop are left out.
func sums(t *testing.T, folder string) map[string][32]byte {
	t.Helper()
	list, err := os.ReadDir(folder)
	ok(t, err)
	all := map[string][32]byte{}
	for _, f := range list {
		data, err := os.ReadFile(filepath.Join(folder, f.Name()))
		ok(t, err)
		if end := filepath.Ext(f.Name()); end != ".lock" && end != ".db-shm" && len(data) > 0 {
			all[f.Name()] = sha256.Sum256(data)
		}
	}
	return all
}

func flip(path string, at int64) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	data[at] ^= 4
	return os.WriteFile(path, data, 0o600)
}

// Each row of the table of starts, on files as they are found: what starts holds
// all that was confirmed, and where it is refused nothing has been changed.
func TestStarts(t *testing.T) {
	const all = 10 // entries
	end := func(fn func(string) error, end string) func(string) error {
		return func(p string) error { return fn(p + end) }
	}
	cut := func(to int64, end string) func(string) error {
		return func(p string) error { return os.Truncate(p+end, to) }
	}
	turn := func(end string, at int64) func(string) error {
		return func(p string) error { return flip(p+end, at) }
	}
	says := func(e filewatch.Ended, doubt string) func(string) error {
		return func(p string) error { return remark(p, e, doubt) }
	}
	none := func(string) error { return nil }
	for _, c := range []struct {
		name    string
		closed  bool
		happens func(path string) error
		want    filewatch.Case
		refused bool
	}{
		{"killed", false, none, filewatch.Plain, false},
		{"killed, log removed", false, end(os.Remove, "-wal"), filewatch.Older, true},
		{"killed, log emptied", false, cut(0, "-wal"), filewatch.Older, true},
		{"killed, log cut", false, cut(9000, "-wal"), filewatch.Older, true},
		{"killed, a bit of the log turned", false, turn("-wal", 9000), filewatch.Older, true},
		{"killed, file removed", false, os.Remove, filewatch.Missing, true},
		{"killed, file emptied", false, cut(0, ""), filewatch.Missing, true},
		{"killed, all but the mark removed", false, func(p string) error {
			return errors.Join(os.Remove(p), os.Remove(p+"-wal"))
		}, filewatch.Vanished, true},
		{"killed, mark removed", false, end(os.Remove, ".mark"), filewatch.MarkNone, false},
		{"killed, mark damaged", false, turn(".mark", 20), filewatch.MarkBad, false},
		{"killed, an old copy in place", false, func(p string) error {
			return errors.Join(os.Remove(p+"-wal"), os.Rename(p+".old", p))
		}, filewatch.Older, true},
		{"killed, log taken in and removed", false, takeIn, filewatch.LogGone, false},
		{"closed", true, none, filewatch.Plain, false},
		{"closed, file removed", true, os.Remove, filewatch.Vanished, true},
		{"closed, file emptied", true, cut(0, ""), filewatch.Vanished, true},
		{"closed, an old copy in place", true, func(p string) error { return os.Rename(p+".old", p) },
			filewatch.Older, true},
		{"closed, another shop's file in place", true, another, filewatch.Another, true},
		{"closed, mark removed", true, end(os.Remove, ".mark"), filewatch.MarkNone, false},
		{"killed, a journal beside it", false, func(p string) error {
			return os.WriteFile(p+"-journal", []byte("somebody's"), 0o600)
		}, filewatch.Journal, true},
		{"restored", true, says(filewatch.Restored, ""), filewatch.WasRestore, false},
		{"stopped in doubt", true, says(filewatch.Closed, "moved"), filewatch.WasDoubt, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := left(t, c.closed)
			ok(t, c.happens(path))
			before := sums(t, filepath.Dir(path))
			db, err := store.Open(context.Background(), path, morning)
			var r *store.Refused
			if errors.As(err, &r) {
				if after := sums(t, filepath.Dir(path)); !maps.Equal(after, before) {
					t.Errorf("changed though refused: %d files, before %d", len(after), len(before))
				}
				if !c.refused || r.Case != c.want {
					t.Errorf("refused: %s, want %s", r.Case, c.want)
				}
				return
			}
			ok(t, err)
			if o := db.Opened(); c.refused || o.Case != c.want {
				t.Errorf("opened: %s, want %s, refused %v", o.Case, c.want, c.refused)
			}
			ok(t, db.Close())
			if rep := verify(t, path)[0]; rep.Entries != all || len(rep.Faults) > 0 {
				t.Errorf("%d of %d entries, %v", rep.Entries, all, rep.Faults)
			}
		})
	}
}

// A run that wrote nothing, or whose log was taken in while it had nothing to do, leaves no
// log when it is killed. Nothing is said about that: every power cut by night would be told
// for an accident.
func TestKilledWithoutALog(t *testing.T) {
	for name, run := range map[string]func(*store.DB) error{
		"nothing written": func(db *store.DB) error {
			tx, err := db.Begin(morning)
			if err != nil {
				return err
			}
			return tx.Commit()
		},
		"log emptied": func(db *store.DB) error {
			newLedger(t, db).commits(nil)
			_, err := db.Truncate()
			return err
		},
	} {
		path := left(t, true)
		db, err := store.Open(context.Background(), path, morning)
		ok(t, err)
		ok(t, run(db))
		to := filepath.Join(t.TempDir(), "shop.db")
		for _, end := range []string{"", "-wal", ".mark"} {
			ok(t, copyTo(path+end, to+end))
		}
		ok(t, db.Close())
		killed, err := store.Open(context.Background(), to, morning)
		ok(t, err)
		if o := killed.Opened(); o.Case != filewatch.Plain || o.Verdict != filewatch.Start {
			t.Errorf("%s: found %s", name, o.Case)
		}
		ok(t, killed.Close())
	}
}

// takeIn is another program that opens the file, takes its log in and goes.
func takeIn(path string) error {
	db, err := os.ReadFile(path + ".mark")
	if err != nil {
		return err
	}
	other, err := store.Open(context.Background(), path, morning)
	return errors.Join(err, other.Close(), os.WriteFile(path+".mark", db, 0o600))
}

// another puts the file of another shop in the place of this one, with as much in it.
func another(path string) error {
	folder, err := os.MkdirTemp(filepath.Dir(path), "other")
	if err != nil {
		return err
	}
	db, err := store.Open(context.Background(), filepath.Join(folder, "other.db"), morning)
	if err != nil {
		return err
	}
	for n := range 12 {
		tx, err := db.Begin(morning)
		if err != nil {
			return err
		}
		_, _, err = tx.Handled(store.Arrival{Source: "other", Key: string(rune('a' + n))})
		if err = errors.Join(err, tx.Commit()); err != nil {
			return err
		}
	}
	return errors.Join(db.Close(), os.Rename(filepath.Join(folder, "other.db"), path), os.RemoveAll(folder))
}

func remark(path string, e filewatch.Ended, doubt string) error {
	m, err := filewatch.ReadMark(path)
	if err != nil {
		return err
	}
	m.Ended, m.Doubt = e, doubt
	return errors.Join(os.Remove(path+".mark"), filewatch.WriteMark(path, m))
}

// Who says that a file is to be taken as it is gets it, and the mark that told
// of more is kept. A file that is not there cannot be taken.
func TestAsIs(t *testing.T) {
	path := left(t, true)
	ok(t, os.Rename(path+".old", path))
	db, err := store.OpenAsIs(context.Background(), path, morning)
	ok(t, err)
	if o := db.Opened(); o.Case != filewatch.Older || o.Verdict != filewatch.Refuse || o.Mark.Inbox == 0 {
		t.Errorf("opened %+v", o)
	}
	newLedger(t, db).post(day()...)
	ok(t, db.Close())
	if kept, _ := filepath.Glob(path + ".mark.*"); len(kept) != 1 {
		t.Errorf("kept of the mark: %v", kept)
	}
	db, err = store.Open(context.Background(), path, morning)
	ok(t, err)
	ok(t, db.Close())
	ok(t, os.Remove(path))
	if _, err := store.OpenAsIs(context.Background(), path, morning); err == nil {
		t.Error("a file that is not there was opened")
	}
}

// A file that was moved alone, with a link left in its place, is not opened without its log
// and its mark: both are found where the link leads once they are moved there, too.
func TestMovedAwayFromItsLog(t *testing.T) {
	for _, closed := range []bool{false, true} {
		path := left(t, closed)
		to := filepath.Join(t.TempDir(), "moved.db")
		ok(t, os.Rename(path, to))
		ok(t, os.Symlink(to, path))
		_, err := store.Open(context.Background(), path, morning)
		var r *store.Refused
		if !errors.As(err, &r) || r.Case != filewatch.Parted {
			t.Fatalf("closed %v: %v", closed, err)
		}
		for _, end := range []string{"-wal", ".mark"} {
			if err := os.Rename(path+end, to+end); err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
		}
		db, err := store.Open(context.Background(), path, morning)
		ok(t, err)
		if o := db.Opened(); o.Case != filewatch.Plain {
			t.Errorf("closed %v: found %s", closed, o.Case)
		}
		ok(t, db.Close())
		if rep := verify(t, path)[0]; rep.Entries != 10 {
			t.Errorf("closed %v: %d entries", closed, rep.Entries)
		}
	}
}

// After a restore no card bears the number of one that was sent since the copy was made;
// after an ordinary start the numbers go on.
func TestCardsOfTheTimeThatIsLost(t *testing.T) {
	for _, restored := range []bool{true, false} {
		path := left(t, true)
		db, err := store.Open(context.Background(), path, morning)
		ok(t, err)
		tx, err := db.Begin(morning)
		ok(t, err)
		ok(t, tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Rev: 7, Cards: 2}))
		ok(t, tx.Commit())
		ok(t, db.Close())
		if restored {
			ok(t, remark(path, filewatch.Restored, ""))
		}
		for start := range 2 {
			if db, err = store.Open(context.Background(), path, morning); err != nil {
				t.Fatal(err)
			}
			tx, err := db.Begin(morning)
			ok(t, err)
			known, err := tx.State(owner)
			ok(t, err)
			silent, err := tx.State("term:staff1") // wrote nothing before the copy
			ok(t, err)
			tx.Rollback()
			want, quiet := chat.State{Rev: 7, Cards: 2}, chat.State{}
			if restored {
				want = chat.State{Rev: 10_007, Cards: 10_002, LostFrom: 7, LostTo: 10_007}
				quiet = chat.State{Rev: 10_000, Cards: 10_000, LostTo: 10_000}
			}
			for who, c := range map[string][2]chat.State{"owner": {known, want}, "staff1": {silent, quiet}} {
				a, b := c[0], c[1]
				if a.Rev != b.Rev || a.Cards != b.Cards || a.LostFrom != b.LostFrom || a.LostTo != b.LostTo {
					t.Errorf("restored %v, start %d, %s: %+v, want %+v", restored, start, who, a, b)
				}
			}
			ok(t, db.Close())
		}
	}
}
