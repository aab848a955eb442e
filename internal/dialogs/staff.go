package dialogs

import (
	"slices"
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

func peopleFlow() *flow {
	return &flow{
		name: doPeople, title: "people", version: 1, start: func(c *talk) { c.goTo("list") },
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingChanged,
		rights:   rights{access.Managing, ownPhone, onceSetUp},
		commands: []command{{name: doPeople, does: startsDialog, help: helpMore, takes: anyWords, menu: 8}},
		cards:    []standing{{name: doLeaver, tap: (*talk).leaverTap}},
		screens: map[string]screen{
			"list": pick{head: askPeople, options: peopleOptions, paged: true, foot: peopleFoot, what: "what.people",
				taps: map[string]func(*talk){"invite": inviteNow, "former": showFormer}}.screen(),
			"person": pick{head: askPerson, options: personOptions, back: "list", what: "what.person"}.screen(),
			"roles": pick{head: askRoles, options: roleOptions, take: takeRole, back: "person",
				what: "what.roles"}.screen(),
			"remove": {
				ask:  askRemove,
				taps: map[string]func(*talk){"yes": removePerson, "back": goBack("person")},
				what: "what.remove",
			},
			"days": {ask: askDays, taps: daysTaps(), what: "what.days"},
			"former": pick{head: asking("former"), options: formerOptions, paged: true, none: firstPage,
				back: "list", what: "what.former", taps: map[string]func(*talk){"back": firstPage}}.screen(),
			"erase": {
				ask:  askErase,
				taps: map[string]func(*talk){"yes": erasePerson, "back": goBack("former")},
				what: "what.former",
			},
		},
	}
}

// firstPage goes back to the beginning of the list.
func firstPage(c *talk) { choice("page", "0", "list")(c) }

func askPeople(c *talk) *card {
	people, phones := c.f.Shop.People, c.phones()
	from, to, _ := c.paged(len(people))
	var rows [][]string
	for _, p := range people[from:to] {
		rows = append(rows, []string{p.Name, c.roleName(p), c.phoneWord(phones, p.ID)})
	}
	return &card{body: []Block{{Text: c.v.Say("people")}, columns(3, rows)}}
}

func peopleOptions(c *talk) []option {
	return named(c.f.Shop.People, "p-", remembered("who", "person"))
}

// named makes options out of people, by their numbers.
func named(people []shop.Person, value string, take func(*talk, string)) (list []option) {
	for _, p := range people {
		id := strconv.FormatInt(int64(p.ID), 10)
		list = append(list, option{label: p.Name, value: value + id, take: func(c *talk) { take(c, id) }})
	}
	return list
}

func peopleFoot(c *talk) [][]Button {
	rows := [][]Button{c.button("invite", "invite")}
	if len(c.formerNamed()) > 0 {
		rows = append(rows, c.button("former", "former"))
	}
	return rows
}

func inviteNow(c *talk) {
	c.enter("invite")
	c.goTo("name")
}

func showFormer(c *talk) { choice("page", "0", "former")(c) }

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
	}
	return k
}

// personOptions are what the speaker can do about the person in the draft.
func personOptions(c *talk) (list []option) {
	p, ok := c.whom()
	if !ok || !c.mayManage(p) {
		return nil
	}
	for _, action := range c.personActions(p) {
		list = append(list, option{label: c.v.Say("button.person-" + action), value: action,
			take: func(c *talk) { c.actOn(p, action) }})
	}
	return list
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
