package engine

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Overtaken reports whether somebody recorded something since the card was
// shown; the card is then shown again with the new figures.
func (c *Talk) Overtaken() bool {
	last, ok := telling.LastSince(c.M, c.State.Draft.Seq)
	if !ok {
		return false
	}
	c.First(c.V.Say("overtaken", "who", c.Name(last.By), "what", c.V.Say("kind."+string(last.Kind)),
		"when", c.Clock(last.Recorded)))
	return true
}

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
