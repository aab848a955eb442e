package mending_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/mending"
	"shopfloat/internal/shop"
)

func notes(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

// shown writes slots as "field box face = value", those that the record leaves out too.
func shown(slots []mending.Slot) string {
	var list []string
	for _, s := range slots {
		list = append(list, s.ID()+"="+s.Value.String())
	}
	return strings.Join(list, " ")
}

func entry(r books.Record) books.Entry { return books.Entry{Record: r, Seq: 1} }

// What of a record can be corrected: what it says, and what it could have said. The sum of a
// line of the bank's own is not typed, so nobody typed it wrongly.
func TestSlots(t *testing.T) {
	p := &books.Period{Boxes: []books.BoxState{{Position: 1, Face: "50"}, {Position: 2, Face: "20"}}}
	for name, s := range map[string]struct {
		of   books.Record
		p    *books.Period
		want string
	}{
		"an opening": {books.Record{Kind: books.Opening, Figures: []books.Figure{
			{Field: books.Loaded, Box: 1, Face: "50", Notes: 40}, {Field: books.Loaded, Box: 2, Face: "20"}}}, p,
			"loaded.1.50.0.0=40 loaded.2.20.0.0=0"},
		"a top-up, its other boxes too": {books.Record{Kind: books.TopUp, Figures: []books.Figure{
			{Field: books.Added, Box: 2, Face: "20", Notes: 30}}}, p,
			"added.2.20.0.0=30 added.1.50.0.0=0"},
		"a top-up of a period that is unknown": {books.Record{Kind: books.TopUp, Figures: []books.Figure{
			{Field: books.Added, Box: 2, Face: "20", Notes: 30}}}, nil, "added.2.20.0.0=30"},
		"a count, refused notes of every kind": {books.Record{Kind: books.Count, Figures: []books.Figure{
			{Field: books.Remaining, Box: 1, Face: "50", Notes: 12}, {Field: books.Refused, Face: "20", Notes: 2}}}, p,
			"remaining.1.50.0.0=12 refused.0.20.0.0=2 refused.0.50.0.0=0 refused.0.10.0.0=0"},
		"a count without the box for refused notes": {books.Record{Kind: books.Count,
			Marks:   []books.Mark{books.NoTray},
			Figures: []books.Figure{{Field: books.Remaining, Box: 1, Face: "50", Notes: 12}}}, p,
			"remaining.1.50.0.0=12"},
		"a slip in notes": {books.Record{Kind: books.Settlement, Figures: []books.Figure{
			{Field: books.PaidOut, Face: "50", Notes: 28}, {Field: books.Cancelled, Face: "50", Notes: 1}}}, p,
			"dispensed.0.50.0.0=28 reversed.0.50.0.0=1 dispensed.0.20.0.0=0 reversed.0.20.0.0=0 " +
				"dispensed.0.10.0.0=0 reversed.0.10.0.0=0"},
		"a slip in money": {books.Record{Kind: books.Settlement, Amounts: []books.Amount{
			{Field: books.PaidOut, Value: notes(4400)}, {Field: books.Was, Value: notes(9000)},
			{Field: books.Cancelled, Value: notes(50)}}}, p,
			"dispensed.0..0.1=4400 reversed.0..0.3=50"},
		"a move": {books.Record{Kind: books.Moved, Moves: []books.Move{{Face: "20", Notes: 10},
			{Face: "10", Notes: 5}}}, p, ".0.20.1.0=10 .0.10.2.0=5"},
		"a payment": {books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited,
			Value: notes(10)}}}, p, "credited.0..0.1=10"},
		"a debit": {books.Record{Kind: books.Debit, Amounts: []books.Amount{{Field: books.Debited,
			Value: notes(10)}}}, p, "debited.0..0.1=10"},
		"a line of the bank's": {books.Record{Kind: books.Credit, Line: &shop.Line{}, Amounts: []books.Amount{
			{Field: books.Credited, Value: notes(10)}}}, p, ""},
		"a matched claim": {books.Record{Kind: books.Matched}, p, ""},
	} {
		if got := shown(mending.Slots(entry(s.of), s.p, kinds)); got != s.want {
			t.Errorf("%s:\n%s, want\n%s", name, got, s.want)
		}
	}
}

// A slot is found by its id wherever it stands by now; no id finds none.
func TestFind(t *testing.T) {
	slots := mending.Slots(entry(books.Record{Kind: books.Moved, Moves: []books.Move{{Face: "20", Notes: 10},
		{Face: "20", Notes: 5}}}), nil, kinds)
	if got, ok := mending.Find(slots, ".0.20.2.0"); !ok || !got.Value.Equal(notes(5)) {
		t.Errorf("the second movement: %+v, %t", got, ok)
	}
	for _, id := range []string{"", ".0.20.3.0", "loaded.1.50.0.0"} {
		if got, ok := mending.Find(slots, id); ok {
			t.Errorf("%q finds %+v", id, got)
		}
	}
	if _, ok := mending.Find([]mending.Slot{{}}, ""); ok {
		t.Error("no id finds a slot")
	}
}

