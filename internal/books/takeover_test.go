package books_test

import (
	"reflect"
	"testing"

	"shopfloat/internal/books"
)

// left is a closing count of a period, in notes.
func left(no, fifties, twenties, tens int64, more ...books.Figure) books.Record {
	return books.Record{Kind: books.Count, Period: no, Figures: append([]books.Figure{
		fig(books.Remaining, 1, fifties), fig(books.Remaining, 2, twenties), fig(books.Remaining, 3, tens)},
		more...)}
}

// paid is one slip of a period, in notes.
func paid(no, fifties, twenties, tens int64) books.Record {
	return books.Record{Kind: books.Settlement, Period: no, Figures: []books.Figure{
		kind(books.PaidOut, 1, fifties), kind(books.PaidOut, 2, twenties), kind(books.PaidOut, 3, tens)}}
}

// closing closes a period; the notes stay in unless a place is named.
func closing(no int64, where books.Place) books.Record {
	return books.Record{Kind: books.Close, Period: no, Where: where}
}

// onPaper is a day from paper: 10 fifties alone, in the top box.
func onPaper() books.Record {
	return books.Record{Kind: books.Opening, Marks: []books.Mark{books.Paper}, Ticks: []string{"locked"},
		Figures: []books.Figure{fig(books.Loaded, 1, 10)}}
}

func (l *ledger) holds(place books.Place, want books.Notes) {
	l.t.Helper()
	if got := l.m.Balance[place]; !reflect.DeepEqual(got, want) && len(got)+len(want) > 0 {
		l.t.Errorf("%s holds %v, want %v", place, got, want)
	}
}

// A day entered from paper while another is open loads and counts notes of its
// own: neither the open day nor the next opening takes them over.
func TestPaperDayBesideOthers(t *testing.T) {
	l := newLedger(t)
	l.post(opening()) // 1: 40, 150, 200
	moves := l.post(onPaper())
	if want := []books.Move{books.NewMove(books.Cash, books.BoxPlace(1), "50",
		10)}; !reflect.DeepEqual(moves, want) {
		t.Fatalf("loading from paper moves %v", moves)
	}
	if l.m.Open != 1 || !l.m.Period(2).Paper || len(l.m.Loads) != 1 {
		t.Fatalf("open %d, %d usual loads", l.m.Open, len(l.m.Loads))
	}
	l.holds(books.BoxPlace(1), books.Notes{"50": 50})
	l.post(left(1, 12, 60, 80)) // 28, 90 and 120 went
	l.post(paid(1, 28, 90, 120))
	l.post(closing(1, ""))
	l.post(opening()) // 6: all but what stayed in comes from the shop's cash
	p := l.m.Period(2)
	if p.Taken || p.Box(1).Held != 10 || len(p.Ticks) != 1 {
		t.Errorf("the paper day was taken over: %+v", p)
	}
	if first := l.m.Period(1); !first.Taken || first.Box(1).Held != 0 || first.Ticks != nil {
		t.Errorf("the day before was not taken over: %+v", first)
	}
	l.post(books.Record{Kind: books.Count, Period: 2, Figures: []books.Figure{fig(books.Remaining, 1, 4)}})
	l.post(books.Record{Kind: books.Settlement, Period: 2, Figures: []books.Figure{kind(books.PaidOut, 1, 6)}})
	l.post(closing(2, books.Cash))
	if p := l.m.Period(2); p.Verdict != "balanced" {
		t.Errorf("10 loaded, 6 paid, 4 left: %s %s", p.Verdict, p.Variance)
	}
	l.holds(books.BoxPlace(1), books.Notes{"50": 40})
	l.refold(t)
}

// A paper day that is closed while nothing is open leaves alone what the last
// real one left in the boxes.
func TestPaperDayKeepsWhatIsLeft(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(onPaper())
	l.post(left(1, 12, 60, 80))
	l.post(books.Record{Kind: books.Count, Period: 2, Figures: []books.Figure{fig(books.Remaining, 1, 10)}})
	l.post(closing(2, books.Cash))
	if got := l.m.Inside(); !reflect.DeepEqual(got, books.Notes{"50": 12, "20": 60, "10": 80}) {
		t.Errorf("left inside: %v", got)
	}
}

// The early shift opened before yesterday was closed; today's notes are left in
// when yesterday is closed at last and its notes are said to be put away. They
// were taken over long ago, so what today left stays in the boxes.
func TestClosingATakenDay(t *testing.T) {
	l := newLedger(t)
	l.post(opening())           // 1
	l.post(left(1, 12, 60, 80)) // 2
	moves := l.post(opening())  // 3: 28, 90 and 120 fill up
	want := []books.Move{
		{From: books.Cash, To: books.BoxPlace(1), Face: "50", Notes: 28},
		{From: books.Cash, To: books.BoxPlace(2), Face: "20", Notes: 90},
		{From: books.Cash, To: books.BoxPlace(3), Face: "10", Notes: 120},
	}
	if !reflect.DeepEqual(moves, want) {
		t.Fatalf("the second opening moves %v", moves)
	}
	l.post(left(3, 20, 100, 150)) // 4: 20, 50 and 50 went
	l.post(paid(1, 28, 90, 120))  // 5
	moves = l.post(closing(1, books.Cash))
	if len(moves) != 0 {
		t.Errorf("closing the day before moves %v", moves)
	}
	if got := l.m.Inside(); !reflect.DeepEqual(got, books.Notes{"50": 20, "20": 100, "10": 150}) {
		t.Errorf("left inside: %v", got)
	}
	moves = l.post(opening()) // 7: fills up 20, 50 and 50
	if len(moves) != 3 || moves[0].Notes != 20 || moves[1].Notes != 50 || moves[2].Notes != 50 {
		t.Errorf("the third opening moves %v", moves)
	}
	l.refold(t)
}

