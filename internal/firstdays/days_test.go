package firstdays_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/firstdays"
	"shopfloat/internal/shop"
)

// A shop that trades from 7 to 21, and not on Sundays; 23 November 2026 is a Monday.
func rule(t *testing.T) firstdays.Rule {
	t.Helper()
	s := shop.Example()
	s.Hours[time.Sunday] = shop.Hours{}
	made, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	return firstdays.RuleOf(made)
}

func at(t *testing.T, s string) time.Time {
	t.Helper()
	zone, err := time.LoadLocation(shop.Example().Zone)
	if err != nil {
		t.Fatal(err)
	}
	when, err := time.ParseInLocation("2006-01-02 15:04", s, zone)
	if err != nil {
		t.Fatal(err)
	}
	return when
}

// Each record is told under the day it was told under, and a slip under its own.
func TestDays(t *testing.T) {
	r := rule(t)
	var entries []books.Entry
	add := func(kind books.Kind, period int64, when string) int64 {
		seq := int64(len(entries)) + 1
		entries = append(entries, books.Entry{Seq: seq,
			Record: books.Record{Kind: kind, Period: period, Happened: at(t, when)}})
		return seq
	}
	want := map[int64]shop.Date{}
	want[add(books.Opening, 0, "2026-11-19 06:40")] = "2026-11-19"
	add(books.Count, 1, "2026-11-20 00:30")
	want[add(books.Settlement, 1, "2026-11-20 09:00")] = "2026-11-19" // printed at the count, in the night
	sunday := add(books.Opening, 0, "2026-11-22 18:00")               // on a Sunday, for Monday
	want[sunday] = "2026-11-23"
	want[add(books.Settlement, sunday, "2026-11-23 20:00")] = "2026-11-23"
	want[add(books.Settlement, sunday, "2026-11-24 20:00")] = "2026-11-24" // its own day in a longer period
	want[add(books.Settlement, sunday, "2026-11-25 05:00")] = "2026-11-24" // before anybody could trade
	want[add(books.Credit, 0, "2026-11-25 10:00")] = "2026-11-25"
	days := firstdays.Of(entries, func(books.Entry) firstdays.Rule { return r })
	got := days.BySeq()
	for seq, day := range want {
		if got[seq] != day {
			t.Errorf("entry %d (%s) is of %s, want %s", seq, entries[seq-1].Kind, got[seq], day)
		}
	}
	if len(got) != len(want) {
		t.Errorf("days of %d records, want %d", len(got), len(want))
	}
	moved := firstdays.Retold(entries, days, days)
	if len(moved) != 1 || moved["2026-11-24"] != "2026-11-23" {
		t.Errorf("told otherwise now: %v", moved)
	}
}
