package engine

import (
	"cmp"
	"maps"
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/secrets"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// CarryOut carries out a command as if its word had been typed.
func (c *Talk) CarryOut(name string) {
	c.Rest = ""
	c.Obey(c.E.Named(name))
}

func (c *Talk) UnknownTap() {
	if c.Notice == "" {
		c.Notice = c.V.Say("notice.unknown")
	}
}

// May reports whether the speaker may do something at this moment.
func (c *Talk) May(action string) bool {
	r := c.E.rights[action]
	if c.F.Person.Disputed && c.stopped(action) || c.F.Shared && r.Phone >= OwnPhone ||
		c.F.Shop.Fresh && r.Ready != FromStart {
		return false
	}
	return r.Role.Has(c.F.Person.Role)
}

// stopped reports whether something has to wait because it is open which of two
// phones is the speaker's: all but what everybody who counts may do.
func (c *Talk) stopped(action string) bool {
	r := c.E.rights[action]
	return c.F.Person.Disputed && (r.Phone == SurePhone || !r.Role.Has(shop.Staff))
}

// mayNot says that something is not for the speaker.
func (c *Talk) mayNot(action string) {
	switch {
	case c.stopped(action):
		c.Say(c.V.Say("disputed"))
		return
	case c.F.Shared && c.E.rights[action].Phone >= OwnPhone:
		c.Say(c.V.Say("own-phone"))
		return
	case c.F.Shop.Fresh && c.Flow() != nil:
		c.First(c.V.Say("setup-first"))
		c.Redraw()
		return
	case c.F.Shop.Fresh:
		c.notSetUp()
		return
	}
	c.Say(c.V.Say("may-not", "role", c.V.Say("role."+string(c.F.Person.Role))))
}

// barred ends a dialog that the speaker may not go on with: roles change while a card is shown.
func (c *Talk) barred() bool {
	f := c.Flow()
	if f == nil || c.In.Kind == chat.Remind || c.M.ID != c.State.Machine || c.May(f.Name) {
		return false
	}
	if c.stopped(f.Name) {
		c.Close(chat.Block{Text: c.V.Say("disputed")})
		return true
	}
	role := c.V.Say("role." + string(c.F.Person.Role))
	c.Close(chat.Block{Text: c.V.Say("may-no-more", "what", c.V.Say("flow."+f.Title), "role", role)})
	return true
}

// Allows reports whether a role may do something in a shop that is set up, on an own phone.
func (e *Engine) Allows(role shop.Role, action string) bool { return e.rights[action].Role.Has(role) }

// Actions lists all that can be done: commands, dialogs, cards that stand by themselves.
func (e *Engine) Actions() []string { return slices.Sorted(maps.Keys(e.rights)) }

// RightsOf says who may do something.
func (e *Engine) RightsOf(action string) Rights { return e.rights[action] }

// Commands lists the commands in the order in which help shows them.
func (e *Engine) Commands() []Command { return slices.Clone(e.commands) }

// Cards lists the cards that stand by themselves, by name.
func (e *Engine) Cards() []Standing {
	list := make([]Standing, 0, len(e.cards))
	for _, name := range slices.Sorted(maps.Keys(e.cards)) {
		list = append(list, e.cards[name])
	}
	return list
}

// Done finishes a step: what was recorded, and every card, says where.
func (c *Talk) Done() chat.Result {
	if c.Unsure && c.In.Kind != chat.Remind && // what a card of another machine began goes on there
		(c.State.Flow == "" || c.State.Machine == c.F.Shop.Meant()) {
		c.State.Machine = 0
	}
	c.keepDraft()
	if c.In.Kind != chat.Remind {
		c.State.Works, c.State.Blind, c.State.Code = c.shows()
	}
	for i := range c.Replies {
		r := &c.Replies[i]
		chat.NameMachine(r.Buttons, c.M.ID)
		own := r.To == chat.Audience{}
		if r.Place == "" && len(r.Body) > 0 && !c.Nowhere &&
			!(c.several() && own && r.Names(telling.Where(c.Teller))) &&
			(!own || c.several() && (c.Here || r.Key != "" || len(c.Records) > 0 || r.Figures())) {
			r.Place = telling.Where(c.Teller)
		}
		if c.Shopwide && r.Place != "" {
			r.Place = c.F.Shop.Name
		}
		if own && len(r.Buttons) > 0 && c.In.Kind != chat.Remind {
			c.State.Shown = slices.Concat(r.Buttons...)
		}
	}
	return c.Result
}

// Menu is the message that sets the commands a chat offers, by role.
func (c *Talk) Menu(to chat.Audience, role shop.Role) chat.Reply {
	return chat.Reply{To: to, Menu: c.E.Menu(c.V, role)}
}

// Menu lists the commands behind the menu sign of a chat in which somebody of the role speaks, in the order
// they have there. The platform takes small letters and digits only.
func (e *Engine) Menu(v *texts.Voice, role shop.Role) []chat.MenuItem {
	var items []chat.MenuItem
	byPlace := func(a, b Command) int { return a.Menu - b.Menu }
	for _, cmd := range slices.SortedStableFunc(slices.Values(e.commands), byPlace) {
		if cmd.Menu > 0 && cmd.Role.Has(role) {
			items = append(items, chat.MenuItem{Name: cmd.Name, Text: v.Say("help." + cmd.Name)})
		}
	}
	return items
}

// secret answers a message dropped unread because it seemed to hold a combination or somebody's code.
func (c *Talk) secret() {
	c.Drop()
	c.First(c.V.Say("secret", "what", c.V.Say("secret."+cmp.Or(c.In.What, string(secrets.Code)))))
	if c.Flow() != nil {
		c.Show()
		return
	}
	c.Send(chat.Reply{})
}

// Drop takes the person's message out of the chat, where that can be done.
func (c *Talk) Drop() {
	if c.In.Message != 0 {
		c.Post(chat.Reply{Delete: c.In.Message})
	}
}