// A box takes no more than it holds; what is in none is bounded by what no day sees.
func TestMostNotes(t *testing.T) {
	boxes := []shop.Box{{Position: 1, Face: "50", Capacity: 300}, {Position: 2, Face: "20", Capacity: 2000}}
	for box, want := range map[int]int64{1: 300, 2: 2000, 0: 100_000, 3: 100_000} {
		if got := mending.MostNotes(boxes, books.Figure{Box: box}); got != want {
			t.Errorf("box %d: %d, want %d", box, got, want)
		}
	}
}

// redrawn gives a record whose slots of the given ids have other values.
func redrawn(r books.Record, p *books.Period, values map[string]int64) books.Record {
	e := entry(r)
	return mending.Redrawn(e, mending.Slots(e, p, kinds), func(s mending.Slot) decimal.Decimal {
		if n, ok := values[s.ID()]; ok {
			return notes(n)
		}
		return s.Value
	})
}

// Only what is wanted changes: an empty box is told as such, refused notes that are none
// are left out, a movement of nothing goes.
func TestRedrawn(t *testing.T) {
	p := &books.Period{Boxes: []books.BoxState{{Position: 1, Face: "50"}, {Position: 2, Face: "20"}}}
	count := books.Record{Kind: books.Count, Period: 7, Marks: []books.Mark{books.NotBlind},
		Figures: []books.Figure{{Field: books.Remaining, Box: 1, Face: "50", Notes: 12},
			{Field: books.Refused, Face: "20", Notes: 2}}}
	got := redrawn(count, p, map[string]int64{
		"remaining.1.50.0.0": 0, "refused.0.20.0.0": 0, "refused.0.10.0.0": 3,
	})
	want := []books.Figure{{Field: books.Remaining, Box: 1, Face: "50"},
		{Field: books.Refused, Face: "10", Notes: 3}}
	if !slices.Equal(got.Figures, want) || got.Period != 7 || !got.Has(books.NotBlind) {
		t.Errorf("%+v", got)
	}
	for field, keeps := range map[books.Field]bool{books.Loaded: true, books.Remaining: true, books.Left: true,
		books.Added: false, books.PaidOut: false, books.Refused: false} {
		one := books.Record{Kind: books.Test, Figures: []books.Figure{{Field: field, Box: 1, Face: "50", Notes: 1}}}
		id := string(field) + ".1.50.0.0"
		if got := redrawn(one, p, map[string]int64{id: 0}); (len(got.Figures) == 1) != keeps {
			t.Errorf("none of %s: %+v", field, got.Figures)
		}
	}
}

// The record that is corrected stays as it is: the ledger is read by others.
func TestRedrawnLeavesTheLedgerAlone(t *testing.T) {
	moved := books.Record{Kind: books.Moved, Moves: []books.Move{{From: books.Till, Face: "20", Notes: 10},
		{From: books.Till, Face: "10", Notes: 5}}}
	got := redrawn(moved, nil, map[string]int64{".0.20.1.0": 0, ".0.10.2.0": 6})
	if len(got.Moves) != 1 || got.Moves[0] != (books.Move{From: books.Till, Face: "10", Notes: 6}) {
		t.Errorf("%+v", got.Moves)
	}
	if got := redrawn(moved, nil, map[string]int64{".0.20.1.0": 0, ".0.10.2.0": 0}); got.Moves != nil {
		t.Errorf("of no movement: %+v", got.Moves)
	}
	if moved.Moves[0].Notes != 10 || moved.Moves[1].Notes != 5 {
		t.Errorf("the record itself: %+v", moved.Moves)
	}
	slip := books.Record{Kind: books.Settlement, Amounts: []books.Amount{
		{Field: books.Credited, Value: notes(9000)}, {Field: books.PaidOut, Value: notes(4400)}}}
	got = redrawn(slip, nil, map[string]int64{"dispensed.0..0.2": 4450})
	if !got.Amounts[1].Value.Equal(notes(4450)) || !got.Amounts[0].Value.Equal(notes(9000)) ||
		got.Figures != nil {
		t.Errorf("%+v", got)
	}
	if !slip.Amounts[1].Value.Equal(notes(4400)) {
		t.Errorf("the record itself: %+v", slip.Amounts)
	}
}
