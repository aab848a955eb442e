package dialogs

import (
	"slices"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// unset are the things that can be done before a shop is set up.
var unset = []string{"setup", "cancel", "switch", "my-code", "new-shop"}

// ownPhone are the things that are not done on the phone on the counter.
var ownPhone = []string{
	"my-code", "people", "invite", "settings", "lost-phone", "setup", "new-shop",
	"overview", "switch", "leaver",
}

// may reports whether the speaker may do something at this moment.
func (e *Engine) may(c *talk, action string) bool {
	if c.f.Shared && slices.Contains(ownPhone, action) {
		return false
	}
	if c.f.Shop.Fresh && !slices.Contains(unset, action) {
		return false
	}
	return access.Allowed(c.f.Person.Role, action)
}

// mayNot says that something is not for the speaker.
func (e *Engine) mayNot(c *talk, action string) {
	switch {
	case c.f.Shared && slices.Contains(ownPhone, action):
		c.say(c.v.Say("own-phone"))
		return
	case c.f.Shop.Fresh && e.flow(c) != nil:
		c.first(c.v.Say("setup-first"))
		e.redraw(c)
		return
	case c.f.Shop.Fresh:
		e.fresh(c)
		return
	}
	c.say(c.v.Say("may-not", "role", c.v.Say("role."+string(c.f.Person.Role))))
}

// barred ends a dialog that the speaker may not go on with: the role may have
// changed since its card was shown.
func (e *Engine) barred(c *talk) bool {
	f := e.flow(c)
	if f == nil || c.in.Kind == Remind || c.m.ID != c.State.Machine || e.may(c, f.name) {
		return false
	}
	role := c.v.Say("role." + string(c.f.Person.Role))
	c.close(Block{Text: c.v.Say("may-no-more", "what", c.v.Say("flow."+f.title), "role", role)})
	return true
}

// Actions lists what a rule is needed for: commands, dialogs, and the cards
// that stand by themselves.
func (e *Engine) Actions() []string {
	var all []string
	for i := range e.commands {
		all = append(all, e.commands[i].name)
	}
	for name := range e.flows {
		all = append(all, name)
	}
	for name := range standingTaps() {
		all = append(all, name)
	}
	for name := range reminderTaps() {
		all = append(all, name)
	}
	all = append(all, "ticks", "witness")
	slices.Sort(all)
	return slices.Compact(all)
}

// Word is a command and the first of the words for it, in English.
type Word struct{ Command, Word string }

// Words lists the commands.
func (e *Engine) Words() []Word {
	v := e.texts.In("en", "", "")
	var list []Word
	for i := range e.commands {
		first, _, _ := strings.Cut(v.Say("words."+e.commands[i].name), ", ")
		list = append(list, Word{e.commands[i].name, first})
	}
	return list
}

// standingTaps answer buttons on cards that belong to no dialog: leavers,
// witnesses, guides, faults, numbers to ring.
func standingTaps() map[string]func(*Engine, *talk, string) {
	return map[string]func(*Engine, *talk, string){
		"leaver": (*Engine).leaverTap, "witness": (*Engine).witnessTap, "go-on": (*Engine).goOnTap,
		"guide": (*Engine).guideTap, "fault": (*Engine).faultTap, "numbers": (*Engine).numbersTap,
	}
}

// done finishes a step: what was recorded, and every card, says where.
func (c *talk) done() Result {
	if c.unsure && c.in.Kind != Remind {
		c.State.Machine = 0
	}
	several := c.f.Several || len(c.f.Shop.Machines) > 1
	for i := range c.Replies {
		r := &c.Replies[i]
		c.nameMachine(r.Buttons)
		own := r.To == Audience{}
		if len(r.Body) > 0 && !c.nowhere && (!own || several && (r.Key != "" || len(c.Records) > 0)) {
			r.Place = c.place()
		}
	}
	return c.Result
}

// nameMachine lets the buttons of cards that stand by themselves say which
// machine they are about.
func (c *talk) nameMachine(rows [][]Button) {
	if c.m.ID == 0 {
		return
	}
	for _, row := range rows {
		for i := range row {
			if strings.HasPrefix(row[i].Data, "o:") && strings.Count(row[i].Data, ":") == 2 {
				row[i].Data += ":" + itoa64(int64(c.m.ID))
			}
		}
	}
}

// place names the shop, and the machine where there are several.
func (c *talk) place() string {
	if len(c.f.Shop.Machines) > 1 && c.kit != nil {
		return c.v.Say("place", "shop", c.f.Shop.Name, "machine", c.kit.Name)
	}
	return c.f.Shop.Name
}

// menu is the message that sets the commands a chat offers, by role.
func (c *talk) menu(to Audience, role shop.Role) Reply {
	r := Reply{To: to}
	for _, name := range menuNames {
		if access.Allowed(role, name) {
			r.Menu = append(r.Menu, MenuItem{Name: name, Text: c.v.Say("menu." + name)})
		}
	}
	return r
}

// menuNames are the commands behind the menu sign, in this order. The platform
// takes small letters and digits only.
var menuNames = []string{
	"open", "topup", "level", "move", "close", "status", "overview", "people", "invite",
	"settings", "history", "undo", "help",
}

// secret answers a message that was dropped unread because it seemed to hold a
// combination or somebody's code.
func (e *Engine) secret(c *talk) {
	c.drop()
	c.first(c.v.Say("secret"))
	if e.flow(c) != nil {
		e.show(c)
		return
	}
	c.send(Reply{})
}

// drop takes the person's message out of the chat, where that can be done.
func (c *talk) drop() {
	if c.in.Message != 0 {
		c.post(Reply{Delete: c.in.Message})
	}
}
