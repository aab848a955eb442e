package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// actOn does what was chosen about a person.
func (c *talk) actOn(p shop.Person, action string) {
	switch action {
	case "role":
		c.goTo("roles")
	case "remove":
		c.goTo("remove")
	case "code":
		c.enter(doMyCode)
		c.choose("who", strconv.FormatInt(int64(p.ID), 10))
		c.goTo("ask")
	case "deputy", "no-deputy":
		c.standIn(p, action == "deputy")
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
		c.share(p, action == "share")
	}
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
		c.post(c.menu(Audience{}, p.Acts()))
		return
	}
	c.tellPerson(p.ID, Reply{Body: []Block{{Text: what}}})
	c.post(c.menu(Audience{Person: p.ID}, p.Acts()))
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
	return &card{body: []Block{{Text: c.v.Say("ask.role", "who", p.Name)}}}
}

// takeRole gives the person in the draft a role.
func takeRole(c *talk, name string) {
	role := shop.Role(strings.TrimPrefix(name, "role-"))
	p, here := c.whom()
	if !here || !c.mayManage(p) {
		return
	}
	if c.lastOwner(p) && role != shop.Owner {
		c.first(c.v.Say("last-owner"))
		c.goTo("person")
		return
	}
	p.Role, p.Deputy = role, false
	c.withPerson(p)
	word := c.v.Say("role." + string(role))
	c.tellRole(p, c.v.Say("told.role", "role", word))
	c.close(Block{Text: c.v.Say("role-set", "who", p.Name, "role", word)})
}

// lostPhoneFlow cuts a phone off in one tap.
func lostPhoneFlow() *flow {
	return &flow{
		name: doLostPhone, title: "lost-phone", version: 1, start: func(c *talk) { c.goTo("list") },
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingChanged,
		rights:   rights{access.Managing, ownPhone, onceSetUp},
		commands: []command{{name: doLostPhone, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"list": pick{head: asking("ask.lost"), options: lostOptions, paged: true, what: "what.lost-phone",
				none: func(c *talk) { c.close(Block{Text: c.v.Say("lost-none")}) }}.screen(),
		},
	}
}

// lostOptions are the people whose phone the speaker may cut off.
func lostOptions(c *talk) (list []option) {
	for _, p := range c.f.Shop.People {
		if live, _, _ := c.phonesOf(p.ID); live && p.ID != c.f.Person.ID &&
			access.MayManage(c.f.Person.Role, p.Role) {
			list = append(list, option{label: p.Name, value: "p-" + strconv.FormatInt(int64(p.ID), 10),
				take: func(c *talk) { c.freeze(p) }})
		}
	}
	return list
}
