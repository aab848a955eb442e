package dialogs_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs/floor"
)

// things people type, sense and nonsense.
var typed = []string{
	"open", "open 40 150 200", "open 40 3000 200", "40", "150", "0", "none", "no", "yes", "2x20", "20x50 10x10",
	"1b+37",
	"-5", "1.5", "30x7", "9999999", "€3000 in 20s", "total 1200", "1800", "close", "close 12 60 80", "finish",
	"settle",
	"top up 20x50", "top up", "swap", "move", "borrow 5x20", "move 5x20 exchange", "bring back 5x20",
	"level 30 100 150",
	"count now", "second count", "test", "test 1 1 1", "found 2x20", "undo", "cancel", "help", "help more",
	"status",
	"history", "printed 7000", "printed", "earlier", "earlier yesterday 18:30", "06:40",
	"what do i do with a ripped one",
	"people", "invite", "invite Max", "settings", "switch", "overview", "lost phone", "my code", "set up",
	"new shop", "back", "IE",
	"50 20 10", "2000", "mon-fri 7-21",
	"credit", "credit 1200", "credit 1200 for today", "credit 300 for yesterday", "debit 100",
	"debit 50 for today", "match", "write off", "write off today", "owed",
	"day", "day yesterday", "month", "float", "float yesterday", "export", "correct", "correct 1", "correct 3",
	"correct today",
	"today", "yesterday", "history today", "50x28 20x89 10x120",
	"notes are stuck", "machine is offline", "man with a gun", "1", "faults", "guides", "contacts",
	"change contacts",
	"reference 4711", "visit", "what do i do with a torn note", "the engineer is here", "30 100 150", "50x1",
	"swap 20s", "middle", "swap 7s", "1x160", "20x1000", "2 000", "40 2 000 200", "earlier 25 nov 11:00",
	"earlier 25 nov",
	"earlier tomorrow 10:00", "earlier Wed 25 Nov, 05:00",
	"", " ", "🙂", "١٥٠", "20x150 20x3", "/start", "a very long sentence about nothing that goes on and on",
}

var labels = []string{
	"Confirm", "Change", "More", "Cancel", "Yes", "No", "I looked", "Not looked", "Back in", "Skip", "All done",
	"Something", "Customers", "Go on", "What", "Use", "It really",
	"Take over", "Count again", "Top-up", "Close first", "1 of each", "Box for", "Put aside", "top", "middle",
	"bottom", "Back",
	"It is over", "Stop this guide", "It works", "Out of", "Never", "Solved", "Announced", "The work",
	"There is no count", "Put aside",
	"Shop's safe", "Provider", "None of these", "It is stopped", "Record notes", "Rung", "Yes, steady",
	"Counters", "I must go", "Ben", "Change role", "Staff", "No longer", "Yes, remove", "Invite", "Note boxes",
	"Seen", "Keep",
	"2,000", "Keys", "Stands", "Phone", "Add a machine", "It is right", "Leave", "The rest", "With a device",
	"Take change", "Swap",
	"Correct it", "Yes, correct", "Count the box", "The figures", "The day", "It never", "Typed wrongly",
	"That is all", "1.", "3.", "50s",
	"20s", "Another day", "Earlier days", "I don't know", "Another shop", "Our fee", "A customer", "Write to",
	"Record a top-up", "Correct that", "Another time", "Box swapped", "Levels",
	"Take notes", "Safe to", "Bank to", "Fri", "Wed", "Opening", "Closing", "150 notes",
}

// TestAnything plays random messages and taps of three people at one machine.
// Whatever they do: no step panics, every reply can be read on a locked phone,
// every button fits, notes are conserved, the state survives being stored, and
// "cancel" leads out of every dialog.
func TestAnything(t *testing.T) {
	const waiting = 3 // a dialog, one that was put aside for it, and the command after that
	checks.Rapid(t, 60, 2_500, 1_000_000, func(rt *rapid.T) {
		f := newFloor(t)
		f.Check = func(r chat.Reply) { checkReply(rt, f, r) }
		names := []string{"owner", "staff1", "staff2"}
		for range rapid.IntRange(1, 60).Draw(rt, "steps") {
			name := rapid.SampledFrom(names).Draw(rt, "who")
			f.Now = f.Now.Add(
				time.Duration(rapid.SampledFrom([]int{0, 1, 5, 40, 600}).Draw(rt, "minutes")) * time.Minute,
			)
			if rapid.Bool().Draw(rt, "tap") {
				tapIfThere(f, name, rapid.SampledFrom(labels).Draw(rt, "label"))
			} else {
				f.Says(name, rapid.SampledFrom(typed).Draw(rt, "text"))
			}
			checkBooks(rt, f)
		}
		for _, name := range names {
			for range waiting { // what waited for a dialog comes once it has ended, and is cancelled too
				f.Says(name, "cancel")
			}
			if st := f.States[floor.ChatOf(name)]; st.Flow != "" {
				rt.Fatalf("cancel does not lead out of %s/%s\n%s", st.Flow, st.Step, f.Out.String())
			}
		}
	})
}

func tapIfThere(f *floor.Floor, name, label string) {
	for _, b := range f.Live[floor.ChatOf(name)] {
		if strings.HasPrefix(strings.ToLower(b.Label), strings.ToLower(label)) {
			f.Taps(name, label)
			return
		}
	}
}

// checkReply holds a reply against how the program talks.
func checkReply(t *rapid.T, f *floor.Floor, r chat.Reply) {
	if len(r.Body) == 0 && (len(r.Menu) > 0 || r.Delete != 0) {
		return
	}
	if why := unvoiced(r); why != "" || len(r.Body) == 0 {
		t.Fatalf("%s\n%+v\n%s", why, r, f.Out.String())
	}
}

// checkBooks holds the books against what must always be so.
func checkBooks(t *rapid.T, f *floor.Floor) {
	sums := books.Notes{}
	for p, n := range f.Machine.Balance {
		for face, c := range n {
			if p.Inside() && c < 0 {
				t.Fatalf("%s holds %d of %s\n%s", p, c, face, f.Out.String())
			}
			sums.Plus(face, c)
		}
	}
	if len(sums) != 0 {
		t.Fatalf("notes are not conserved: %v\n%s", sums, f.Out.String())
	}
	for where, st := range f.States {
		data, err := json.Marshal(st)
		if err != nil {
			t.Fatal(err)
		}
		var back chat.State
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		f.States[where] = back
	}
}
