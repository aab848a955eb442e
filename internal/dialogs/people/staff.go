package people

import (
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
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
	people, phones := c.F.Shop.People, staff.Phones(c.Teller)
	from, to, _ := ask.Paged(c, len(people))
	var rows [][]string
	for _, p := range people[from:to] {
		rows = append(rows, []string{p.Name, staff.RoleName(c.Teller, p), staff.PhoneWord(c.Teller, phones, p)})
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
	if len(staff.FormerNamed(c.Teller)) > 0 {
		rows = append(rows, c.Button("former", "former"))
	}
	return rows
}

func inviteNow(c *engine.Talk) {
	c.Enter("invite")
	c.GoTo("name")
}

// whom is the person the card is about; ok is false when they left meanwhile.
func whom(c *engine.Talk) (shop.Person, bool) { return c.F.Shop.Person(who(c)) }

func askPerson(c *engine.Talk) *engine.Card {
	p, ok := whom(c)
	if !ok {
		c.GoTo("list")
		return nil
	}
	k := &engine.Card{
		Body: []chat.Block{
			chat.Lines(c.V.Say("person", "who", p.Name, "role", staff.RoleName(c.Teller, p)),
				staff.PhoneWord(c.Teller, staff.Phones(c.Teller), p))},
	}
	if !staff.MayManage(c.Teller, p) {
		k.Body = append(k.Body, chat.Block{Text: c.V.Say("person-above")})
	}
	return k
}

// personOptions are what the speaker can do about the person in the draft.
func personOptions(c *engine.Talk) (list []ask.Option) {
	p, ok := whom(c)
	if !ok || !staff.MayManage(c.Teller, p) {
		return nil
	}
	for _, action := range staff.Actions(c.Teller, p) {
		list = append(list, ask.Option{Label: c.V.Say("button.person-" + action), Value: action,
			Take: func(c *engine.Talk) { actOn(c, p, action) }})
	}
	return list
}
