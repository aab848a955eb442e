package dialogs_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// renew makes the program a newer one, which knows the dialog under way in
// somebody's chat in another form.
func renew(f *floor.Floor, name string) {
	st := f.States[floor.ChatOf(name)]
	st.V = chat.StateFormat - 1
	f.States[floor.ChatOf(name)] = st
}

func recorded(f *floor.Floor) books.Entry {
	f.T.Helper()
	if len(f.Entries) == 0 {
		f.T.Fatal("nothing is recorded")
	}
	return f.Entries[len(f.Entries)-1]
}

func wantIn(t *testing.T, said string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if !strings.Contains(said, part) {
			t.Errorf("%q is not said:\n%s", part, said)
		}
	}
}

// What is entered from earlier keeps its time.
func TestRenewedKeepsTheTime(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 14:00\nstaff1: earlier 12:30\n" +
		"staff1: [Top-up]\nstaff1: 20x50")
	renew(f, "staff1")
	wantIn(t, f.Says("staff1", "20x60"), "in the middle of top-up", "20s 50")
	f.Taps("staff1", "Take them over")
	f.Taps("staff1", "Confirm")
	e := recorded(f)
	at := e.Happened.In(f.Shop.Location).Format(time.DateTime)
	if e.Kind != books.TopUp || at != "2026-11-25 12:30:00" {
		t.Errorf("recorded a %s of %s", e.Kind, at)
	}
}

// Another command asks first where figures would be lost; the command of the
// dialog itself shows them again.
func TestRenewedAsksBeforeItIsLeft(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: close 12")
	renew(f, "staff1")
	wantIn(t, f.Says("staff1", "topup 20x50"), "You had typed: 50s 12.")
	wantIn(t, f.Says("staff1", "close"), "You had typed: 50s 12.")
	wantIn(t, f.Says("staff1", "topup 20x50"), "You are in the middle of closing.")
	wantIn(t, f.Taps("staff1", "Go on with closing"), "You had typed: 50s 12.")
	f.Says("staff1", "topup 20x50")
	wantIn(t, f.Taps("staff1", "Leave closing"), "Only what you had confirmed is recorded", "50 notes")
}

// A tap on a card of the older program books nothing.
func TestRenewedTakesNoOldTap(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200")
	renew(f, "staff1")
	wantIn(t, f.Taps("staff1", "Confirm"), "You had typed: 50s 40, 20s 150, 10s 200.")
	if len(f.Entries) != 0 {
		t.Errorf("recorded %v", f.Entries)
	}
}

// A photo sent at the moment of the change goes with the record, too.
func TestRenewedKeepsAPhoto(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200")
	renew(f, "staff1")
	in := chat.Input{Kind: chat.Picture, Photo: books.Photo{ID: "slip", Unique: "slip"}}
	said := f.Step("staff1", in, "staff1> (photo)")
	wantIn(t, said, "Photo noted with this opening", "50s 40, 20s 150, 10s 200")
	f.Taps("staff1", "Take them over")
	f.Taps("staff1", "Confirm")
	if e := recorded(f); len(e.Photos) != 1 || e.Photos[0].ID != "slip" {
		t.Errorf("recorded %+v", e.Photos)
	}
}

// An open card that is drawn again tells of the change, and of no way back.
func TestRenewedIsDrawnAgain(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40")
	renew(f, "staff1")
	said := f.Step("staff1", chat.Input{Kind: chat.Redraw}, "")
	wantIn(t, said, "You had typed: 50s 40.")
	if strings.Contains(said, "Back to") {
		t.Errorf("said\n%s", said)
	}
	again := f.Step("staff1", chat.Input{Kind: chat.Redraw}, "")
	wantIn(t, again, "Back to opening", "You had typed: 50s 40.")
}

// A count made anew after the result is taken over before the printed figures,
// and what was paid out before the counters started again before the rest.
func TestRenewedKeepsTheOrder(t *testing.T) {
	f := newFloor(t)
	f.Play(`staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-25 21:05
		staff1: close 12 52 80
		staff1: [I looked: nothing there]
		staff1: [More]
		staff1: [Counters]
		staff1: 10 40 60
		staff1: 18 49 60
		staff1: none
		staff1: [Count again]
		staff1: 12 61 80`)
	renew(f, "staff1")
	f.Says("staff1", "status")
	f.Play("staff1: [Take them over]\nstaff1: none\nstaff1: none")
	wantIn(t, f.Taps("staff1", "Confirm"), "It balances", "€4,380")
	f.Taps("staff1", "Confirm")
	if f.Machine.Periods[0].Status != books.Closed {
		t.Errorf("not closed:\n%s", f.Out.String())
	}
}

// A dialog that begins at a tap is not begun by itself.
func TestRenewedHasNothingToBegin(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: [Something is different]")
	renew(f, "staff1")
	wantIn(t, f.Says("staff1", "status"), "in the middle of checklist")
	wantIn(t, f.Taps("staff1", "Begin again"), "Please tap or write once more")
	if flow := f.States[floor.ChatOf("staff1")].Flow; flow != "" {
		t.Errorf("in the middle of %q", flow)
	}
}

// Whoever was to type a personal code on the phone on the counter may still do
// so at the card that tells of the change; it must not be kept then.
func TestRenewedWaitsForTheCode(t *testing.T) {
	f := newFloor(t)
	f.Play("staff1: open 40 150 200")
	renew(f, "staff1")
	facts, st := f.Facts("staff1"), f.States[floor.ChatOf("staff1")]
	facts.Shared = true
	for _, person := range []shop.PersonID{0, floor.People["staff2"]} {
		st.Held = &chat.Held{Kind: chat.Press, Tap: "d:1:confirm", Person: person}
		in := chat.Input{Chat: floor.ChatOf("staff1"), Kind: chat.Redraw, At: f.Now}
		res := f.Engine.Step(st, in, facts)
		if _, waits := res.State.WaitsForCode(); waits != (person != 0) || len(res.Records) > 0 {
			t.Errorf("held for %d: waits %v, recorded %v", person, waits, res.Records)
		}
	}
}
