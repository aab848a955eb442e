package trade

import (
	"slices"
	"strings"

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

// NoteOf is what an owner is told of a close.
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

// TellCorrected tells the managers that an earlier record was corrected.
func TellCorrected(c *engine.Talk, r books.Record) {
	c.Managers(engine.Text(c.V.Say("told.corrected"),
		c.V.Say("told.corrected-by", "who", c.F.Person.Name, "n", r.Target,
			"why", c.V.Say("reason."+string(r.Reason)))))
}

// TellSettings tells the managers, without a sound, what was laid down anew.
func TellSettings(c *engine.Talk, what string) {
	c.TellManagers(chat.Reply{Silent: true,
		Body: []chat.Block{{Text: c.V.Say("told.settings", "who", c.F.Person.Name, "what", what)}}})
}

// Hushed leaves of what a deadline says only what a manager is to hear of the
// robbery itself.
func Hushed(c *engine.Talk, fault bool) {
	c.Replies = slices.DeleteFunc(c.Replies, func(r chat.Reply) bool {
		p, ok := c.F.Shop.Person(r.To.Person)
		return !fault || !ok || !engine.Manages(p)
	})
}

// Seconder is who counts the machine a second time just now, or nobody.
func Seconder(c *engine.Talk) *chat.Activity {
	for i := range c.F.Others {
		if a := &c.F.Others[i]; c.E.Second(a.Flow) && a.Blind && !c.Stale(*a) {
			return a
		}
	}
	return nil
}

// SecondBy reports whether a person is in the middle of a second count.
func SecondBy(c *engine.Talk, id shop.PersonID) bool {
	return slices.ContainsFunc(c.F.Others, func(a chat.Activity) bool {
		return a.Person == id && c.E.Second(a.Flow) && a.Blind && !c.Stale(a)
	})
}
