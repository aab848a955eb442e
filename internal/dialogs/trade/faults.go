package trade

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

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