// Whoever empties the machine at the close leaves nothing for the next opening.
func TestClosingEmptiesTheMachine(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	l.post(paid(1, 28, 90, 120))
	l.post(closing(1, books.Till))
	l.holds(books.Till, books.Notes{"50": 12, "20": 60, "10": 80})
	if got := l.m.Inside(); len(got) != 0 || l.m.Carried != nil {
		t.Errorf("left inside: %v", got)
	}
	if moves := l.post(opening()); len(moves) != 3 || moves[1].Notes != 150 {
		t.Errorf("the next opening moves %v", moves)
	}
}

// A machine with other boxes than before: what lay in a box that is gone comes
// back to the shop's cash, and a box that is new is filled from nothing.
func TestOtherBoxes(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	moves := l.post(books.Record{Kind: books.Opening, Figures: []books.Figure{
		fig(books.Loaded, 1, 12), // just what is left
		{Field: books.Loaded, Box: 2, Face: "10", Notes: 90}, fig(books.Loaded, 3, 100)}})
	want := []books.Move{
		{From: books.Cash, To: books.BoxPlace(2), Face: "10", Notes: 90},
		{From: books.Cash, To: books.BoxPlace(3), Face: "10", Notes: 20},
		{From: books.BoxPlace(2), To: books.Cash, Face: "20", Notes: 60},
	}
	if !reflect.DeepEqual(moves, want) {
		t.Errorf("movements %v\nwant      %v", moves, want)
	}
}

// Two slips of one day: a test note that the machine counted as paid out is
// taken off what the bank owes once, by the first of them.
func TestTestNotesComeOffOnce(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Boxes, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 1, 1), fig(books.Tried, 2, 1)}})
	l.post(paid(1, 11, 31, 0)) // 550 + 620 - 50 - 20 = 1,100
	l.post(paid(1, 5, 0, 10))  // 250 + 100 = 350
	slips := l.m.Period(1).Slips
	if !slips[0].Due.Equal(money(1100)) || !slips[1].Due.Equal(money(350)) {
		t.Errorf("due %s and %s, want 1100 and 350", slips[0].Due, slips[1].Due)
	}
	if !l.m.Claims[0].Tests.Equal(money(70)) || !l.m.Claims[1].Tests.IsZero() {
		t.Errorf("test notes %s and %s", l.m.Claims[0].Tests, l.m.Claims[1].Tests)
	}
	// 50s: 40 - 11 - 5 + 1 = 25; 20s: 150 - 31 + 1 = 120; 10s: 200 - 10 = 190.
	l.post(left(1, 25, 120, 190))
	l.post(closing(1, ""))
	if p := l.m.Period(1); p.Verdict != "balanced" || p.Gone != nil {
		t.Errorf("%s %s, gone %v", p.Verdict, p.Variance, p.Gone)
	}
	l.owes(1450)
}

// A test that the machine did not count as paid out changes nothing of what is
// owed, wherever its notes went.
func TestUncountedTest(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Till,
		Figures: []books.Figure{fig(books.Tried, 2, 2)}})
	l.holds(books.Till, books.Notes{"20": 2})
	p := l.m.Period(1)
	if p.Tests != nil || p.TestsLeft != nil || p.Box(2).Removed != 2 || p.Box(2).Held != 148 {
		t.Errorf("after the test %+v", p)
	}
	l.post(paid(1, 0, 10, 0))
	l.owes(200)
}

// The machine gave out more test notes than the ledger says are inside: the
// rest is a difference that the printed figures will have to explain.
func TestMoreTriedThanHeld(t *testing.T) {
	l := newLedger(t)
	l.post(books.Record{Kind: books.Opening, Figures: []books.Figure{fig(books.Loaded, 2, 3)}})
	moves := l.post(books.Record{Kind: books.Test, Period: 1, Where: books.Tray,
		Figures: []books.Figure{fig(books.Tried, 2, 5)}})
	want := []books.Move{
		{From: books.Gone, To: books.BoxPlace(2), Face: "20", Notes: 2},
		{From: books.BoxPlace(2), To: books.Tray, Face: "20", Notes: 5},
	}
	if !reflect.DeepEqual(moves, want) {
		t.Errorf("movements %v\nwant      %v", moves, want)
	}
	p := l.m.Period(1)
	if p.Gone["20"] != -2 || p.Box(2).Held != 0 || p.Tray["20"] != 5 {
		t.Errorf("gone %v, held %d, tray %v", p.Gone, p.Box(2).Held, p.Tray)
	}
}
