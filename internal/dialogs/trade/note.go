package trade

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// OwnersNote tells the owners of a close: one screen with the day's money, what the difference probably is,
// what the bank owes, and the check word, where a note of each close is wanted; else the letter of the week
// has it. An owner who closed has just seen the day; see [ClosedHead].
func OwnersNote(c *engine.Talk, p *books.Period) {
	if !c.F.Shop.Plan.EachClose {
		return
	}
	r := telling.NoteOf(c.Teller, p)
	for _, o := range c.F.Shop.People {
		if o.Role == shop.Owner && o.ID != c.F.Person.ID && !SecondBy(c, o.ID) {
			c.TellPerson(o.ID, r)
		}
	}
}

// TellCorrected tells the managers that an earlier record was corrected.
func TellCorrected(c *engine.Talk, r books.Record) {
	c.TellAbout(reminders.Changed, chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("told.corrected"),
		c.V.Say("told.corrected-by", "who", c.F.Person.Name, "n", r.Target,
			"why", c.V.Say("reason."+string(r.Reason))))}})
}

// TellSettings tells the managers, without a sound, what was laid down anew.
func TellSettings(c *engine.Talk, what string) {
	c.TellAbout(reminders.Changed, chat.Reply{Silent: true,
		Body: []chat.Block{{Text: c.V.Say("told.settings", "who", c.F.Person.Name, "what", what)}}})
}

// Hushed leaves of what a deadline says only what a manager is to hear of the robbery itself.
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

// AskTicks shows the checklist of a period in place of the tapped card; it is asked again.
func AskTicks(c *engine.Talk, p *books.Period, head string) {
	old := c.Key()
	c.End()
	c.InPlace(old, telling.TicksCard(c.Teller, p, head))
	c.Climb(telling.TicksKey(p.No), c.In.At, reminders.Ticks)
}

// Note writes a record beside the dialog under way, which neither lends it its
// time and photos nor is overtaken by it.
func Note(c *engine.Talk, r books.Record) bool {
	if c.F.Machine == nil {
		return false
	}
	r.Happened = c.In.At.UTC()
	if c.F.Shared && c.F.Person.ID == 0 {
		r.Marks = append(r.Marks, books.SharedPhone)
	}
	entry := c.Entry(r, c.M.Seq+1)
	m := c.M.Clone()
	if _, err := m.Post(entry); err != nil {
		c.Notice = c.V.Say("notice.unknown")
		return false
	}
	if c.State.Draft.Seq == c.M.Seq {
		c.State.Draft.Seq = entry.Seq
	}
	c.M = m
	c.Records = append(c.Records, entry.Record)
	return true
}
