package people

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
)

func askRemove(c *engine.Talk) *engine.Card {
	p, ok := whom(c)
	if !ok {
		c.GoTo("list")
		return nil
	}
	if staff.LastOwner(c.Teller, p) {
		c.First(c.V.Say("last-owner"))
		c.GoTo("person")
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.remove", "who", p.Name)}},
		Buttons: [][]chat.Button{c.Button("remove", "yes"), c.Button("back", "back")}}
}

// removePerson cuts somebody off at once. Their records keep their name.
func removePerson(c *engine.Talk) {
	p, ok := whom(c)
	if !ok || !staff.MayManage(c.Teller, p) || staff.LastOwner(c.Teller, p) {
		c.GoTo("list")
		return
	}
	s := staff.Without(c.F.Shop.Settings, p)
	c.Settings, c.Remove = &s, p.ID
	if p.ID == c.F.Person.ID {
		c.Close(chat.Block{Text: c.V.Say("left")})
		return
	}
	card := staff.Leaver(c.Teller, p, 0)
	if c.F.Person.Role == shop.Owner {
		c.Post(card)
	} else {
		for _, o := range s.People {
			if o.Role == shop.Owner {
				c.TellPerson(o.ID, card)
			}
		}
	}
	c.First(c.V.Say("removed", "who", p.Name))
	ask.FirstPage("days")(c)
}

func daysTaps() map[string]func(*engine.Talk) {
	return map[string]func(*engine.Talk){"more": ask.NextPage,
		"done": func(c *engine.Talk) { c.Close(chat.Block{Text: c.V.Say("days-done")}) }}
}

// askDays lists what somebody recorded in the last seven days, newest first.
func askDays(c *engine.Talk) *engine.Card {
	did := staff.Did(c.Teller, who(c))
	if len(did) == 0 {
		c.Close(chat.Block{Text: c.V.Say("days-none")})
		return nil
	}
	from, to, more := ask.Paged(c, len(did))
	k := &engine.Card{Body: []chat.Block{chat.Lines(staff.DidLines(c.Teller, who(c), did[from:to])...)}}
	if more {
		k.Buttons = append(k.Buttons, c.Button("more", "more"))
	}
	k.Buttons = append(k.Buttons, c.Button("days-done", "done"))
	return k
}

// leaverTap ticks one item off.
func leaverTap(c *engine.Talk, arg string) {
	if p, done, ok := staff.Ticked(c.F.Shop, arg); ok {
		c.Rewrite(staff.Leaver(c.Teller, p, done))
		return
	}
	c.UnknownTap()
}

func formerOptions(c *engine.Talk) []ask.Option {
	return named(staff.FormerNamed(c.Teller), "f-", "erase")
}

func askErase(c *engine.Talk) *engine.Card {
	p, ok := c.F.Shop.Known(who(c))
	if !ok || p.Name == "" || c.F.Person.Role != shop.Owner {
		c.GoTo("former")
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.erase", "who", p.Name, "as", c.Pseudonym(p.ID))}},
		Buttons: [][]chat.Button{c.Button("erase", "yes"), c.Button("back", "back")}}
}

// erasePerson takes a name out of the file. The records stay as they are.
func erasePerson(c *engine.Talk) {
	if c.F.Person.Role != shop.Owner {
		c.GoTo("list")
		return
	}
	c.Erase = who(c)
	c.Close(chat.Block{Text: c.V.Say("erased", "as", c.Pseudonym(who(c)))})
}
