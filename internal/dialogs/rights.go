package dialogs

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// may reports whether the speaker may do something at this moment.
func (c *talk) may(action string) bool {
	r := c.e.rights[action]
	if c.f.Shared && r.phone == ownPhone || c.f.Shop.Fresh && r.ready != fromStart {
		return false
	}
	return r.role.Has(c.f.Person.Role)
}

// mayNot says that something is not for the speaker.
func (c *talk) mayNot(action string) {
	switch {
	case c.f.Shared && c.e.rights[action].phone == ownPhone:
		c.say(c.v.Say("own-phone"))
		return
	case c.f.Shop.Fresh && c.flow() != nil:
		c.first(c.v.Say("setup-first"))
		c.redraw()
		return
	case c.f.Shop.Fresh:
		c.notSetUp()
		return
	}
	c.say(c.v.Say("may-not", "role", c.v.Say("role."+string(c.f.Person.Role))))
}

// barred ends a dialog that the speaker may not go on with: the role may have
// changed since its card was shown.
func (c *talk) barred() bool {
	f := c.flow()
	if f == nil || c.in.Kind == Remind || c.m.ID != c.State.Machine || c.may(f.name) {
		return false
	}
	role := c.v.Say("role." + string(c.f.Person.Role))
	c.close(Block{Text: c.v.Say("may-no-more", "what", c.v.Say("flow."+f.title), "role", role)})
	return true
}

// Actions lists all that can be done: commands, dialogs, and the cards that
// stand by themselves.
func (e *Engine) Actions() []string { return slices.Sorted(maps.Keys(e.rights)) }

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

// done finishes a step: what was recorded, and every card, says where.
func (c *talk) done() Result {
	if c.unsure && c.in.Kind != Remind {
		c.State.Machine = 0
	}
	if f := c.flow(); c.in.Kind != Remind {
		s := c.screen()
		c.State.Works, c.State.Blind, c.State.Code = f != nil && f.presence == atWork, s.blind, s.code
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
				row[i].Data += ":" + strconv.FormatInt(int64(c.m.ID), 10)
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
	return Reply{To: to, Menu: c.e.Menu(c.v, role)}
}

// Menu lists the commands behind the menu sign of a chat in which somebody of
// the role speaks, in the order they have there. The platform takes small
// letters and digits only.
func (e *Engine) Menu(v *texts.Voice, role shop.Role) []MenuItem {
	offered := slices.DeleteFunc(slices.Clone(e.commands), func(cmd command) bool {
		return cmd.menu == 0 || !cmd.role.Has(role)
	})
	slices.SortFunc(offered, func(a, b command) int { return a.menu - b.menu })
	items := make([]MenuItem, 0, len(offered))
	for _, cmd := range offered {
		items = append(items, MenuItem{Name: cmd.name, Text: v.Say("help." + cmd.name)})
	}
	return items
}

// secret answers a message that was dropped unread because it seemed to hold a
// combination or somebody's code.
func (c *talk) secret() {
	c.drop()
	c.first(c.v.Say("secret"))
	if c.flow() != nil {
		c.show()
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
