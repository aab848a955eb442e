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
