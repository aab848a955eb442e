package desk_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// one gives a step that leads to the same for every input.
func one(r chat.Result) desk.Step {
	return func(chat.State, chat.Input, chat.Facts) chat.Result { return r }
}

func TestOpenDialogs(t *testing.T) {
	o := newOffice(t)
	o.say(staff2, "card close")
	o.say(staff1, "card open")
	o.say(staff1, "card")
	got, err := o.desk.Open(context.Background())
	if err != nil || fmt.Sprint(got) != fmt.Sprint([]chat.Chat{staff2}) {
		t.Errorf("dialogs under way: %v, %v", got, err)
	}
	for at, want := range map[time.Time]int{o.clock: 0, o.clock.Add(time.Second): 1} {
		if got, err := o.desk.Silent(context.Background(), at); err != nil || len(got) != want {
			t.Errorf("not answered since %v: %v, %v", at, got, err)
		}
	}
}

// What a person wrote and the photos are kept beside the ledger, salted.
func TestWordsAndPhotos(t *testing.T) {
	o := newOffice(t)
	o.desk = o.deskWith(one(chat.Result{Records: []books.Record{{
		Kind: books.Opening, Happened: o.clock, Figures: boxes(books.Loaded, 1, 2, 3),
		Words: "the lock sticks", Photos: []books.Photo{{ID: "f1", Unique: "u1"}},
	}}}))
	o.take(o.raw(owner, "x"))
	o.verify(1)
	got := o.ask(
		"SELECT group_concat(coalesce(words, photo || same), ' ') FROM attachment WHERE length(salt) = 16",
	)
	if got != "the lock sticks f1u1" {
		t.Errorf("kept: %s", got)
	}
}

// What a step asks for and cannot have fails it, and nothing of it stays.
func TestStepsThatCannotBe(t *testing.T) {
	for name, r := range map[string]chat.Result{
		"take over a stranger": {TakeOver: "term:nosy"},
		"a record the books refuse": {Records: []books.Record{
			{Kind: books.Opening, Figures: boxes(books.Loaded, 1, 2, 3)}, {Kind: "tea"}}},
		"too many messages": {Replies: make([]chat.Reply, 2000)},
	} {
		t.Run(name, func(t *testing.T) {
			o := newOffice(t)
			r.State = chat.State{V: chat.StateFormat, Rev: 7}
			r.Replies = append(r.Replies, chat.Reply{Body: []chat.Block{{Text: "done"}}})
			o.desk = o.deskWith(one(r))
			o.take(o.raw(staff1, "x"))
			o.flush()
			if got := o.shown(); len(got) != 2 {
				t.Errorf("sent %q", got)
			}
			o.verify(0)
			if s := o.state(staff1); s.Rev != 0 {
				t.Errorf("state %+v", s)
			}
		})
	}
}

// The words about what could not be done may come from elsewhere.
func TestParkedWords(t *testing.T) {
	o := newOffice(t)
	o.desk = desk.New(desk.Options{
		Store: o.db, Step: step, Now: func() time.Time { return o.clock },
		Parked: func(in chat.Input, f chat.Facts) []chat.Reply {
			return []chat.Reply{{Body: []chat.Block{{Text: "sorry, " + f.Person.Name}}}}
		},
	})
	o.say(staff1, "panic")
	o.wantShown("term:staff1 sorry, Ben")
}

// A disk that takes nothing more is an error for whoever hands in, not a loss:
// the same handed in again later has its effect once.
func TestNothingCanBeWritten(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "hi")
	full := errors.New("disk full")
	o.db.Interpose(func(query string) error {
		if query == "COMMIT" {
			return full
		}
		return nil
	})
	raw := o.raw(staff1, "open")
	for range 3 {
		if _, err := o.desk.Take(context.Background(), []desk.Raw{raw}); !errors.Is(err, full) {
			t.Fatalf("error %v", err)
		}
	}
	o.db.Interpose(nil)
	o.take(raw)
	o.flush()
	o.wantShown("term:owner hi!", "term:staff1 open!")
	o.verify(1)
}

// Many messages are remembered by a few: what is not at hand is read.
func TestManyMessages(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "card close")
	var raws []desk.Raw
	for range 5000 {
		raws = append(raws, o.raw(staff1, "hi"))
	}
	o.take(raws...)
	o.flush()
	o.say(owner, "hi") // the receipts are written: nothing has to stay at hand
	o.shown()
	for range 3 {
		o.take(raws[:1]...)
		o.say(staff1, "hi")
	}
	o.shown()
	o.say(owner, "edit it")
	o.wantShown("term:owner edit it *1")
}
