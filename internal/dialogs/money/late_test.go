package money_test

import (
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// rings delivers the deadline of a claim at its time, and says when that was.
func rings(t *testing.T, f *floor.Floor, name string) (date, said string) {
	t.Helper()
	var at chat.Deadline
	for _, d := range f.Due {
		if d.Name == name {
			at = d
		}
	}
	if at.At.IsZero() {
		t.Fatalf("%s is not to ring", name)
	}
	f.Now = at.At
	said = f.Step("owner", chat.Input{Kind: chat.Remind, Text: name, Due: at.At}, "("+name+")")
	return f.Now.In(f.Shop.Location).Format("2006-01-02"), said
}

// Three days that were due on the same Monday are late together, and told of once, with the
// first; Monday's own, due on Tuesday, is not told of while they are not paid, for whoever looks
// sees it, and is once they are.
func TestLateTogether(t *testing.T) {
	f, no := unpaid(t)
	date, said := rings(t, f, "owed-"+no[0])
	f.Expect(said, "Money from the bank is late.|for Fri 27 Nov and was due Mon 30 Nov|"+
		"Late as well: 2 more.|Ask the bank first|[The bank paid]|[Write to the bank]", "Sat 28")
	if date != "2026-12-01" {
		t.Errorf("told on %s", date)
	}
	for _, n := range no[1:] {
		if _, said := rings(t, f, "owed-"+n); said != "" {
			t.Errorf("%s is told of again: %s", n, said)
		}
	}
	f, no = unpaid(t)
	f.Play("owner: credit 3000 for friday to sunday; [Confirm]")
	date, said = rings(t, f, "owed-"+no[3])
	f.Expect(said, "for Mon 30 Nov and was due Tue 1 Dec", "Late as well")
	if date != "2026-12-02" {
		t.Errorf("told on %s", date)
	}
}

// unpaid is a shop on the evening of Monday 30 November that was paid for none of four days,
// and the records of what is owed for them.
func unpaid(t *testing.T) (f *floor.Floor, no []string) {
	t.Helper()
	f = floor.New(t, dialogs.New)
	for _, date := range []string{"2026-11-27", "2026-11-28", "2026-11-29", "2026-11-30"} {
		f.Play(floor.Day(date, "40 100 200", "0 50 0", "none"))
		claims := f.Machine.Claims
		no = append(no, strconv.FormatInt(claims[len(claims)-1].Seq, 10))
	}
	return f, no
}

// Money that is late by more than two weeks is told once more, to owners; what was paid or given
// up by then is not.
func TestLongOverdue(t *testing.T) {
	for script, told := range map[string]bool{"": true,
		"owner: credit 400 for friday 27 november; [Fri 27 Nov, €600 still]":      true,
		"owner: credit 1000 for friday 27 november; [Confirm]":                    false,
		"owner: write off friday 27 november; [Too little to ask for]; [Confirm]": false,
	} {
		f := floor.New(t, dialogs.New)
		f.Shop.People[1].Role = shop.Manager
		f.Play(floor.Day("2026-11-27", "40 100 200", "0 50 0", "none"))
		name := "owedlong-" + strconv.FormatInt(f.Machine.Claims[0].Seq, 10)
		at := f.Due
		f.Play(script)
		f.Due = at // the deadline rings all the same, as one does that was on its way
		date, said := rings(t, f, name)
		if !told {
			if said != "" {
				t.Errorf("%s: told of: %s", script, said)
			}
			continue
		}
		f.Expect(said, "Money from the bank is late.|for Fri 27 Nov and was due Mon 30 Nov", "more.")
		if date != "2026-12-15" { // fifteen days after it was due
			t.Errorf("told on %s", date)
		}
		if list := f.Last.Replies; len(list) != 1 || list[0].To.Person != 1 {
			t.Errorf("told %d times, first to %+v", len(list), list[0].To)
		}
	}
}

// A tap on a card of what is owed that does not say which page it wants tells nothing.
func TestOwedTap(t *testing.T) {
	f := owing(t)
	for _, arg := range []string{"x", "", "0.x", "0.2026-02-30"} {
		f.Expect(f.Press("owner", chat.Button{Label: "?", Data: "o:owed:" + arg}), "bot!> ", "€")
	}
	for _, arg := range []string{"x", "99"} {
		f.Expect(f.Press("owner", chat.Button{Label: "?", Data: "o:bank:" + arg}), "bot!> ", "€")
	}
}

// Who gives money up says why in words of their own: they stand on the record and are told to
// the other managers, with at most two hundred letters.
func TestWriteOffOwnWords(t *testing.T) {
	f := owing(t)
	f.Shop.People[2].Role = shop.Manager
	f.Expect(f.Play("owner: write off 120 for monday"), "Why? Tap it, or say it in your own words.", "Confirm")
	f.Expect(f.Says("owner", "the bank took its fee twice"),
		"€120 for Mon 23 Nov is given up: |the bank took its fee twice|Nobody is reminded|[Confirm]", "")
	f.Expect(f.Taps("owner", "Confirm"), "bot@others> Money from the bank was given up.|"+
		"Ada gave €120 up for Mon 23 Nov: |the bank took its fee twice|Given up, 09:00.|€4,260", "")
	e := f.Entries[len(f.Entries)-1]
	if e.Kind != books.WriteOff || e.Reason != books.Other || e.Words != "the bank took its fee twice" ||
		parts(f) != "120 given-up" {
		t.Errorf("booked %+v", e.Record)
	}
	f.Play("owner: write off tuesday; " + strings.Repeat("a letter costs more than it brings, ", 6) +
		"; [Confirm]")
	if e := f.Entries[len(f.Entries)-1]; len([]rune(e.Words)) != 200 || !strings.HasPrefix(e.Words, "a letter") {
		t.Errorf("%d letters are kept: %s", len([]rune(e.Words)), e.Words)
	}
	f.Expect(f.Says("owner", "write off blue moon"), "blue moon|[Mon 23 Nov", "Why?")
}

// What was paid meanwhile is not given up.
func TestWriteOffMeanwhile(t *testing.T) {
	f := owing(t)
	f.Shop.People[2].Role = shop.Manager
	f.Play("owner: write off tuesday; [Too little to ask for]\nstaff2: credit 500 for tuesday; [Confirm]")
	n := len(f.Entries)
	f.Expect(f.Taps("owner", "Confirm"), "What will the bank not pay?|[Mon 23 Nov", "Given up|Tue 24 Nov, €")
	if len(f.Entries) != n {
		t.Errorf("booked %+v", f.Entries[n].Record)
	}
}
