package desk_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// within writes to the file in a transaction of its own.
func (o *office) within(fn func(*store.Tx) error) {
	o.t.Helper()
	tx, err := o.db.Begin(o.clock)
	ok(o.t, err)
	ok(o.t, fn(tx))
	ok(o.t, tx.Commit())
}

// Who is named in the ledger is whose phone it is. Only at a phone that several
// people share may a step name somebody else, and only somebody of the shop.
func TestWhoseRecordItIs(t *testing.T) {
	for _, c := range []struct {
		name   string
		shared bool
		as     shop.PersonID
		want   string // who stands in the ledger; "0 entries" when it is refused
	}{
		{"own phone", false, 0, "by 2"},
		{"own phone, as somebody else", false, 3, "0 entries"},
		{"own phone, as its owner", false, 2, "0 entries"},
		{"shared phone", true, 0, "by 2"},
		{"shared phone, as somebody else", true, 3, "by 3"},
		{"shared phone, as nobody of the shop", true, 77, "0 entries"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := newOffice(t)
			o.within(func(tx *store.Tx) error { return tx.Share(staff1, 1, c.shared) })
			o.desk = o.deskWith(one(chat.Result{
				Records: []books.Record{{Kind: books.Opening, Figures: boxes(books.Loaded, 1, 2, 3)}},
				Orders:  chat.Orders{As: c.as},
			}))
			o.take(o.raw(staff1, "x"))
			got := o.ask("SELECT coalesce('by ' || group_concat(by_person), '0 entries') FROM entry")
			if got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// A tap on a card of another shop is for that shop while the chat belongs to it,
// and no longer once its account there is frozen.
func TestFrozenElsewhere(t *testing.T) {
	o := newOffice(t)
	_, err := o.db.AddShops(o.clock, []store.NewShop{{Settings: shop.Example()}, {Settings: shop.Example()}})
	ok(t, err)
	for id := shop.ID(3); id > 0; id-- { // the first one last: it is the one talked of
		o.within(func(tx *store.Tx) error { return tx.Join(owner, id, 1) })
	}
	var heard []string
	o.desk = o.deskWith(func(_ chat.State, _ chat.Input, f chat.Facts) (r chat.Result) {
		heard = append(heard, fmt.Sprintf("shop %d, elsewhere %t", f.Shop.ID, f.Elsewhere))
		return r
	})
	tap := func(machine int) {
		raw := o.raw(owner, "")
		raw.Input.Kind, raw.Input.Tap = chat.Press, fmt.Sprintf("o:seen::%d", machine)
		o.take(raw)
	}
	freeze := func(frozen bool) {
		o.within(func(tx *store.Tx) error { return tx.Freeze(3, 1, frozen) })
	}
	tap(1)
	tap(3)
	freeze(true)
	tap(3)
	tap(2) // the third shop alone is closed to it
	freeze(false)
	tap(3)
	want := []string{"shop 1, elsewhere false", "shop 3, elsewhere true", "shop 1, elsewhere false",
		"shop 2, elsewhere true", "shop 3, elsewhere true"}
	if fmt.Sprint(heard) != fmt.Sprint(want) {
		t.Errorf("heard as %q\nwant %q", heard, want)
	}
}

// flood is more than one input may lead to, so that its step fails when many
// messages are on their way already.
func flood(to chat.Audience) []chat.Reply {
	return slices.Repeat([]chat.Reply{{To: to, Body: []chat.Block{{Text: "flood"}}}}, 1100)
}

// floods answers the word flood, and a deadline that comes again, with too much.
func floods(s chat.State, in chat.Input, f chat.Facts) chat.Result {
	r := step(s, in, f)
	switch {
	case in.Text == "flood":
		r.Replies = flood(chat.Audience{})
	case in.Again:
		r.Replies = flood(chat.Audience{Managers: true})
	}
	return r
}

// Of a step that fails nothing is sent, wherever in the program it fails; what
// others said in the same commit is.
func TestFailedStepSendsNothing(t *testing.T) {
	sent := func(t *testing.T, o *office, want ...string) {
		t.Helper()
		o.flush()
		all := strings.Join(o.shown(), "\n")
		if n := strings.Count(all, "flood") - strings.Count(all, "not recorded: flood."); n > 0 {
			t.Errorf("%d messages of the step that failed were sent", n)
		}
		for _, w := range want {
			if strings.Count(all, w) != 1 {
				t.Errorf("%q was not sent once in\n%.300s", w, all)
			}
		}
	}
	for _, careful := range []bool{true, false} {
		t.Run(fmt.Sprintf("an input, careful %t", careful), func(t *testing.T) {
			o := newOffice(t)
			o.desk = o.deskWith(floods)
			if !careful {
				o.say(owner, "hi")
				o.shown()
			}
			o.take(o.raw(staff2, "before"), o.raw(staff1, "flood"), o.raw(owner, "after"))
			sent(t, o, "term:staff2 before!", "term:owner after!", "term:staff1 Something went wrong")
		})
	}
	t.Run("a deadline that comes again", func(t *testing.T) {
		o := newOffice(t)
		o.desk = o.deskWith(floods)
		o.say(staff1, "at 30m")
		o.clock = o.clock.Add(30 * time.Minute)
		ok(t, o.desk.Tick(context.Background()))
		o.clock = o.clock.Add(-24 * time.Hour)
		o.say(staff1, "at 24h")
		o.flush()
		o.shown()
		o.clock = o.clock.Add(24 * time.Hour)
		ok(t, o.desk.Tick(context.Background()))
		sent(t, o)
	})
	t.Run("words about what could not be done", func(t *testing.T) {
		o := newOffice(t)
		o.desk = desk.New(desk.Options{Store: o.db, Step: step, Now: func() time.Time { return o.clock },
			Parked: func(chat.Input, chat.Facts) []chat.Reply { return flood(chat.Audience{}) }})
		o.take(o.raw(staff1, "panic"), o.raw(staff2, "hi"))
		sent(t, o, "term:staff2 hi!")
	})
}
