package floor

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Talk is a talk at a local time like "2026-11-26 09:00" in a shop of no machine
// and no plan, for what only reads the clock or the texts.
func Talk(t testing.TB, local string) *engine.Talk {
	t.Helper()
	zone := time.FixedZone("", 3600)
	now, err := time.ParseInLocation("2006-01-02 15:04", local, zone)
	if err != nil {
		t.Fatal(err)
	}
	s := &shop.Shop{Settings: shop.Settings{Country: "IE", Currency: "EUR"}, Location: zone}
	e := engine.New(Texts(t), nil)
	return e.Talk(chat.State{V: chat.StateFormat}, chat.Input{At: now}, chat.Facts{Shop: s, Lang: "en"})
}

// Talk is what a room has at hand when somebody speaks on the floor.
func (f *Floor) Talk(name string) *engine.Talk {
	in := chat.Input{Kind: chat.Text, Chat: ChatOf(name), At: f.Now}
	return f.Engine.Talk(f.State(name), in, f.Facts(name))
}

// Said is what stands in blocks, line by line.
func Said(blocks ...chat.Block) string {
	var all []string
	for _, b := range blocks {
		all = append(all, b.Text)
	}
	return strings.Join(all, "\n")
}

// Day is the script of a day of trading: 40, 150 and 200 notes go in, what is left is
// counted, and what was paid out and cancelled is on the slip.
func Day(date, left, paid, cancelled string) string {
	empty := 0 // boxes, each of which is asked back
	for _, n := range strings.Fields(left) {
		if n == "0" {
			empty++
		}
	}
	return "@" + date + " 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\n@" + date + " 21:05\n" +
		"staff1: close " + left + strings.Repeat("\nstaff1: [Empty]", empty) +
		"\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\n" +
		"staff1: " + paid + "\nstaff1: " + cancelled + "\nstaff1: [Confirm]\n"
}

// Owed is a shop on Thursday 26 November 2026 whose bank owes for three days: Monday
// 28x50 + 89x20 + 120x10 = 4,380, Tuesday 10x50 = 500, Wednesday 50x20 = 1,000; together 5,880.
func Owed(t testing.TB, rooms func(*texts.Catalogue) *engine.Engine) *Floor {
	t.Helper()
	f := New(t, rooms)
	f.Play(Day("2026-11-23", "12 61 80", "28 89 120", "none") +
		Day("2026-11-24", "30 150 200", "10 0 0", "none") +
		Day("2026-11-25", "40 100 200", "0 50 0", "none") + "@2026-11-26 09:00")
	f.Out.Reset()
	return f
}
