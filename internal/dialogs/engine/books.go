package engine

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Overtaken reports whether somebody recorded something since the card was
// shown; the card is then shown again with the new figures.
func (c *Talk) Overtaken() bool {
	last, ok := c.lastSince(c.State.Draft.Seq)
	if !ok {
		return false
	}
	c.First(c.V.Say("overtaken", "who", c.Name(last.By), "what", c.V.Say("kind."+string(last.Kind)),
		"when", c.Clock(last.Recorded)))
	return true
}

// lastSince gives the newest record after one, those left aside that change
// nothing anybody relies on.
func (c *Talk) lastSince(seq int64) (last books.Brief, ok bool) {
	for _, b := range slices.Backward(c.M.Recent) {
		if b.Seq <= seq {
			break
		}
		if !slices.Contains(beside, b.Kind) {
			return b, true
		}
	}
	return last, false
}

// beside are kinds of record that come in while others are at work and change
// nothing they rely on.
var beside = []books.Kind{books.Incident, books.News, books.Attachment}

// needsName reports whether a record needs to know who makes it, on a phone that
// several people use. Whoever stands before a fault is not held up by that.
func needsName(r books.Record) bool { return !r.Has(books.SharedPhone) }

// Refuse says that the books do not take a record, and why; nothing of it is written.
func (c *Talk) Refuse(err error) {
	c.Records = nil
	c.M = c.F.Machine
	c.First(telling.Refusal(c.Teller, err))
}

// TellPerson sends a message to one person.
func (c *Talk) TellPerson(id shop.PersonID, r chat.Reply) {
	r.To = chat.Audience{Person: id}
	c.Post(r)
}
