package dialogs

import (
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// tapPerson does what was chosen about a person, if that is still possible.
func tapPerson(c *talk, choice string) bool {
	p, ok := c.whom()
	if !ok || !c.mayManage(p) || !slices.Contains(c.personActions(p), choice) {
		return false
	}
	switch choice {
	case "role":
		c.goTo("roles")
	case "remove":
		c.goTo("remove")
	case "code":
		c.enter(doMyCode)
		c.choose("who", itoa64(int64(p.ID)))
		c.goTo("ask")
	case "deputy", "no-deputy":
		c.standIn(p, choice == "deputy")
	case "phone":
		c.Invite = &Invite{Person: p.ID, Name: p.Name, Role: p.Role, Expires: c.in.At.Add(inviteLife)}
		c.close(
			text(c.v.Say("phone-link", "who", p.Name, "when", c.clock(c.in.At.Add(inviteLife)))),
			Block{Text: LinkMark},
		)
	case "freeze":
		c.freeze(p)
	case "thaw":
		c.Thaw = p.ID
		c.close(Block{Text: c.v.Say("thawed", "who", p.Name)})
	case "share", "unshare":
		c.share(p, choice == "share")
	}
	return true
}

// withPerson lays down the settings with one person changed.
func (c *talk) withPerson(p shop.Person) {
	s := c.f.Shop.Settings
	s.People = slices.Clone(s.People)
	for i := range s.People {
		if s.People[i].ID == p.ID {
			s.People[i] = p
		}
	}
	c.Settings = &s
}

func (c *talk) standIn(p shop.Person, on bool) {
	p.Deputy = on
	c.withPerson(p)
	word := "deputy-off"
	if on {
		word = "deputy-on"
	}
	c.tellRole(p, c.v.Say("told."+word))
	c.close(Block{Text: c.v.Say(word, "who", p.Name)})
}

// tellRole tells a person what they may do from now on.
func (c *talk) tellRole(p shop.Person, what string) {
	if p.ID == c.f.Person.ID {
		c.Replies = append(c.Replies, c.menu(Audience{}, p.Acts()))
		return
	}
	to := Audience{Person: p.ID}
	c.Replies = append(c.Replies, Reply{To: to, Body: []Block{{Text: what}}}, c.menu(to, p.Acts()))
}

func (c *talk) freeze(p shop.Person) {
	c.Freeze = p.ID
	c.managers(Block{Text: c.v.Say("told.frozen", "who", p.Name, "by", c.f.Person.Name)})
	c.close(text(c.v.Say("frozen", "who", p.Name), c.v.Say("frozen-next")))
}

func (c *talk) share(p shop.Person, on bool) {
	for _, ph := range c.phones() {
		if ph.Person == p.ID && !ph.Frozen {
			c.Share = &Phone{Chat: ph.Chat, Shared: on}
		}
	}
	word := "unshared"
	if on {
		word = "shared"
	}
	c.close(Block{Text: c.v.Say(word, "who", p.Name)})
}

func askRoles(c *talk) *card {
	p, ok := c.whom()
	if !ok {
		c.goTo("list")
		return nil
	}
	return &card{
		body:    []Block{{Text: c.v.Say("ask.role", "who", p.Name)}},
		buttons: append(c.roleButtons(), c.button("back", "back")),
	}
}

func tapRole(c *talk, choice string) bool {
	role, ok := c.roleOf(choice)
	p, here := c.whom()
	if !ok || !here || !c.mayManage(p) {
		return false
	}
	if c.lastOwner(p) && role != shop.Owner {
		c.first(c.v.Say("last-owner"))
		c.goTo("person")
		return true
	}
	p.Role, p.Deputy = role, false
	c.withPerson(p)
	word := c.v.Say("role." + string(role))
	c.tellRole(p, c.v.Say("told.role", "role", word))
	c.close(Block{Text: c.v.Say("role-set", "who", p.Name, "role", word)})
	return true
}

// lostPhoneFlow cuts a phone off in one tap.
func lostPhoneFlow() *flow {
	return &flow{
		name: doLostPhone, title: "lost-phone", start: func(c *talk) { c.goTo("list") },
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingChanged,
		rights:   rights{access.Managing, ownPhone, onceSetUp},
		commands: []command{{name: doLostPhone, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"list": {ask: askLost, tap: tapLost, taps: pageTaps(), what: "what.lost-phone"},
		},
	}
}

// losable are the people whose phone the speaker may cut off.
func (c *talk) losable() []shop.Person {
	var list []shop.Person
	for _, p := range c.f.Shop.People {
		if live, _, _ := c.phonesOf(p.ID); live && p.ID != c.f.Person.ID &&
			access.MayManage(c.f.Person.Role, p.Role) {
			list = append(list, p)
		}
	}
	return list
}

func askLost(c *talk) *card {
	list := c.losable()
	if len(list) == 0 {
		c.close(Block{Text: c.v.Say("lost-none")})
		return nil
	}
	from, to, more := c.paged(len(list))
	k := &card{body: []Block{{Text: c.v.Say("ask.lost")}}}
	for _, p := range list[from:to] {
		k.buttons = append(k.buttons, []Button{{p.Name, "p-" + itoa64(int64(p.ID))}})
	}
	if more {
		k.buttons = append(k.buttons, c.button("more", "more"))
	}
	return k
}

func tapLost(c *talk, choice string) bool {
	for _, p := range c.losable() {
		if choice == "p-"+itoa64(int64(p.ID)) {
			c.freeze(p)
			return true
		}
	}
	return false
}
