package telling

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
)

// NoteOf is what an owner is told of a close.
func NoteOf(t *Teller, p *books.Period) chat.Reply {
	body := []chat.Block{chat.Lines(t.V.Say("note.head", "day", t.V.Day(t.DayOf(p).Time())), t.Which())}
	body = append(body, PeriodBlocks(t, p)...)
	lines := []string{}
	for _, f := range p.Findings {
		lines = append(lines, t.V.Say("note.found", "when", t.V.Clock(t.Local(f.Happened)), "notes",
			t.Notes(f.Notes)))
	}
	if line := FaultsIn(t, t.M, p); line != "" {
		lines = append(lines, line)
	}
	if owed := t.M.ByBank(); owed.IsPositive() && !t.Hidden() {
		lines = append(lines, t.V.Say("note.owed", "money", Least(t, owesLeast(t), t.V.Money(owed)),
			"when", nextDue(t)))
	}
	if debt := t.M.Owed(); debt.IsPositive() {
		lines = append(lines, t.V.Say("owed", "money", t.V.Money(debt)))
	}
	lines = append(lines, checkLines(t)...)
	return chat.Reply{Body: append(body, chat.Lines(lines...)), Silent: true}
}

// ClosedHead says that a close is recorded; to an owner with the check word, once its list is done:
// a tick is a record, too, and would change the word on the same card.
func ClosedHead(t *Teller, p *books.Period) string {
	head := t.V.Say("closed-recorded", "day", t.DayYear(t.DayOf(p)), "when", t.ClockOf(t.DayOf(p), p.Ended))
	if t.F.Person.Role == shop.Owner && len(p.Ticks) == 0 {
		head += "\n" + strings.Join(checkLines(t), "\n")
	}
	return head
}

// firstDue is how many of what is owed are looked at for the days it is due.
const firstDue = 12

// checkLines tell the check word, with the first close of a machine also what it is for.
func checkLines(t *Teller) []string {
	lines := []string{t.V.Say("note.check", "word", chat.CheckMark)}
	closed := 0
	for _, p := range t.M.Periods {
		if p.Status == books.Closed {
			closed++
		}
	}
	if closed == 1 { // two are kept at hand
		lines = append(lines, t.V.Say("note.check-why"))
	}
	return lines
}

// nextDue words the days on which the bank is to pay what it owes.
func nextDue(t *Teller) string {
	var days []string
	for _, x := range t.Claims(dues.Wanted{Is: dues.Still, Limit: firstDue}) {
		word := DueWord(t, x)
		if len(days) == 0 || days[len(days)-1] != word {
			days = append(days, word)
		}
	}
	if len(days) > MaxFits {
		days = append(days[:MaxFits], "…")
	}
	return strings.Join(days, "; ")
}
