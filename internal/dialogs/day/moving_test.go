package day_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
)

func TestMove(t *testing.T) {
	play(t, open, []story{
		{"ways", "staff2: move", "[Take change for the till]|[Swap for other notes|[Bank to safe]",
			"[Bring change back]"},
		{"not open", "staff1: undo\nstaff1: [Confirm]\nstaff2: move", "[Safe to till|[Bank to safe]",
			"[Take change"},
		{"not open, said", "staff1: undo\nstaff1: [Confirm]\nstaff2: borrow 5x20", "not open|[Safe to till",
			"[Take change"},
		{"tapped", "staff2: move\nstaff2: [Take change", "Which notes, how many?", ""},
		{"change", "staff2: borrow 5x20", "5 notes  €100|[Confirm]", ""},
		{"change, recorded", "staff2: borrow 5x20\nstaff2: [Confirm]",
			"Change taken, 06:40.|not back yet: €100|lock the safe", ""},
		{"anew", "staff2: borrow 5x20\nstaff2: [Change]\nstaff2: 6x20", "6 notes  €120|[Confirm]", ""},
		{"nothing", "staff2: borrow 0x20", "at least one note", "[Confirm]"},
		{"all of them", "staff2: borrow 150x20", "[Confirm]", "not inside"},
		{"not so many", "staff2: borrow 151x20",
			"So many are not inside by what is recorded|[Record a top-up first]|[It really is 151]", ""},
		{"money", "staff2: borrow 1000x20",
			"So many are not inside.|€1,000 is 50 notes|[50 notes]|[Record a top-up", ""},
		{"top-up first", "staff2: borrow 151x20\nstaff2: [Record a top-up]\nstaff2: 20x10\nstaff2: [Confirm]",
			"Top-up recorded|151 notes|[Confirm]", "not inside"},
		{"nothing is owed", "staff2: bring back 5x20", "more than is owed back (€0)|[Confirm anyway]", ""},
		{"exchange", "staff2: move 5x20 exchange", "which notes come for them", "[Confirm]"},
		{"exchange of other value", "staff2: move 5x20 exchange\nstaff2: 9x10", "differ by €10: out €100, in €90",
			"[Confirm]"},
		{"exchange read back", "staff2: move 5x20 exchange\nstaff2: 10x10",
			"5 notes  €100|10 notes  €100|[Confirm]", ""},
		{"exchange: whose", "staff2: move 5x20 exchange\nstaff2: 10x10\nstaff2: 4x20",
			"[Out of the machine]|[Into the machine]", "[Confirm]"},
		{"exchange: it goes out", "staff2: move 5x20 exchange\nstaff2: 10x10\nstaff2: 6x20\nstaff2: [Out of",
			"differ by €20: out €120, in €100", "[Confirm]"},
		{"exchange: it comes in", "staff2: move 5x20 exchange\nstaff2: 10x10\nstaff2: 2x50\nstaff2: [Into the",
			"differ by €100: out €100, in €200", "[Confirm]"},
		{"exchange: more than fits", "staff2: move 1000x10 exchange\nstaff2: [It really]\nstaff2: 50x1961",
			"may not fit", "[Confirm]"},
		{"warning", "staff2: move warning 5x20\nstaff2: [Confirm]", "in the shop's safe now", "not back yet"},
	})
	f := onFloor(t, open+"staff2: borrow 5x20\nstaff2: [Confirm]")
	if r := last(f); r.Kind != books.Moved || r.Reason != books.Change || r.Period != 1 ||
		!slices.Equal(r.Moves, []books.Move{books.NewMove(books.BoxPlace(2), books.Till, "20", 5)}) {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 145, 200)
	expect(t, f.Says("staff2", "move"), "not back yet: €100|[Bring change back]", "")
	f.Says("staff2", "cancel")
	expect(t, f.Says("staff2", "bring back 6x20"), "more than is owed back (€100)|[Confirm anyway]", "")
	expect(t, f.Play("staff2: [Change]\nstaff2: 5x20"), "[Confirm]", "more than") // exactly what is owed
	expect(t, f.Play("staff2: [Confirm]"), "Change brought back, 06:40.|lock the safe", "not back yet")
	holds(t, f, 40, 150, 200)
	f = onFloor(t, open+"staff2: move 5x20 exchange\nstaff2: 10x10\nstaff2: [Confirm]")
	expect(t, f.Out.String(), "Swap recorded, 06:40. Same value out and in.", "")
	holds(t, f, 40, 145, 210)
}

