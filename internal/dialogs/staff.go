package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

func peopleFlow() *flow {
	return &flow{
		name: "people", title: "people", watches: true, start: func(c *talk) { c.goTo("list") },
		screens: map[string]screen{
			"list":   {ask: askPeople, tap: tapPeople, taps: pageTaps(), what: "what.people"},
			"person": {ask: askPerson, tap: tapPerson, taps: backTo("list"), what: "what.person"},
			"roles":  {ask: askRoles, tap: tapRole, taps: backTo("person"), what: "what.roles"},
			"remove": {
				ask:  askRemove,
				taps: map[string]func(*talk){"yes": removePerson, "back": goBack("person")},
				what: "what.remove",
			},
			"days":   {ask: askDays, taps: daysTaps(), what: "what.days"},
			"former": {ask: askFormer, tap: tapFormer, taps: pageTaps(), what: "what.former"},
			"erase": {
				ask:  askErase,
				taps: map[string]func(*talk){"yes": erasePerson, "back": goBack("former")},
				what: "what.former",
			},
		},
	}
}

func backTo(step string) map[string]func(*talk) { return map[string]func(*talk){"back": goBack(step)} }

// pageTaps go on in a long list, and back to its beginning.
func pageTaps() map[string]func(*talk) {
	return map[string]func(*talk){
		"more": func(c *talk) { c.choose("page", itoa(c.page()+1)) },
		"back": func(c *talk) { c.choose("page", "0"); c.goTo("list") },
	}
}

func askPeople(c *talk) *card {
	people, phones := c.f.Shop.People, c.phones()
	from, to, more := c.paged(len(people))
	k := &card{}
	var rows [][]string
	for _, p := range people[from:to] {
		rows = append(rows, []string{p.Name, c.roleName(p), c.phoneWord(phones, p.ID)})
		k.buttons = append(k.buttons, []Button{{p.Name, "p-" + itoa64(int64(p.ID))}})
	}
	k.body = []Block{{Text: c.v.Say("people")}, columns(3, rows)}
	if more {
		k.buttons = append(k.buttons, c.button("more", "more"))
	}
	k.buttons = append(k.buttons, c.button("invite", "invite"))
	if c.f.Person.Role == shop.Owner && len(c.formerNamed()) > 0 {
		k.buttons = append(k.buttons, c.button("former", "former"))
	}
	return k
}

func (c *talk) phones() []Phone {
	if c.f.Ask.Phones == nil {
		return nil
	}
	return c.f.Ask.Phones()
}

func (c *talk) roleName(p shop.Person) string {
	if p.Deputy {
		return c.v.Say("role.deputy")
	}
	return c.v.Say("role." + string(p.Role))
}

// phoneWord says what is special about a person's phone.
func (c *talk) phoneWord(phones []Phone, id shop.PersonID) string {
	word := "phone.none"
	for _, p := range phones {
		switch {
		case p.Person != id:
		case p.Frozen:
			return c.v.Say("phone.frozen")
		case p.Shared:
			return c.v.Say("phone.shared")
		default:
			word = ""
		}
	}
	if word == "" {
		return ""
	}
	return c.v.Say(word)
}

func tapPeople(c *talk, choice string) bool {
	switch choice {
	case "invite":
		c.enter("invite")
		c.goTo("name")
		return true
	case "former":
		c.choose("page", "0")
		c.goTo("former")
		return true
	}
	id, ok := strings.CutPrefix(choice, "p-")
	n, err := strconv.ParseInt(id, 10, 64)
	if _, known := c.f.Shop.Person(shop.PersonID(n)); !ok || err != nil || !known {
		return false
	}
	c.choose("who", id)
	c.goTo("person")
	return true
}

// whom is the person the card is about; ok is false when they left meanwhile.
func (c *talk) whom() (shop.Person, bool) { return c.f.Shop.Person(c.coded()) }

// mayManage reports whether the speaker may change somebody.
func (c *talk) mayManage(p shop.Person) bool {
	return p.ID == c.f.Person.ID || access.MayManage(c.f.Person.Role, p.Role)
}

func askPerson(c *talk) *card {
	p, ok := c.whom()
	if !ok {
		c.goTo("list")
		return nil
	}
	k := &card{
		body: []Block{
			text(c.v.Say("person", "who", p.Name, "role", c.roleName(p)), c.phoneWord(c.phones(), p.ID)),
		},
	}
	if !c.mayManage(p) {
		k.body = append(k.body, Block{Text: c.v.Say("person-above")})
		k.buttons = [][]Button{c.button("back", "back")}
		return k
	}
	for _, action := range c.personActions(p) {
		k.buttons = append(k.buttons, c.button("person-"+action, action))
	}
	k.buttons = append(k.buttons, c.button("back", "back"))
	return k
}

// personActions are what the speaker can do about somebody now.
func (c *talk) personActions(p shop.Person) []string {
	live, frozen, shared := c.phonesOf(p.ID)
	var list []string
	if c.f.Person.Role == shop.Owner || p.ID != c.f.Person.ID {
		list = append(list, "role")
	}
	switch {
	case p.Deputy:
		list = append(list, "no-deputy")
	case p.Role == shop.Staff:
		list = append(list, "deputy")
	}
	switch {
	case shared:
		list = append(list, "unshare")
	case live && !c.lastOwner(p): // somebody must be able to take the mark off again
		list = append(list, "share")
	}
	if p.ID != c.f.Person.ID {
		list = append(list, "phone")
		if frozen {
			list = append(list, "thaw")
		} else if live {
			list = append(list, "freeze")
		}
	}
	return append(list, "code", "remove")
}

func (c *talk) phonesOf(id shop.PersonID) (live, frozen, shared bool) {
	for _, p := range c.phones() {
		if p.Person == id {
			live, frozen, shared = live || !p.Frozen, frozen || p.Frozen, shared || p.Shared
		}
	}
	return live, frozen, shared
}

// lastOwner reports whether nobody would own the shop without a person.
func (c *talk) lastOwner(p shop.Person) bool {
	return p.Role == shop.Owner && !slices.ContainsFunc(c.f.Shop.People, func(o shop.Person) bool {
		return o.Role == shop.Owner && o.ID != p.ID
	})
}
