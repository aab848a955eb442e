package past_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/firstdays"
	"shopfloat/internal/shop"
)

// wednesdays is a floor with the records of an earlier program, of so many Wednesdays
// up to 18 November 2026, that got their days when the file was brought up to date.
// Since then the shop no longer trades on Wednesdays: they were told under Thursdays.
func wednesdays(t *testing.T, n int) *floor.Floor {
	f := floor.New(t, dialogs.New)
	add := func(r books.Record) {
		f.Entries = append(f.Entries, books.Entry{Record: r, Machine: 1, Seq: int64(len(f.Entries)) + 1, By: 1,
			Settings: 1, Recorded: r.Happened})
	}
	for week := range n {
		at := time.Date(2026, 11, 18, 6, 40, 0, 0, f.Shop.Location).AddDate(0, 0, 7*(week-n+1)).UTC()
		no, box := int64(len(f.Entries))+1, books.Figure{Box: 1, Face: "50", Notes: 40}
		box.Field = books.Loaded
		add(books.Record{Kind: books.Opening, Happened: at, Figures: []books.Figure{box}})
		box.Field = books.Remaining
		add(books.Record{Kind: books.Count, Period: no, Happened: at.Add(14 * time.Hour),
			Figures: []books.Figure{box}})
	}
	then := firstdays.RuleOf(f.Shop)
	add(books.Record{Kind: books.Dated, Happened: f.Now.UTC(),
		Days: firstdays.Of(f.Entries, func(books.Entry) firstdays.Rule { return then })})
	s := f.Shop.Settings
	s.Hours[time.Wednesday] = shop.Hours{}
	made, err := shop.New(1, 2, s)
	if err != nil {
		t.Fatal(err)
	}
	f.Shop = made
	if f.Machine, err = books.Fold(1, f.Entries); err != nil {
		t.Fatal(err)
	}
	return f
}

// The owner is told once which days are told under another date, the first of them
// in words and all of them as a file.
func TestMovedDays(t *testing.T) {
	for n, file := range map[int]bool{1: false, 5: false, 7: true} {
		f := wednesdays(t, n)
		facts := f.Facts("owner")
		facts.Person = shop.Person{}
		res := f.Engine.Step(chat.State{}, chat.Input{Kind: chat.Remind, Text: chat.DaysMoved, At: f.Now,
			Due: f.Now, Chat: chat.MachineChat(1)}, facts)
		if len(res.Replies) != 1 || res.Replies[0].To.Person != 1 {
			t.Fatalf("%d days: %+v", n, res.Replies)
		}
		r, said := res.Replies[0], ""
		for _, b := range r.Body {
			said += b.Text + "\n"
		}
		first := time.Date(2026, 11, 18-7*(n-1), 0, 0, 0, 0, time.UTC).Format("Mon 2 Jan")
		if !strings.Contains(said, first) || strings.Count(said, "before: Thu") != min(n, 5) ||
			!strings.Contains(said, "No figure changed") {
			t.Errorf("%d days, from %s:\n%s", n, first, said)
		}
		if (r.File != nil) != file || file && (strings.Count(string(r.File.Data), "\r\n") != n+1 ||
			!strings.Contains(string(r.File.Data), "2026-11-18,2026-11-19\r\n")) {
			t.Errorf("%d days: file %+v", n, r.File)
		}
	}
}

// Where every day is told as it was nobody hears anything.
func TestNoMovedDays(t *testing.T) {
	f := wednesdays(t, 1)
	f.Entries[2].Days = nil
	facts := f.Facts("owner")
	res := f.Engine.Step(chat.State{}, chat.Input{Kind: chat.Remind, Text: chat.DaysMoved, At: f.Now,
		Due: f.Now, Chat: chat.MachineChat(1)}, facts)
	if len(res.Replies) != 0 {
		t.Errorf("%+v", res.Replies)
	}
}
