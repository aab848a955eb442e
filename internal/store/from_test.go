package store_test

import (
	"reflect"
	"testing"
	"time"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
)

// The end of a ledger, read by its number, is what all of it gives from there on.
func TestEntriesFrom(t *testing.T) {
	db, _ := open(t)
	l := newLedger(t, db)
	l.post(day()...)
	instead := books.Record{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 0, 40, 0)}
	l.post(books.Record{Kind: books.Correction, Period: 1, Target: 3, Instead: &instead, Reason: books.Mistyped})
	tx, err := db.Begin(l.now)
	ok(t, err)
	defer tx.Rollback()
	all, err := tx.Entries(1, time.Time{})
	ok(t, err)
	far := 0
	for seq := int64(1); seq <= int64(len(all))+1; seq++ {
		got, err := tx.EntriesFrom(1, seq)
		ok(t, err)
		want := abacus.From(all, seq)
		if len(got) != len(want) || len(got) > 0 && !reflect.DeepEqual(got, want) {
			t.Errorf("from %d: %d entries, want %d", seq, len(got), len(want))
		}
		if len(got) > 0 && got[0].Seq < seq {
			far++
		}
	}
	if far == 0 {
		t.Error("no correction reached back")
	}
}
