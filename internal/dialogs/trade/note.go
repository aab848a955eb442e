package trade

import (
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// OwnersNote tells the owners of a close: one screen with the day's money, what
// the difference probably is, what the bank owes, and the check word. An owner
// who closed has just seen the day; see [ClosedHead].
func OwnersNote(c *engine.Talk, p *books.Period) {
	r := NoteOf(c, p)
	for _, o := range c.F.Shop.People {
		if o.Role == shop.Owner && o.ID != c.F.Person.ID && !SecondBy(c, o.ID) {
			c.TellPerson(o.ID, r)
		}
	}
}

func NoteOf(c *engine.Talk, p *books.Period) chat.Reply {
	body := []chat.Block{engine.Text(c.V.Say("note.head", "day", c.V.Day(c.DayOf(p).Time())), c.Which())}
	body = append(body, PeriodBlocks(c, p)...)
	lines := []string{}
	for _, f := range p.Findings {
		lines = append(lines, c.V.Say("note.found", "when", c.V.Clock(c.Local(f.Happened)), "notes",
			ask.Notes(c, f.Notes)))
	}
	if line := FaultsIn(c, c.M, p); line != "" {
		lines = append(lines, line)
	}
	if owed := c.M.ByBank(); owed.IsPositive() && !c.Hidden() {
		lines = append(lines, c.V.Say("note.owed", "money", Least(c, owesLeast(c), c.V.Money(owed)),
			"when", nextDue(c)))
	}
	if debt := c.M.Owed(); debt.IsPositive() {
		lines = append(lines, c.V.Say("owed", "money", c.V.Money(debt)))
	}
	lines = append(lines, c.V.Say("note.check", "word", chat.CheckMark))
	return chat.Reply{Body: append(body, engine.Text(lines...)), Silent: true}
}

// ClosedHead says that a close is recorded; to an owner with the check word.
func ClosedHead(c *engine.Talk, p *books.Period) string {
	head := c.V.Say("closed-recorded", "when", c.Clock(p.Ended))
	if c.F.Person.Role == shop.Owner {
		head += "\n" + c.V.Say("note.check", "word", chat.CheckMark)
	}
	return head
}

// nextDue words the days on which the bank is to pay what it owes.
func nextDue(c *engine.Talk) string {
	var days []string
	for _, x := range c.M.Due() {
		word := DueWord(c, x)
		if len(days) == 0 || days[len(days)-1] != word {
			days = append(days, word)
		}
	}
	if len(days) > MaxFits {
		days = append(days[:MaxFits], "…")
	}
	return strings.Join(days, "; ")
}

// FaultsIn sums up the machine's faults during a period; empty for none.
func FaultsIn(c *engine.Talk, m *books.Machine, p *books.Period) string {
	end := p.CountedAt
	if end.IsZero() {
		end = c.In.At
	}
	n, open, down := int64(0), int64(0), time.Duration(0)
	for i := range m.Faults {
		f := &m.Faults[i]
		down += f.Down(p.Opened, end, c.In.At)
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
	line := c.V.Count("note.faults", n)
	if down > 0 {
		line += " " + c.V.Say("note.down", "time", HowLong(c, down))
	}
	if open > 0 {
		line += " " + c.V.Say("note.unsolved", "n", open)
	}
	return line
}
