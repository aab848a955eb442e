package books_test

import (
	"maps"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

func notesOf(field books.Field, face string, n int64) books.Figure {
	return books.Figure{Field: field, Face: cashmath.Face(face), Notes: n}
}

// What arises during a visit is the count after and what was taken away, less
// the count before: the identity of a stock-take, worked by hand here.
func TestVisitBetweenTwoCounts(t *testing.T) {
	m, err := books.Fold(1, minutely(
		books.Record{Kind: books.VisitBegun, Marks: []books.Mark{books.Announced},
			Figures: []books.Figure{notesOf(books.Remaining, "50", 30), notesOf(books.Remaining, "20", 100),
				notesOf(books.Refused, "20", 2)},
			Amounts: []books.Amount{{Field: books.Difference, Value: decimal.NewFromInt(-10)}}},
		books.Record{Kind: books.VisitEnded, Target: 1, Figures: []books.Figure{
			notesOf(books.Remaining, "50", 29), notesOf(books.Remaining, "20", 98), notesOf(books.Refused, "20", 3),
			notesOf(books.Touched, "20", 4), notesOf(books.Away, "50", 1)}},
	))
	if err != nil {
		t.Fatal(err)
	}
	v := m.Call(1)
	if v == nil || !v.Known ||
		!maps.Equal(v.Change, books.Notes{"20": -1}) || v.Earlier == nil || v.Earlier.IntPart() != -10 {
		t.Fatalf("got %+v", v)
	}
	if m.Visited() != nil {
		t.Error("the visit still goes on")
	}
}

func TestVisitEndsOnce(t *testing.T) {
	begin := books.Record{Kind: books.VisitBegun, Marks: []books.Mark{books.Announced, books.Uncounted}}
	end := books.Record{Kind: books.VisitEnded, Target: 1}
	m, err := books.Fold(1, minutely(begin, end))
	if err != nil || m.Call(1).Known {
		t.Fatalf("without a count: %v, known %t", err, m.Call(1).Known)
	}
	if _, err := books.Fold(1, minutely(begin, end, end)); err == nil {
		t.Error("ended twice")
	}
	away := books.Record{Kind: books.VisitBegun, Marks: []books.Mark{books.TurnedAway}}
	if _, err := books.Fold(1, minutely(away, end)); err == nil {
		t.Error("a visit that was turned away has an end")
	}
}

// The last five visits are at hand; looking back, all.
func TestVisitsAtHand(t *testing.T) {
	var records []books.Record
	for range 7 {
		records = append(records, books.Record{Kind: books.VisitBegun,
			Trouble: &books.Trouble{Reference: "R"}})
	}
	m, err := books.Fold(1, minutely(records...))
	if err != nil || len(m.Calls) != 5 || m.Call(2) != nil || m.Call(3) == nil || m.Call(7).Reference != "R" {
		t.Errorf("%v: %d at hand, from %d on", err, len(m.Calls), m.Calls[0].Seq)
	}
	if all, err := books.History(1, minutely(records...)); err != nil || len(all.Calls) != 7 {
		t.Errorf("looking back: %v, %d visits", err, len(all.Calls))
	}
	if v := m.Visited(); v == nil || v.Seq != 7 || !v.Had {
		t.Errorf("the visit under way is %+v", v)
	}
	away := append(records, books.Record{Kind: books.VisitBegun, Marks: []books.Mark{books.TurnedAway}})
	if m, err = books.Fold(1, minutely(away...)); err != nil || m.Visited() != nil || m.Call(8).Had {
		t.Errorf("%v: turned away, and %+v is under way", err, m.Visited())
	}
	if (&books.Machine{}).Visited() != nil {
		t.Error("a visit that never was is under way")
	}
}

// A difference arises during a visit only where both counts were made.
func TestVisitWithOneCount(t *testing.T) {
	begin := books.Record{Kind: books.VisitBegun, Figures: []books.Figure{notesOf(books.Remaining, "50", 30)}}
	end := books.Record{Kind: books.VisitEnded, Target: 1, Marks: []books.Mark{books.Uncounted}}
	m, err := books.Fold(1, minutely(begin, end))
	if err != nil {
		t.Fatal(err)
	}
	if under, err := books.Fold(1, minutely(begin)); err != nil || under.Visited() != under.Call(1) {
		t.Errorf("%v: the only visit is not under way", err)
	}
	if v := m.Call(1); v.Known || v.Change != nil || !v.Had || v.Earlier != nil || v.Ended.IsZero() {
		t.Errorf("without a count after: %+v", v)
	}
}
