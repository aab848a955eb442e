package store_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// A shop has 500 phrases of its own at most; one that has a meaning may get another, and
// one that is forgotten makes room. Other shops have theirs.
func TestPhrasesAreBounded(t *testing.T) {
	db, _ := open(t)
	teach := func(of shop.ID, text, means string) (err error) {
		within(t, db, morning, func(tx *store.Tx) {
			err = tx.Try(func() error { return tx.Teach(of, chat.Phrase{Text: text, Means: means}) })
		})
		return err
	}
	within(t, db, morning, func(tx *store.Tx) {
		for n := range chat.PhrasesMax {
			ok(t, tx.Teach(1, chat.Phrase{Text: fmt.Sprintf("word %d", n), Means: "do:topup"}))
		}
	})
	if err := teach(1, "one more", "do:open"); !errors.Is(err, store.ErrFull) {
		t.Errorf("%d phrases and one more: %v", chat.PhrasesMax, err)
	}
	ok(t, teach(1, "word 7", "note-jam"))
	ok(t, teach(2, "one more", "do:open"))
	ok(t, teach(1, "word 8", ""))
	ok(t, teach(1, "one more", "do:open"))
	within(t, db, morning, func(tx *store.Tx) {
		for text, want := range map[string]string{"word 7": "note-jam", "word 8": "", "one more": "do:open",
			"word 9": "do:topup"} {
			got, err := tx.Taught(1, text)
			if ok(t, err); got != want {
				t.Errorf("%q means %q, want %q", text, got, want)
			}
		}
		p, err := tx.Phrases(1)
		if ok(t, err); len(p.Taught) != chat.PhrasesMax {
			t.Errorf("%d phrases, want %d", len(p.Taught), chat.PhrasesMax)
		}
	})
}

// What was not understood is counted, bounded and forgotten: of many words those go that
// were typed least, and all that nobody types for eight weeks.
func TestMissedIsBounded(t *testing.T) {
	db, _ := open(t)
	within(t, db, morning, func(tx *store.Tx) {
		for range 3 {
			ok(t, tx.Miss(1, "feed the badger"))
		}
		ok(t, tx.Miss(2, "elsewhere"))
		for n := range chat.MissedMax + 20 {
			ok(t, tx.Miss(1, fmt.Sprintf("word %d", n)))
		}
		list, err := tx.Missed(1)
		ok(t, err)
		if len(list) != chat.MissedMax || list[0].Text != "feed the badger" || list[0].Times != 3 {
			t.Errorf("%d are kept, first %+v", len(list), list[0])
		}
	})
	later := morning.Add(chat.MissedFor - time.Hour)
	within(t, db, later, func(tx *store.Tx) { ok(t, tx.Miss(1, "feed the badger")) })
	within(t, db, later.Add(2*time.Hour), func(tx *store.Tx) {
		list, err := tx.Missed(1)
		if ok(t, err); len(list) != 1 || list[0].Times != 4 || !list[0].Last.Equal(later) {
			t.Errorf("eight weeks later: %+v", list)
		}
		ok(t, tx.ForgetMissed())
		ok(t, tx.Teach(1, chat.Phrase{Text: "feed the badger", Means: "do:topup"}))
	})
	within(t, db, morning, func(tx *store.Tx) { // what is gone is gone by the clock of before, too
		for _, id := range []shop.ID{1, 2} {
			if list, err := tx.Missed(id); err != nil || len(list) > 0 {
				t.Errorf("shop %d: %+v, %v", id, list, err)
			}
		}
	})
}

// Who is erased leaves no words behind that their name stands in, however it is written.
func TestErasedNamesLeaveWords(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	within(t, db, morning, func(tx *store.Tx) {
		sh, err := tx.Shop(1)
		ok(t, err)
		s := sh.Settings
		who := s.People[1].ID
		s.People[1].Name = "Zoë Quillfeather"
		ok(t, tx.SaveSettings(1, s))
		for _, text := range []string{"feed zoe today", "feed the badger", "quillfeather knows it"} {
			ok(t, tx.Miss(1, text))
			ok(t, tx.Teach(1, chat.Phrase{Text: text + " again", Means: "do:topup"}))
		}
		ok(t, tx.EraseName(1, who))
		p, err := tx.Phrases(1)
		ok(t, err)
		if len(p.Missed) != 1 || len(p.Taught) != 1 || p.Missed[0].Text != "feed the badger" ||
			p.Taught[0].Text != "feed the badger again" {
			t.Errorf("left: %+v", p)
		}
	})
	for _, rep := range verify(t, path) {
		if len(rep.Faults) > 0 {
			t.Errorf("verify: %v", rep.Faults)
		}
	}
}
