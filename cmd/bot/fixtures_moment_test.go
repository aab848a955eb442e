package main

import (
	"bytes"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
)

// A personal code that is typed while an older program waited for it, or at the
// card that tells so, never reaches the file.
func TestFixtureCodeIsNotKept(t *testing.T) {
	t.Parallel()
	const code = "48213907"
	for where, c := range map[chat.Chat]struct {
		name, told string
		again      bool // it may be typed once more
	}{
		"term:staff1": {"shared", "The program was renewed", false}, // a tap that waits for who it was
		"term:abe":    {"shared", "I kept nothing of that", false},  // words that wait for the code
		"term:ida":    {"drafts-people", "The program was renewed", true},
	} {
		r := revive(t, c.name)
		first := r.says(where, code)
		if _, waits := r.state(where).WaitsForCode(); waits != c.again {
			t.Errorf("%s: a code is waited for: %v, want %v", where, waits, c.again)
		}
		if c.again {
			r.says(where, code)
		}
		r.close()
		if !strings.Contains(first, c.told) {
			t.Errorf("%s is told\n%s", where, first)
		}
		for _, part := range []string{"", "-wal"} {
			data, err := os.ReadFile(r.file + part)
			if err != nil && !os.IsNotExist(err) {
				t.Fatal(err)
			}
			if bytes.Contains(data, []byte(code)) {
				t.Errorf("%s: the code stands in the file%s", where, part)
			}
		}
	}
}

// A tap that an older program held back until it knew who tapped books nothing;
// what it was to book is told and can be taken over.
func TestFixtureHeldTapIsTold(t *testing.T) {
	t.Parallel()
	const where = "term:staff1"
	r := revive(t, "shared")
	defer r.close()
	before := ask(t, r.file, "SELECT count(*) FROM entry")
	held := chatsIn(t, r.file)[where].Held
	if held == nil || held.Tap == "" {
		t.Fatalf("no tap is held: %+v", held)
	}
	card := r.takes(chat.Input{Chat: where, Kind: chat.Press, Tap: held.Tap})
	if !strings.Contains(card, "You had typed: 50s 0, 20s 50, 10s 0.") {
		t.Errorf("told\n%s", card)
	}
	if n := ask(t, r.file, "SELECT count(*) FROM entry"); n != before {
		t.Errorf("%d records, want %d", n, before)
	}
	r.tap(where, "Take them over")
	r.tap(where, "Confirm")
	r.tap(where, "Cleo")
	if said := r.says(where, "2580"); !strings.Contains(said, "50 notes, €1,000.") {
		t.Errorf("said\n%s", said)
	}
}

// A photo that was sent for a draft stays with its record.
func TestFixturePhotoStays(t *testing.T) {
	t.Parallel()
	const where = "term:cem"
	r := revive(t, "guide")
	defer r.close()
	machine := int64(chatsIn(t, r.file)[where].Machine)
	r.says(where, "150 200")
	r.tap(where, "Take them over")
	r.says(where, "150 200")
	if said := r.tap(where, "Confirm"); !strings.Contains(said, "recorded") {
		t.Fatalf("said\n%s", said)
	}
	kept := texted(t, r.file, `SELECT e.kind || ' ' || a.photo FROM attachment a JOIN entry e
		ON e.machine = a.machine AND e.seq = a.seq WHERE e.machine = `+strconv.FormatInt(machine, 10))
	if len(kept) != 1 || kept[0] != "opening boxes" {
		t.Errorf("kept %q", kept)
	}
}

// While a count of an older program is not resolved nobody is shown what should
// be in the machine; once it is, everybody is.
func TestFixtureCountStaysBlind(t *testing.T) {
	t.Parallel()
	const counts, looks = "term:staff2", "term:owner"
	r := revive(t, "wal")
	defer r.close()
	hidden := func() bool {
		said := r.says(looks, "float")
		if strings.Contains(said, "Where the money is") {
			return false
		}
		before, after, found := strings.Cut(said, "Wed 7 Jan is being counted (Cleo, since 21:05).")
		if !found || strings.ContainsAny(before+after, "0123456789£€") {
			t.Fatalf("said\n%s", said)
		}
		return true
	}
	if !hidden() {
		t.Error("figures are shown before the draft is told")
	}
	if card := r.says(counts, "80"); !strings.Contains(card, "You had typed: 50s 12, 20s 61.") {
		t.Fatalf("told\n%s", card)
	}
	if !hidden() {
		t.Error("figures are shown while the draft is told")
	}
	if busy := r.says("term:staff1", "status"); !strings.Contains(busy, "is busy at the machine") {
		t.Errorf("status says\n%s", busy)
	}
	r.tap(counts, "More")
	r.tap(counts, "Cancel")
	if hidden() {
		t.Error("figures stay hidden")
	}
}

// Figures of a day that somebody else closed meanwhile are told, and not taken
// for another day.
func TestFixtureClosedMeanwhile(t *testing.T) {
	t.Parallel()
	const counts, closes = "term:staff2", "term:owner"
	r := revive(t, "wal")
	defer r.close()
	r.now = r.now.Add(4 * time.Hour) // whoever counted has left
	for _, step := range []string{"close 12 61 80", "[There was none", "[I looked",
		"50x28 20x89 10x120", "[Confirm", "open 40 150 200", "[Confirm"} {
		if label, ok := strings.CutPrefix(step, "["); !ok {
			r.says(closes, step)
		} else if r.tap(closes, label) == "" {
			t.Fatalf("no button %q, but %v", label, r.buttons[closes])
		}
	}
	card := r.takes(chat.Input{Chat: counts, Kind: chat.Redraw})
	if !strings.Contains(card, "You had typed: 50s 12, 20s 61.") || !strings.Contains(card, "over by now") {
		t.Errorf("told\n%s", card)
	}
	if said := r.tap(counts, "Take them over"); said != "" {
		t.Errorf("taken over\n%s", said)
	}
	if card := r.tap(counts, "Count again"); !strings.Contains(card, "50s (top box): how many notes are left") {
		t.Errorf("begun again\n%s", card)
	}
}
