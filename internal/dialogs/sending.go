package dialogs

import "shopfloat/internal/shop"

// All that a step sends goes out through this file.

// post adds a reply as it stands.
func (c *talk) post(r Reply) { c.Replies = append(c.Replies, r) }

// first puts a line before what is sent next.
func (c *talk) first(text string) { c.lead = append(c.lead, Block{Text: text}) }

// say sends a message of its own.
func (c *talk) say(text string) { c.send(Reply{Body: []Block{{Text: text}}}) }

// send sends a message, below what is to be said first.
func (c *talk) send(r Reply) {
	r.Body = append(c.lead, r.Body...)
	c.lead = nil
	c.post(r)
}

// inPlace sends a card in place of the tapped one; after typed words as a new
// message, from which on the buttons of an old one are dead.
func (c *talk) inPlace(old string, r Reply) {
	if r.Edit = c.edit; r.Edit == "" {
		r.Retire = old
	}
	c.edit = ""
	c.send(r)
}

// amend sends a card in place of the tapped one that stands by itself.
func (c *talk) amend(r Reply) {
	r.Edit, c.edit = c.edit, ""
	c.post(r)
}

// rewrite puts a message in place of the one with its key in this chat.
func (c *talk) rewrite(r Reply) {
	r.Edit = r.Key
	c.post(r)
}

// rewriteAll puts words in place of a message in every chat that was sent it.
func (c *talk) rewriteAll(key string, body ...Block) {
	c.rewrite(Reply{To: Audience{Told: key}, Key: key, Body: body})
}

// tellPerson sends a message to one person.
func (c *talk) tellPerson(id shop.PersonID, r Reply) {
	r.To = Audience{Person: id}
	c.post(r)
}

// tellPeople sends a message to each of several people.
func (c *talk) tellPeople(list []shop.PersonID, r Reply) {
	for _, id := range list {
		c.tellPerson(id, r)
	}
}

// tellManagers sends a message to managers and owners other than the speaker.
func (c *talk) tellManagers(r Reply) {
	r.To = Audience{Managers: true}
	c.post(r)
}

// managers tells managers and owners other than the speaker.
func (c *talk) managers(body ...Block) { c.tellManagers(Reply{Body: body}) }

// tellOthers sends a message to everybody else who counts.
func (c *talk) tellOthers(r Reply) {
	r.To = Audience{Others: true}
	c.post(r)
}

// everybody sends a message to all people of the shop but the speaker.
func (c *talk) everybody(body ...Block) {
	for _, p := range c.f.Shop.People {
		if p.ID != c.f.Person.ID {
			c.tellPerson(p.ID, Reply{Body: body})
		}
	}
}
