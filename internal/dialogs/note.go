package dialogs

import (
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// CheckMark stands in a reply where the check word of the machine's ledger is
// to be: it is known when the records of the step are written.
const CheckMark = "{check}"

// ownersNote tells the owners of a close: one screen with the day's money, what
// the difference probably is, what the bank owes, and the check word. An owner
// who closed has just seen the day; see [talk.closedHead].
func (c *talk) ownersNote(p *books.Period) {
	r := c.noteOf(p)
	for _, o := range c.f.Shop.People {
		if o.Role == shop.Owner && o.ID != c.f.Person.ID && !c.secondBy(o.ID) {
			c.tellPerson(o.ID, r)
		}
	}
}

func (c *talk) noteOf(p *books.Period) Reply {
	body := []Block{text(c.v.Say("note.head", "day", c.v.Day(c.dayOf(p).Time())), c.which())}
	body = append(body, c.periodBlocks(p)...)
	lines := []string{}
	for _, f := range p.Findings {
		lines = append(lines, c.v.Say("note.found", "when", c.v.Clock(c.local(f.Happened)), "notes",
			c.notes(f.Notes)))
	}
	if line := c.faultsIn(c.m, p); line != "" {
		lines = append(lines, line)
	}
	if owed := c.m.ByBank(); owed.IsPositive() && !c.hidden() {
		lines = append(lines, c.v.Say("note.owed", "money", c.least(c.owesLeast(), c.v.Money(owed)),
			"when", c.nextDue()))
	}
	if debt := c.m.Owed(); debt.IsPositive() {
		lines = append(lines, c.v.Say("owed", "money", c.v.Money(debt)))
	}
	lines = append(lines, c.v.Say("note.check", "word", CheckMark))
	return Reply{Body: append(body, text(lines...)), Silent: true}
}

// closedHead says that a close is recorded; to an owner with the check word.
func (c *talk) closedHead(p *books.Period) string {
	head := c.v.Say("closed-recorded", "when", c.clock(p.Ended))
	if c.f.Person.Role == shop.Owner {
		head += "\n" + c.v.Say("note.check", "word", CheckMark)
	}
	return head
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

// faultsIn sums up the machine's faults during a period; empty for none.
func (c *talk) faultsIn(m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = c.in.At
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, c.in.At)
		if f.Began.Before(p.Opened) || f.Began.After(end) || f.Light {
			continue
		}
		n++
		if f.Unsolved() {
			open++
		}
	}
	if n == 0 && down == 0 {
		return ""
	}
	line := c.v.Count("note.faults", n)
	if down > 0 {
		line += " " + c.v.Say("note.down", "time", c.howLong(down))
	}
	if open > 0 {
		line += " " + c.v.Say("note.unsolved", "n", open)
	}
	return line
}