// Between till, safe and bank nothing of the machine has part: kinds of note are
// asked, and what is far above what the shop loads is asked back.
func TestMoveOutside(t *testing.T) {
	play(t, "", []story{
		{"from the bank", "owner: move\nowner: [Bank to safe]", "Which notes, how many?", "box"},
		{"a week's loads", "owner: move\nowner: [Bank to safe]\nowner: 20x999", "[Confirm]", ""},
		{"more than a week's loads", "owner: move\nowner: [Bank to safe]\nowner: 20x1051",
			"1,051 notes of 20s? That is €21,020, more than you usually move.|[It really is 1,051]", "[Confirm]|lock"},
		{"clearly money", "owner: move\nowner: [Bank to safe]\nowner: 20x1000", "€1,000 is 50 notes|[50 notes]",
			"[Confirm]"},
		{"just below", "owner: move\nowner: [Bank to safe]\nowner: 20x980", "[Confirm]", "Did you mean"},
		{"a load", "owner: move\nowner: [Safe to till]\nowner: 20x150", "[Confirm]", "usually"},
		{"more than a load", "owner: move\nowner: [Safe to till]\nowner: 20x151", "more than you usually move",
			"[Confirm]"},
		{"kept", "owner: move\nowner: [Safe to till]\nowner: 20x151\nowner: [It really]\nowner: [Confirm]",
			"Change taken from the safe, 06:40. It is owed back.", "lock"},
		{"more than may be inside", "owner: move\nowner: [Bank to safe]\nowner: 50x801",
			"more than you usually move|€40,050", ""},
		{"none of a kind", "owner: move\nowner: [Bank to safe]\nowner: 20x100, 10x0", "100 notes  €2,000|[Confirm]",
			""},
	})
	f := floorOf(t, anyLoad) // where no load is usual, only money and the limit are known
	expect(t, f.Play("owner: move\nowner: [Safe to till]\nowner: 20x900"), "[Confirm]", "usually")
	expect(t, f.Play("owner: 20x1000"), "Did you mean money? €1,000 is 50 notes.", "")
	f = onFloor(t, "owner: move\nowner: [Bank to safe]\nowner: 50x20, 20x100\nowner: [Confirm]")
	want := []books.Move{books.NewMove(books.Bank, books.Cash, "50", 20), books.NewMove(books.Bank, books.Cash,
		"20", 100)}
	if r := last(f); r.Reason != books.FromBank || r.Period != 0 || !slices.Equal(r.Moves, want) {
		t.Errorf("%+v", r)
	}
	expect(t, f.Play("owner: move\nowner: [Safe to bank]\nowner: 20x100\nowner: [Confirm]"),
		"Notes to the bank recorded", "")
	if got := f.Machine.Balance.At(books.Cash, "50"); got != 20 {
		t.Errorf("%d fifties in the safe", got)
	}
}

// A draft that an older program kept tells its counts by its way: of boxes, or of kinds.
func TestOlderMove(t *testing.T) {
	for how, want := range map[string]string{"change": "50s 0, 20s 5, 20s 0.", "from-bank": "50s 0, 20s 5."} {
		f := floorOf(t, func(f *floor.Floor) { f.Shop.Machines[0].Boxes[2].Face = "20" })
		f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
		f.States[floor.ChatOf("staff2")] = chat.State{V: 1, Flow: "move", Step: "review", Rev: 3,
			Draft: chat.Draft{V: 1,
				Counts: map[string][]int64{"out": {0, 5, 0}}, Choices: map[string]string{"how": how}}}
		expect(t, f.Says("staff2", "ok"), want, "")
	}
}
