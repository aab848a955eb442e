package past_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// What was typed of the slip is told where the dialog is left for something else, can be
// changed, and is not booked before it is confirmed.
func TestPrintedLeft(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]; printed")
	expect(t, f.Says("staff1", "borrow 10x20"), "Change for the till", "printed total") // nothing was typed
	f.Play("staff1: cancel; printed 7000; [Change]")
	expect(t, f.Says("staff1", "6900"), "on the slip  €6,900|we put in    €7,000|[Confirm]|[Change]", "")
	expect(t, f.Says("staff1", "borrow 10x20"), "So far: €6,900.|[Go on with printed total]", "€7,000")
	if e := f.Entries[len(f.Entries)-1]; e.Kind != books.Opening {
		t.Fatalf("booked %+v before it is confirmed", e.Record)
	}
	f.Taps("staff1", "Go on")
	expect(t, f.Taps("staff1", "Confirm"), "Slip €6,900, counted €7,000.|Then type the new total", "agrees")
	if e := f.Entries[len(f.Entries)-1]; e.Kind != books.Printed || !e.Amounts[0].Value.Equal(money(6900)) {
		t.Errorf("booked %+v", e.Record)
	}
	f.Says("staff1", "printed blue")
	expect(t, f.Says("staff1", "7000"), "on the slip  €7,000|[Confirm]", "blue")
	f.Taps("staff1", "Confirm")
	expect(t, f.Says("staff1", "7000"), "7000: what is that?", "[Confirm]") // the total is ticked off
}

// Nobody who counts hears from the slip what should be there, and where nothing is open the
// command tells what the last slip said.
func TestPrintedHidden(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-23", "12 61 80", "28 89 120", "none"))
	expect(t, f.Says("staff1", "printed"), "slip of Mon 23 Nov: paid out €4,380. Is that right?", "What total")
	f.Play("@2026-11-24 06:40\nstaff1: open 40 150 200; [Confirm]\n@2026-11-24 21:05\nstaff1: close 40")
	expect(t, f.Says("owner", "printed 7000"), "is being counted (Ben, since 21:05).", "€7,000")
	expect(t, f.Says("owner", "7000"), "", "on the slip|€7,000")
}

// A word for all places is answered by one table of them, each as far as the speaker may see
// it; its buttons lead into one of them, and those of other programs nowhere.
func TestEverywhere(t *testing.T) {
	f := month(t)
	two := func(facts *chat.Facts) {
		facts.Ask.Sites = func() []chat.Site {
			other := *f.Shop
			other.ID, other.Name = 2, "Kiosk"
			m := books.New(1)
			return []chat.Site{{Shop: f.Shop, Person: facts.Person, Machine: f.Machine},
				{Shop: &other, Person: facts.Person, Machine: m}}
		}
	}
	f.Knows = two
	expect(t, f.Says("owner", "owed all"), "What the banks owe, all machines:|€5,340|Kiosk|together €5,340|"+
		"[Example corner shop]|[Kiosk]", "")
	expect(t, f.Taps("owner", "Example corner"), "Mon 23 Nov|€4,340", "Kiosk")
	expect(t, f.Says("staff1", "owed all"), "not part of your role here (staff)", "€")
	for _, data := range []string{"o:all:", "o:all:owed", "o:all:owed.-1.", "o:all:undo.0.", "o:all:blue.1."} {
		expect(t, f.Press("owner", chat.Button{Label: "?", Data: data}), "bot!> ", "€")
	}
	f.Play("owner: credit 40 for monday")
	expect(t, f.Says("owner", "owed all"), "all machines:|together", "")
	f.Shop = fresh(f.Shop)
	expect(t, f.Says("owner", "owed all"), "", "all machines")
}

// fresh is a shop that is not set up.
func fresh(s *shop.Shop) *shop.Shop {
	of := *s
	of.Fresh = true
	return &of
}
