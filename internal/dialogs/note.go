package dialogs

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// CheckMark stands in a reply where the check word of the machine's ledger is
// to be: it is known when the records of the step are written.
const CheckMark = "{check}"

// ownersNote tells the owners of a close: one screen with the day's money, what
// the difference probably is, what the bank owes, and the check word.
func (c *talk) ownersNote(p *books.Period) {
	body := []Block{text(c.v.Say("note.head", "day", c.v.Day(c.dayOf(p).Time())), c.which())}
	body = append(body, c.periodBlocks(p)...)
	lines := []string{}
	for _, f := range p.Findings {
		lines = append(lines, c.v.Say("note.found", "when", c.v.Clock(c.local(f.Happened)), "notes", c.notes(f.Notes)))
	}
	if owed := c.m.ByBank(); owed.IsPositive() {
		lines = append(lines, c.v.Say("note.owed", "money", c.v.Money(owed), "when", c.nextDue()))
	}
	if debt := c.m.Owed(); debt.IsPositive() {
		lines = append(lines, c.v.Say("owed", "money", c.v.Money(debt)))
	}
	lines = append(lines, c.v.Say("note.check", "word", CheckMark))
	r := Reply{Body: append(body, text(lines...)), Silent: true}
	for _, o := range c.f.Shop.People {
		if o.Role == shop.Owner {
			c.tellPerson(o.ID, r)
		}
	}
}

// nextDue words the days on which the bank is to pay what it owes.
func (c *talk) nextDue() string {
	var days []string
	for _, x := range c.m.Due() {
		word := c.dueWord(x)
		if len(days) == 0 || days[len(days)-1] != word {
			days = append(days, word)
		}
	}
	if len(days) > maxFits {
		days = append(days[:maxFits], "…")
	}
	return strings.Join(days, "; ")
}
