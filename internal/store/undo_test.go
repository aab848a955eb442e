package store_test

import (
	"encoding/json"
	"testing"

	"shopfloat/internal/books"
)

// Undo leaves the books as if the entry had never been, but for its line in
// the history, and takes every note back to where it came from.
func TestUndo(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	l.post(day()[:3]...)
	before := l.books()
	l.post(day()[3:5]...)
	after := l.books()
	a, err := json.Marshal(before.Balance)
	ok(t, err)
	b, err := json.Marshal(after.Balance)
	ok(t, err)
	if string(a) != string(b) {
		t.Errorf("balance before %s, after %s", a, b)
	}
	if void := after.Recent[3]; !void.Void || after.Seq != 5 {
		t.Errorf("history: %+v", after.Recent)
	}
	if faults := verify(t, path)[0].Faults; len(faults) > 0 {
		t.Errorf("faults: %q", faults)
	}
}

func TestUndoRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		target int64
	}{
		{"none", 0}, {"not yet", 6}, {"itself", 6}, {"twice", 4}, {"an undo", 5},
		{"an opening others rest on", 1}, {"negative", -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			l := newLedger(t, db)
			l.post(day()[:5]...)
			if err := l.try(books.Record{Kind: books.Undo, Period: 1, Target: c.target}); err == nil {
				t.Error("taken")
			}
			if rep := verify(t, path)[0]; rep.Entries != 5 || len(rep.Faults) > 0 {
				t.Errorf("after it: %+v", rep)
			}
		})
	}
}

// A top-up that a later count rests on cannot be undone: the count's movements
// would not follow from it any more.
func TestUndoUnderACount(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	l.post(day()[:7]...)
	if err := l.try(books.Record{Kind: books.Undo, Period: 1, Target: 3}); err == nil {
		t.Error("taken")
	}
	if faults := verify(t, path)[0].Faults; len(faults) > 0 {
		t.Errorf("faults: %q", faults)
	}
}

// An entry that moved no notes is as undone as any other: taken back once, it is
// not taken back again, nor is the undo itself, though no balance tells.
func TestUndoOnceWithoutNotes(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	l.post(day()[:3]...)
	l.post(books.Record{Kind: books.Level, Period: 1, Figures: boxes(books.Shown, 30, 120, 100)},
		books.Record{Kind: books.Undo, Period: 1, Target: 4})
	for what, target := range map[string]int64{"twice": 4, "an undo": 5} {
		if err := l.try(books.Record{Kind: books.Undo, Period: 1, Target: target}); err == nil {
			t.Errorf("%s: taken", what)
		}
	}
	if rep := verify(t, path)[0]; rep.Entries != 5 || len(rep.Faults) > 0 {
		t.Errorf("after it: %+v", rep)
	}
}
