package store_test

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/store"
)

// A head gives one word of eight letters, whatever way it is typed; another
// head gives another.
func TestCheckWord(t *testing.T) {
	head := []byte{0, 0, 0, 0, 31, 9, 9}
	if got := store.CheckWord(head); got != "aaaa-aaa9" {
		t.Errorf("word %q", got)
	}
	for word, want := range map[string]bool{"aaaa-aaa9": true, " AAAA aaa9": true, "aaaa-aaa8": false,
		"": false} {
		if store.SameWord(word, head) != want {
			t.Errorf("%q: %t", word, !want)
		}
	}
	if store.CheckWord(nil) != "" {
		t.Error("no head has a word")
	}
}

// A tail that was cut off with all its traces is seen by the word of the head
// that somebody kept: the ledger that is left no longer holds it.
func TestCutTailIsSeenByItsWord(t *testing.T) {
	db, path := open(t)
	l := newLedger(t, db)
	l.post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
	l.post(books.Record{Kind: books.TopUp, Period: 1, Figures: boxes(books.Added, 0, 50, 0)})
	kept := store.CheckWord(verify(t, path)[0].Head)
	found := func() bool {
		for _, h := range verify(t, path)[0].Hashes {
			if store.SameWord(kept, h) {
				return true
			}
		}
		return false
	}
	if !found() {
		t.Fatal("the word is not that of its own ledger")
	}
	l.post(books.Record{Kind: books.Level, Period: 1, Figures: boxes(books.Shown, 40, 200, 200)})
	if !found() {
		t.Error("the word is lost when the ledger grows")
	}
	if strings.Contains(kept, " ") {
		t.Errorf("word %q", kept)
	}
}
