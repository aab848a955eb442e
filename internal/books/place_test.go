package books_test

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// Taken back, movements lead to where they came from, last first.
func TestReverse(t *testing.T) {
	moves := []books.Move{books.NewMove(books.Cash, books.BoxPlace(1), "50", 40),
		books.NewMove(books.BoxPlace(1), books.Till, "50", 15)}
	want := []books.Move{{From: books.Till, To: books.BoxPlace(1), Face: "50", Notes: 15},
		{From: books.BoxPlace(1), To: books.Cash, Face: "50", Notes: 40}}
	if got := books.Reverse(moves); !reflect.DeepEqual(got, want) {
		t.Errorf("reversed %v", got)
	}
	b := books.Balance{}
	if err := b.Apply(moves); err != nil {
		t.Fatal(err)
	}
	if err := b.Apply(books.Reverse(moves)); err != nil || len(b) != 0 {
		t.Errorf("back at %v, %v", b, err)
	}
}

// Every place of ours and what only looks like one.
func TestPlaces(t *testing.T) {
	for place, want := range map[books.Place][2]bool{ // valid, inside
		books.Tray: {true, true}, books.Path: {true, true}, books.BoxPlace(1): {true, true}, "box:12": {true,
			true},
		books.Cash: {true, false}, books.Till: {true, false}, books.Bank: {true, false},
		books.Customers: {true, false}, books.Gone: {true, false}, books.OverShort: {true, false},
		books.Boxes: {false, false}, "": {false, false}, "pocket": {false, false}, "1": {false, false},
		"box:0": {false, true}, "box:-1": {false, true}, "box:01": {false, true}, "box:": {false, true},
		"box:+1": {false, true}, "box:1 ": {false, true}, "Box:1": {false, false},
	} {
		if got := [2]bool{place.Valid(), place.Inside()}; got != want {
			t.Errorf("%q: valid and inside %v, want %v", place, got, want)
		}
	}
}

// Counts that come to nothing are not kept, and a movement of fewer than no
// notes is one the other way.
func TestNotes(t *testing.T) {
	var n books.Notes
	n.Plus("20", 0)
	if n != nil {
		t.Errorf("nothing added: %v", n)
	}
	n.Plus("20", 5)
	n.Plus("5", 1)
	n.Add(books.Notes{"20": -5, "100": 2})
	if !reflect.DeepEqual(n, books.Notes{"5": 1, "100": 2}) || fmt.Sprint(n.Faces()) != "[100 5]" {
		t.Errorf("notes %v, faces %v", n, n.Faces())
	}
	if !n.Value().Equal(decimal.NewFromInt(205)) {
		t.Errorf("worth %s, want 5 + 200", n.Value())
	}
	none := books.NewMove(books.Cash, books.Till, "20", 0)
	if none.From != books.Cash || none.To != books.Till {
		t.Errorf("no notes go the other way: %v", none)
	}
	back := books.NewMove(books.Cash, books.Till, "20", -3)
	if want := (books.Move{From: books.Till, To: books.Cash, Face: "20", Notes: 3}); back != want {
		t.Errorf("movement %v", back)
	}
}

// No money went: every field counts.
func TestMoneyIsZero(t *testing.T) {
	if !(books.Money{}).IsZero() {
		t.Error("nothing is something")
	}
	v := reflect.ValueOf(&books.Money{}).Elem()
	for i := range v.NumField() {
		m := books.Money{}
		reflect.ValueOf(&m).Elem().Field(i).Set(reflect.ValueOf(decimal.NewFromInt(-1)))
		if m.IsZero() {
			t.Errorf("%s is left out", v.Type().Field(i).Name)
		}
	}
}
