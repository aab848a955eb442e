package closing_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
)

// figured are the figures of a kind in a record, by position or kind, in the order of the boxes.
func figured(e books.Entry, field books.Field) (list []int64) {
	for _, f := range e.Figures {
		if f.Field == field {
			list = append(list, f.Notes)
		}
	}
	return list
}

// A slip that fits in another order only is asked about, and taken so only on a yes; as it was
// typed it is doubted like any other. 40 - 12, 150 - 60 and 200 - 80 were paid out.
func TestSlipInAnotherOrder(t *testing.T) {
	const typed = counted + "staff1: 120 90 28"
	tell(t, opened, []story{
		{"asked", typed, "As typed the slip does not fit.|50s   28 notes  €1,400|20s   90 notes  €1,800|" +
			"10s  120 notes  €1,200|[Yes, take it so]|[No, as I typed it]", "balances|more than was put in"},
		{"as typed", typed + "; [No, as I typed]", "120 notes of 50s paid out?|[It really is 120]", "As typed"},
		{"in words", typed + "; no", "120 notes of 50s paid out?", "As typed"},
		{"it fits", counted + "staff1: 28 90 120", "balances", "As typed"},
		{"it fits in none", counted + "staff1: 120 90 29", "120 notes of 50s paid out?", "As typed"},
	})
	f := opened(t)
	f.Expect(f.Play(typed+"; yes"), "It balances, every kind.|28 x 50s, 90 x 20s, 120 x 10s, €4,400", "As typed")
	f.Taps("staff1", "Confirm")
	if got := figured(last(f, books.Settlement), books.PaidOut); !slices.Equal(got, []int64{28, 90, 120}) {
		t.Errorf("booked %v", got)
	}
}

// Where the slip says that notes were refused and nobody found any, the box is asked about before
// there is a result, so that a count made again is as blind as the first.
func TestSlipSaysRefused(t *testing.T) {
	const typed = counted + "staff1: 28 88 120, refused 2"
	f := opened(t)
	f.Expect(f.Play(typed), "The slip says 2 refused; you found none in that box.|[Look again]|[It was empty]",
		"balances|missing")
	f.Play("staff1: [Look again]; 20x2; [Confirm]")
	if e := last(f, books.Count); e.Has(books.NotBlind) ||
		!slices.Equal(figured(e, books.Refused), []int64{2}) {
		t.Errorf("counted again as %+v", e.Record)
	}
	f = opened(t)
	f.Expect(f.Play(counted+"staff1: 28 90 120, refused 2; [It was empty]"), "It balances, every kind.",
		"you found")
	f = opened(t)
	f.Expect(f.Play("staff1: close 12 60 80; 20x2; none; [Confirm]; 28 88 120, refused 2"), "It balances",
		"you found")
}

// What is typed at the result changes the slip: what was cancelled, nothing of it, or figures put
// right, where it is asked which of the two they are of.
func TestTypedAtTheResult(t *testing.T) {
	const even, total = counted + "staff1: 28 90 120; none; ", counted + "staff1: total 4400; none; "
	tell(t, opened, []story{
		{"none was cancelled", even + "none", "It balances, every kind.", "understand"},
		{"some was", even + "cancelled 20x2", "20s         62       60  2 missing|Cancelled: 2 x 20s.|€4,360",
			"balances"},
		{"some of a total", total + "cancelled 40", "€40 is missing.|Slip, paid out: €4,400. Cancelled: €40.",
			"balances"},
		{"it does not say how much", even + "cancelled", "Nothing is lost.|It balances", "missing"},
		{"put right", counted + "staff1: 28 91 120; sorry 20s 90", "sorry 20s 90: what does this change?|" +
			"[Slip, paid out]|[Slip, cancelled]|[Back]", "balances"},
		{"of what was paid out", counted + "staff1: 28 91 120; none; sorry 20s 90; [Slip, paid out]",
			"90 x 20s", "91 x 20s"},
		{"count again, behind More", even + "[More]", "[Confirm]|[Count again]", "missing"},
		{"count again, in sight", counted + "staff1: 28 91 120; none", "[Count again]", "balances"},
	})
}

// A box that nobody counted, it seems, is counted by itself from the result, and so is the box for
// refused notes; the counts made then say that the result was known.
func TestCountedFromTheResult(t *testing.T) {
	f := opened(t)
	f.Expect(f.Play("staff1: close 12 0 80; [Empty]; none; none; [Confirm]; 28 90 120; none"),
		"20s         60        0  60 missing|the box with 20s was not counted, it seems.|[Count the 20s]",
		"balances")
	f.Expect(f.Taps("staff1", "Count the 20s"), "So far: 50s 12, 10s 80.|20s (middle box): how many", "[Empty]")
	f.Expect(f.Says("staff1", "60"), "middle  20s  60 notes  €1,200|Box for refused notes: empty|[Confirm]",
		"anything there")
	f.Taps("staff1", "Confirm")
	e := last(f, books.Count)
	if got := figured(e, books.Remaining); !e.Has(books.NotBlind) || !slices.Equal(got, []int64{12, 60, 80}) {
		t.Errorf("counted %v as %v", got, e.Marks)
	}
	f = opened(t)
	f.Play(counted + "staff1: 28 90 120; none; cancelled 20x2")
	f.Expect(f.Taps("staff1", "Count the box"), "Look in the box for refused notes.|[No, it is empty]",
		"top box")
	f.Expect(f.Says("staff1", "20x2"), "middle  20s  60 notes  €1,200|Box for refused notes: 2 x 20s|[Confirm]",
		"how many")
	f.Taps("staff1", "Confirm")
	if e := last(f, books.Count); !e.Has(books.NotBlind) {
		t.Errorf("the box is counted as %v", e.Marks)
	}
}

// A test payout that was ticked and never recorded is asked about before anything is counted, and
// recorded with where its notes are; there may have been none.
func TestUntoldTest(t *testing.T) {
	ticked := func(script string) *floor.Floor {
		f := opened(t)
		r := books.Record{Kind: books.Checks, Period: 1, Happened: f.Now, Ticks: []string{"test"}}
		f.Record(2, books.Ruled(r))
		f.Play("staff1: close" + script)
		return f
	}
	f := ticked("")
	f.Expect(f.Out.String(), "A test payout was ticked, and not recorded: 1-1-1. Where are its notes?|"+
		"[There was none]", "top box): how many notes are left")
	f.Expect(f.Taps("staff1", "Box for refused"), "Did the machine count the test notes as paid out?|[Yes]|[No]",
		"left in it")
	for tap, marked := range map[string]bool{"Yes": true, "No": false} {
		f := ticked("; [Box for refused]")
		f.Expect(f.Taps("staff1", tap), "Test payout recorded, 21:05.|50s (top box): how many", "ticked")
		e := last(f, books.Test)
		if e.Where != books.Tray || e.Has(books.Counted) != marked ||
			!slices.Equal(figured(e, books.Tried), []int64{1, 1, 1}) {
			t.Errorf("%s: booked %+v", tap, e.Record)
		}
		f.Says("staff1", "cancel")
		f.Expect(f.Says("staff1", "close"), "50s (top box): how many", "ticked") // asked once
	}
	f = ticked("; [There was none]")
	f.Expect(f.Out.String(), "50s (top box): how many", "Test payout recorded")
	if f.Entries[len(f.Entries)-1].Kind != books.Checks {
		t.Errorf("booked %+v", f.Entries[len(f.Entries)-1].Record)
	}
}
