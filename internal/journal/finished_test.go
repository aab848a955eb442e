package journal_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
)

// ledger is days of trading from 20 November 2026 on, 200 twenties in, 60 paid out and 140 left
// on each; then what is given, in December.
func ledger(t *testing.T, days int, more ...books.Record) (entries []books.Entry) {
	t.Helper()
	return ledgerOf(t, days, nil, more...)
}

// ledgerOf enters some of the days in December only, by their place.
func ledgerOf(t *testing.T, days int, late []int, more ...books.Record) (entries []books.Entry) {
	t.Helper()
	m := books.New(1)
	var recorded time.Time
	post := func(at time.Time, r books.Record) {
		if r.Happened = at; books.Daily(r.Kind) {
			r.Day = shop.DateOf(at)
		}
		e := books.Entry{Record: books.Ruled(r), Machine: 1, Seq: m.Seq + 1, By: 1, Settings: 1, Recorded: at}
		if !recorded.IsZero() {
			e.Recorded = recorded
		}
		if _, err := m.Post(e); err != nil {
			t.Fatalf("record %d: %v", e.Seq, err)
		}
		entries = append(entries, e)
	}
	twenties := func(field books.Field, box int, notes int64) []books.Figure {
		return []books.Figure{{Field: field, Box: box, Face: "20", Notes: notes}}
	}
	for i := range days {
		if slices.Contains(late, i) {
			recorded = shop.Date("2026-12-02").Time().Add(8 * time.Hour)
		}
		no, at := m.Seq+1, shop.Date("2026-11-20").Add(i).Time().Add(9*time.Hour)
		post(at, books.Record{Kind: books.Opening, Figures: twenties(books.Loaded, 1, 200)})
		post(at, books.Record{Kind: books.Count, Period: no, Figures: twenties(books.Remaining, 1, 140)})
		post(at, books.Record{Kind: books.Settlement, Period: no, Figures: twenties(books.PaidOut, 0, 60)})
		post(at, books.Record{Kind: books.Close, Period: no, Where: books.Cash})
	}
	recorded = time.Time{}
	for i, r := range more {
		at := shop.Date("2026-12-02").Time().Add(time.Duration(9*60+i) * time.Minute)
		var err error
		if r.Kind == books.Undo || r.Kind == books.Correction { // what they change is folded anew
			r.Happened = at
			entries = append(entries, books.Entry{Record: r, Machine: 1, Seq: int64(len(entries) + 1), By: 1,
				Settings: 1, Recorded: at})
			m, err = books.Fold(1, entries)
		} else {
			post(at, r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return entries
}

// What is put right in a finished month is told under the day it is about, and so is what
// takes that back, whichever day the month ends with.
func TestForTheDayItIsAbout(t *testing.T) {
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	right := books.Ruled(books.Record{Kind: books.Settlement, Period: 1, Day: "2026-11-20",
		Figures:  []books.Figure{{Field: books.PaidOut, Face: "20", Notes: 59}},
		Happened: shop.Date("2026-11-20").Time().Add(9 * time.Hour)})
	entries := ledger(t, 3, books.Record{Kind: books.Correction, Target: 3, Period: 1, Reason: books.Mistyped,
		Instead: &right}, books.Record{Kind: books.Undo, Target: 13})
	done := []shop.Finished{{Month: "2026-11", Upto: map[shop.MachineID]int64{1: 12}}}
	list, err := journal.Finished(s, 1, entries, done)
	if err != nil {
		t.Fatal(err)
	}
	var late []string
	for _, x := range list {
		if x.For != "" {
			late = append(late, string(x.Date+" "+x.For))
		}
	}
	const want = "2026-12-02 2026-11-20|2026-12-02 2026-11-20"
	if got := strings.Join(late, "|"); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A day that is entered once its month is finished is told under itself by all of its records, also
// by those that say no day.
func TestLateDay(t *testing.T) {
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	entries := ledgerOf(t, 4, []int{3}) // the last, 23 November
	at := func(d shop.Date) time.Time { return d.Time().Add(9 * time.Hour) }
	for i := range entries { // make it the day between: 21 November is the late one
		switch day := entries[i].Happened; {
		case day.Equal(at("2026-11-23")):
			entries[i].Happened = at("2026-11-21")
		case day.Equal(at("2026-11-21")):
			entries[i].Happened = at("2026-11-23")
		}
		if entries[i].Day != "" {
			entries[i].Day = shop.DateOf(entries[i].Happened)
		}
	}
	done := []shop.Finished{{Month: "2026-11", Upto: map[shop.MachineID]int64{1: 12}}}
	list, err := journal.Finished(s, 1, entries, done)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, x := range list {
		if x.Date == "2026-12-02" {
			if n++; x.For != "2026-11-21" {
				t.Errorf("entry %d, a %s, is for %q", x.Seq, x.Kind, x.For)
			}
		}
	}
	if n != 4 {
		t.Errorf("%d records of the late day, want 4", n)
	}
}
