package engine

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// All that a step sends goes out through this file.

// Post adds a reply as it stands.
func (c *Talk) Post(r chat.Reply) { c.Replies = append(c.Replies, r) }

// First puts a line before what is sent next.
func (c *Talk) First(text string) { c.Lead = append(c.Lead, chat.Block{Text: text}) }

// Say sends a message of its own.
func (c *Talk) Say(text string) { c.Send(chat.Reply{Body: []chat.Block{{Text: text}}}) }

// Send sends a message, below what is to be said first.
func (c *Talk) Send(r chat.Reply) {
	r.Body = append(c.Lead, r.Body...)
	c.Lead, c.Replies = nil, append(c.Replies, r)
}

// InPlace sends a card in place of the tapped one; after typed words as a new
// message, from which on the buttons of an old one are dead.
func (c *Talk) InPlace(old string, r chat.Reply) {
	if r.Edit = c.Edit; r.Edit == "" {
		r.Retire = old
	}
	c.Edit = ""
	c.Send(r)
}

// Amend sends a card in place of the tapped one that stands by itself.
func (c *Talk) Amend(r chat.Reply) {
	r.Edit, c.Edit = c.Edit, ""
	c.Post(r)
}

// Rewrite puts a message in place of the one with its key in this chat; after typed words
// as a new one, from which on the buttons of the old one are dead.
func (c *Talk) Rewrite(r chat.Reply) {
	if r.Edit = r.Key; c.In.Kind == chat.Text && r.To == (chat.Audience{}) {
		r.Edit, r.Retire = "", r.Key
	}
	c.Post(r)
}

// RewriteAll puts words in place of a message in every chat that was sent it.
func (c *Talk) RewriteAll(key string, body ...chat.Block) {
	c.Rewrite(chat.Reply{To: chat.Audience{Told: key}, Key: key, Body: body})
}

// TellPeople sends a message to each of several people.
func (c *Talk) TellPeople(list []shop.PersonID, r chat.Reply) {
	for _, id := range list {
		c.TellPerson(id, r)
	}
}

// TellManagers sends a message to managers and owners other than the speaker.
func (c *Talk) TellManagers(r chat.Reply) {
	r.To = chat.Audience{Managers: true}
	c.Post(r)
}

// TellAbout tells managers other than the speaker of something, and owners where it is for
// them at once. The rest they read in the letter of the week, unless nobody else manages.
func (c *Talk) TellAbout(k reminders.Concern, r chat.Reply) {
	r.To = chat.Audience{Managers: true, Calm: !reminders.AtOnce(k)}
	c.Post(r)
}

// Managers tells managers and owners other than the speaker.
func (c *Talk) Managers(body ...chat.Block) { c.TellManagers(chat.Reply{Body: body}) }

// TellOthers sends a message to everybody else who counts.
func (c *Talk) TellOthers(r chat.Reply) {
	r.To = chat.Audience{Others: true}
	c.Post(r)
}

// Everybody sends a message to all people of the shop but the speaker.
func (c *Talk) Everybody(body ...chat.Block) {
	for _, p := range c.F.Shop.People {
		if p.ID != c.F.Person.ID {
			c.TellPerson(p.ID, chat.Reply{Body: body})
		}
	}
}

// Lock reminds of the safe, unless what is told happened earlier.
func (c *Talk) Lock() string {
	if !c.State.Draft.Happened.IsZero() {
		return ""
	}
	return c.V.Say("lock")
}
