package day_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

var expect = floor.Expect

// open has staff1 put €7,000 into the machine of the example shop: 40 fifties,
// 150 twenties and 200 tens.
const open = "staff1: open 40 150 200\nstaff1: [Confirm]\n"

// countedDay is a day on which 12, 60 and 80 notes are left.
const countedDay = open + `
	@2026-11-25 21:05
	staff1: close 12 60 80
	staff1: [I looked: nothing there]
`

// closedDay balances: 28, 90 and 120 notes were paid out.
const closedDay = countedDay + `
	staff1: 28 90 120
	staff1: none
	staff1: [Confirm]
`

// onFloor is the example shop after a script.
func onFloor(t *testing.T, script string) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play(script)
	return f
}

// last is the newest record.
func last(f *floor.Floor) books.Record {
	f.T.Helper()
	if len(f.Entries) == 0 {
		f.T.Fatal("nothing is recorded")
	}
	return f.Entries[len(f.Entries)-1].Record
}

// holds compares what each box holds by the ledger, from the top.
func holds(t *testing.T, f *floor.Floor, want ...int64) {
	t.Helper()
	var got []int64
	for _, b := range f.Shop.Machines[0].Boxes {
		got = append(got, f.Machine.Balance.At(books.BoxPlace(b.Position), b.Face))
	}
	if !slices.Equal(got, want) {
		t.Errorf("the boxes hold %v, want %v\n%s", got, want, f.Out.String())
	}
}

// A story is played on the floor; what is said at its end is looked at.
type story struct{ name, script, want, not string }

func play(t *testing.T, before string, stories []story) {
	t.Helper()
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			f := onFloor(t, before)
			expect(t, f.Play(s.script), s.want, s.not)
		})
	}
}

func photo(f *floor.Floor, name string) string {
	return f.Step(name, chat.Input{Kind: chat.Picture, Photo: books.Photo{ID: "p1"}}, name+"> (photo)")
}
