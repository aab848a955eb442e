package people

import (
	"slices"
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/trust"
)

// peopleDraft is whom the cards are about.
type peopleDraft struct {
	Who shop.PersonID `json:"who,omitempty"`
}

// who is whom the card is about, somebody who left, too.
func who(c *engine.Talk) shop.PersonID { return engine.Drafted[peopleDraft](c).Who }

// StaffFlow shows who works here, and changes it.
func StaffFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoPeople, Title: "people", Version: 1, View: true, Draft: func() any { return &peopleDraft{} },
		Start: func(c *engine.Talk) { c.GoTo("list") },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesNothing, Stopped: engine.NothingChanged,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoPeople, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords, Menu: 8},
		},
		Cards: []engine.Standing{{Name: engine.DoLeaver, Tap: leaverTap}, {Name: engine.DoDecide, Tap: decideTap,
			Rights: engine.May(access.Owning, engine.OwnPhone, engine.OnceSetUp)}},
		Screens: map[string]engine.Screen{
			"list": ask.Pick{Head: askPeople, Options: peopleOptions, Paged: true, Foot: peopleFoot,
				What: "what.people",
				Taps: map[string]func(*engine.Talk){"invite": inviteNow, "former": ask.FirstPage("former")}}.Screen(),
			"person": ask.Pick{Head: askPerson, Options: personOptions, Back: "list", What: "what.person"}.Screen(),
			"roles": ask.Pick{Head: askRoles, Options: roleOptions, Take: takeRole, Back: "person",
				What: "what.roles"}.Screen(),
			"remove": {Ask: askRemove,
				Taps: map[string]func(*engine.Talk){"yes": removePerson, "back": engine.GoBack("person")},
				What: "what.remove"},
			"days": {Ask: askDays, Taps: daysTaps(), What: "what.days"},
			"former": ask.Pick{Head: ask.Asking("former"), Options: formerOptions, Paged: true, None: firstPage,
				Back: "list", What: "what.former", Taps: map[string]func(*engine.Talk){"back": firstPage}}.Screen(),
			"erase": {Ask: askErase,
				Taps: map[string]func(*engine.Talk){"yes": erasePerson, "back": engine.GoBack("former")},
				What: "what.former"},
		},
	}
}

// firstPage goes back to the beginning of the people.
var firstPage = ask.FirstPage("list")

func askPeople(c *engine.Talk) *engine.Card {
	people, phones := c.F.Shop.People, phones(c)
	from, to, _ := ask.Paged(c, len(people))
	var rows [][]string
	for _, p := range people[from:to] {
		rows = append(rows, []string{p.Name, roleName(c, p), phoneWord(c, phones, p)})
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("people")}, chat.Columns(3, rows)}}
}

func peopleOptions(c *engine.Talk) []ask.Option {
	return named(c.F.Shop.People, "p-", "person")
}

// named makes options out of people, by their numbers; they lead to a screen about one.
func named(people []shop.Person, value, next string) (list []ask.Option) {
	for _, p := range people {
		list = append(list, ask.Option{Label: p.Name, Value: value + strconv.FormatInt(int64(p.ID), 10),
			Take: func(c *engine.Talk) {
				engine.Drafted[peopleDraft](c).Who = p.ID
				c.GoTo(next)
			}})
	}
	return list
}

func peopleFoot(c *engine.Talk) [][]chat.Button {
	rows := [][]chat.Button{c.Button("invite", "invite")}
	if len(formerNamed(c)) > 0 {
		rows = append(rows, c.Button("former", "former"))
	}
	return rows
}

func inviteNow(c *engine.Talk) {
	c.Enter("invite")
	c.GoTo("name")
}

func phones(c *engine.Talk) []chat.Phone {
	if c.F.Ask.Phones == nil {
		return nil
	}
	return c.F.Ask.Phones()
}

func roleName(c *engine.Talk, p shop.Person) string {
	if p.Deputy {
		return c.V.Say("role.deputy")
	}
	return c.V.Say("role." + string(p.Role))
}

// phoneWord says what is special about a person's phone.
func phoneWord(c *engine.Talk, phones []chat.Phone, who shop.Person) string {
	if who.Disputed {
		return c.V.Say("phone.disputed")
	}
	word := "phone.none"
	for _, p := range phones {
		switch {
		case p.Person != who.ID:
		case p.Frozen:
			return c.V.Say("phone.frozen")
		case p.Gone:
			return c.V.Say("phone.gone")
		case p.Shared:
			return c.V.Say("phone.shared")
		default:
			word = ""
		}
	}
	if word == "" {
		return ""
	}
	return c.V.Say(word)
}

// whom is the person the card is about; ok is false when they left meanwhile.
func whom(c *engine.Talk) (shop.Person, bool) { return c.F.Shop.Person(who(c)) }

// mayManage reports whether the speaker may change somebody.
func mayManage(c *engine.Talk, p shop.Person) bool {
	return p.ID == c.F.Person.ID || access.MayManage(c.F.Person.Role, p.Role)
}

func askPerson(c *engine.Talk) *engine.Card {
	p, ok := whom(c)
	if !ok {
		c.GoTo("list")
		return nil
	}
	k := &engine.Card{
		Body: []chat.Block{
			chat.Lines(c.V.Say("person", "who", p.Name, "role", roleName(c, p)), phoneWord(c, phones(c), p))},
	}
	if !mayManage(c, p) {
		k.Body = append(k.Body, chat.Block{Text: c.V.Say("person-above")})
	}
	return k
}

// personOptions are what the speaker can do about the person in the draft.
func personOptions(c *engine.Talk) (list []ask.Option) {
	p, ok := whom(c)
	if !ok || !mayManage(c, p) {
		return nil
	}
	for _, action := range personActions(c, p) {
		list = append(list, ask.Option{Label: c.V.Say("button.person-" + action), Value: action,
			Take: func(c *engine.Talk) { actOn(c, p, action) }})
	}
	return list
}

// personActions are what the speaker can do about somebody now.
func personActions(c *engine.Talk, p shop.Person) []string {
	live, frozen, shared := phonesOf(c, p.ID)
	var list []string
	if c.F.Person.Role == shop.Owner || p.ID != c.F.Person.ID {
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
	case live && !lastOwner(c, p): // somebody must be able to take the mark off again
		list = append(list, "share")
	}
	if p.ID != c.F.Person.ID && p.Disputed {
		if trust.MayDecide(c.F.Person, p) {
			list = append(list, "old", "new")
		}
	} else if p.ID != c.F.Person.ID {
		list = append(list, "phone")
	}
	if p.ID != c.F.Person.ID {
		if frozen {
			list = append(list, "thaw")
		} else if live {
			list = append(list, "freeze")
		}
		if p.Signs || c.F.Ask.Coded != nil && c.F.Ask.Coded(p.ID) {
			list = append(list, "void")
		} else {
			list = append(list, "may-sign")
		}
	}
	return append(list, "remove")
}

func phonesOf(c *engine.Talk, id shop.PersonID) (live, frozen, shared bool) {
	for _, p := range phones(c) {
		if p.Person == id {
			live, frozen, shared = live || !p.Frozen, frozen || p.Frozen, shared || p.Shared
		}
	}
	return live, frozen, shared
}

// lastOwner reports whether nobody would own the shop without a person.
func lastOwner(c *engine.Talk, p shop.Person) bool {
	return p.Role == shop.Owner && !slices.ContainsFunc(c.F.Shop.People, func(o shop.Person) bool {
		return o.Role == shop.Owner && o.ID != p.ID
	})
}
