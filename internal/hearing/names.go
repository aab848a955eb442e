package hearing

import (
	"slices"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// Names are all that can be asked for, as a command is called everywhere: by a
// reading, by the command line and in the files of phrases.
var Names = []string{
	Now, "open", "topup", "swap", "move", "level", "count-now", "second", "test", "found", "close", "status",
	"load",
	"cash-plan", "owed", "credit", "debit", "day", "month", "float", "export", "history", "correct", "undo",
	"earlier",
	"hours", "closed", "agenda", "reminders", "hold", "lift", "invite", "people", "lost-phone", "settings",
	"overview",
	"faults", "visit", "contacts", "guides", "switch", "backtest", "help", "picture", "leaks", "ill", "duty",
	"pause",
	"finish-month", "statement", "journal", "backup", "missed",
}

// worded are the names that have words of their own in the catalogue.
var worded = []string{
	"open", "topup", "swap", "move", "level", "count-now", "second", "test", "found", "close", "status", "load",
	"cash-plan", "owed", "credit", "debit", "day", "month", "float", "export", "history", "correct", "undo",
	"earlier",
	"hours", "closed", "agenda", "reminders", "hold", "lift", "invite", "people", "lost-phone", "settings",
	"overview",
	"faults", "visit", "contacts", "guides", "switch", "backtest", "help", "ill", "duty", "missed",
}

// WordsOf takes the words of commands out of a catalogue, which gives a list by
// its name.
func WordsOf(list func(string) []string) []Words {
	out := make([]Words, len(worded))
	for i, id := range worded {
		out[i] = Words{ID: id, List: slices.Clone(list("words." + id))}
	}
	return out
}

// At is the situation at a machine of a shop, on a day.
func At(s *shop.Settings, m *shop.Machine, words *when.Words, today shop.Date) Situation {
	sit := Situation{Days: when.Reader{Words: words, Today: today, Order: when.OrderOf(s.Country)}}
	for _, p := range s.People {
		if p.Name != "" {
			sit.Names = append(sit.Names, p.Name)
		}
	}
	sit.Places = append(sit.Places, s.Name)
	for _, other := range s.Machines {
		sit.Places = append(sit.Places, other.Name)
	}
	if m == nil {
		return sit
	}
	sit.Counts.Currency, sit.Counts.Few = s.Currency, true
	if cur, err := cashmath.LookupCurrency(s.Currency); err == nil {
		sit.Counts.MinorDigits = int(cur.Digits())
	}
	for i, b := range m.Boxes {
		line := counts.Line{Face: string(b.Face), Position: b.Position}
		switch {
		case i == 0:
			line.Name = "top"
		case i == len(m.Boxes)-1:
			line.Name = "bottom"
		case len(m.Boxes) == 3:
			line.Name = "middle"
		}
		for _, n := range s.Bundles {
			if n.Face == b.Face {
				line.Bundle = n.Notes
			}
		}
		sit.Counts.Lines = append(sit.Counts.Lines, line)
	}
	return sit
}
