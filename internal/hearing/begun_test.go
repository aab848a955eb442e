package hearing

import "testing"

// What begins with a command's word is the command with what it takes, or a sentence.
func TestBegun(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, c := range []struct {
		id, rest, text string // the command whose words the text begins with, and what follows
		means          bool
		takes          string
	}{
		{"open", "40 150 200", "open 40 150 200", true, "40 150 200"},
		{"open", "20s 150, top 40", "open 20s 150, top 40", true, "20s 150, top 40"},
		{"open", "٤٠ १५०", "open ٤٠ १५०", true, "٤٠ १५०"},
		{"open", "abc", "open abc", true, "abc"},
		{"open", "it to get someones visa out", "can i open it to get someones visa out", false, ""},
		{"open", "the safe wont open", "open the safe wont open", false, ""},
		{"close", "to empty", "close to empty", false, ""},
		{"close", "12 60 80", "close 12 60 80", true, "12 60 80"},
		{"test", "pick failed", "test pick failed", false, ""},
		{"test", "failed", "test failed", false, ""},
		{"test", "20x1", "test 20x1", true, "20x1"},
		{"day", "end error", "day end error", false, ""},
		{"day", "24 nov", "day 24 nov", true, "24 nov"},
		{"day", "yesterday", "day yesterday", true, "yesterday"},
		{"day", "blah", "day blah", true, "blah"},
		{"hold", "off", "hold off", false, ""},
		{"hold", "on a second", "hold on a second", false, ""},
		{"hold", "box 2 is stuck", "hold box 2 is stuck", true, "box 2 is stuck"},
		{"hold", "until friday", "hold until friday", true, "until friday"},
		{"float", "is missing", "float is missing", false, ""},
		{"hours", "mon-fri 7-21 sat 9-18 sun closed", "hours mon-fri 7-21 sat 9-18 sun closed", true,
			"mon-fri 7-21 sat 9-18 sun closed"},
		{"hours", "christmas eve 9-13", "hours christmas eve 9-13", true, "christmas eve 9-13"},
		{"export", "november xlsx", "export november xlsx", true, "november xlsx"},
		{"credit", "4400 for 24 nov", "credit 4400 for 24 nov", true, "4400 for 24 nov"},
		{"credit", "1464 for 11 may, charges 6", "credit 1464 for 11 may, charges 6", true,
			"1464 for 11 may, charges 6"},
		{"settle", "failed", "settle failed", false, ""},
		{"settle", "total 1500", "settle total 1500", true, "total 1500"},
		{"show-me", "which days the bank has not paid", "show me which days the bank has not paid", false, ""},
		{"closing-at", "15:00 tomorrow", "closing at 15:00 tomorrow", true, "15:00 tomorrow"},
	} {
		means, takes := true, c.rest
		if !sit.Takes(c.rest) {
			means, takes = e.Understand(c.text, sit).Begun(c.id, c.rest, sit)
		}
		if means != c.means || means && takes != c.takes {
			t.Errorf("%q as %s: %v %q, want %v %q", c.text, c.id, means, takes, c.means, c.takes)
		}
	}
}

// What is only said between a command's word and its figures is left out.
func TestBare(t *testing.T) {
	for rest, want := range map[string]string{
		"now 40 150 200": "40 150 200", "now, please 12 60": "12 60", "with 40 150": "40 150", "40 150": "40 150",
		"nowhere": "nowhere", "": "", "Now 20x3": "20x3",
	} {
		if got := Bare(rest); got != want {
			t.Errorf("%q: %q, want %q", rest, got, want)
		}
	}
}

// Slots are written so that the readers of commands take them.
func TestTyped(t *testing.T) {
	for _, c := range []struct {
		slots Slots
		want  string
	}{
		{Slots{}, ""},
		{Slots{Counts: map[string]int64{"5": 3, "20": 50, "100": 2}}, "100s 2 20s 50 5s 3"},
		{Slots{Date: "2026-11-13"}, "2026-11-13"},
		{Slots{From: "2026-11-01", To: "2026-11-30"}, "November 2026"},
		{Slots{From: "2026-11-02", To: "2026-11-08"}, "2026-11-02 to 2026-11-08"},
		{Slots{To: "2026-11-20"}, "until 2026-11-20"},
		{Slots{Money: "4400", Date: "2026-11-24"}, "4400 for 2026-11-24"},
		{Slots{Date: "2026-11-14", Time: "21:00"}, "2026-11-14 21:00"},
		{Slots{Text: "Zoe"}, "Zoe"},
	} {
		if got := c.slots.Typed(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.slots, got, c.want)
		}
	}
}

// A text of figures is about a count; with more beside them it may be anything.
func TestOnlyFigures(t *testing.T) {
	for text, want := range map[string]bool{
		"about 150 and 200": true, "hundred and fifty by two hundred": true, "i have 2 boxes": true,
		"10 minutes please": true, "close to 150 i think": true, "40": true,
		"what do i do with a ripped one": false, "the one in the corner": false, "no wait": false,
		"is the 20 in the top box real or not": false, "150?": false, "notes are stuck": false, "": false,
		"the machine paid 2 twenties too many": false,
	} {
		if got := OnlyFigures(text); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
