package people

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
)

// actOn does what was chosen about a person.
func actOn(c *engine.Talk, p shop.Person, action string) {
	switch action {
	case "role":
		c.GoTo("roles")
	case "remove":
		c.GoTo("remove")
	case "may-sign", "void":
		signsHere(c, p, action == "may-sign")
	case "old", "new":
		decide(c, p, action == "old")
	case "deputy", "no-deputy":
		standIn(c, p, action == "deputy")
	case "phone":
		c.Invite = &chat.Invite{Person: p.ID, Name: p.Name, Role: p.Role, Expires: c.In.At.Add(inviteLife)}
		c.Close(chat.Lines(c.V.Say("phone-link", "who", p.Name, "when", c.Clock(c.In.At.Add(inviteLife)))),
			chat.Block{Text: chat.LinkMark})
	case "freeze":
		freeze(c, p)
	case "thaw":
		c.Thaw = p.ID
		c.Close(chat.Block{Text: c.V.Say("thawed", "who", p.Name)})
	case "share", "unshare":
		share(c, p, action == "share")
	}
}

// withPerson lays down the settings with one person changed.
func withPerson(c *engine.Talk, p shop.Person) {
	s := c.F.Shop.WithPerson(p)
	c.Settings = &s
}

// signsHere lets somebody choose a code of their own at the counter, or makes the
// one they have void. What it is only they know.
func signsHere(c *engine.Talk, p shop.Person, may bool) {
	if p.Signs != may {
		p.Signs = may
		withPerson(c, p)
	}
	if !may {
		c.Void = p.ID
	}
	c.Close(chat.Block{Text: c.V.Say(texts.Either(may, "signs-here", "code-void"), "who", p.Name)})
}

// decide says which phone is somebody's, and ends what was open.
func decide(c *engine.Talk, p shop.Person, old bool) {
	p.Disputed = false
	withPerson(c, p)
	c.Decide = &chat.Decision{Person: p.ID, Old: old}
	c.Close(chat.Block{Text: c.V.Say(texts.Either(old, "decided-old", "decided-new"), "who", p.Name)})
}

// decideTap takes what an owner says on the card about two phones.
func decideTap(c *engine.Talk, arg string) {
	who, old, ok := trust.Decision(arg)
	p, here := c.F.Shop.Person(who)
	if !ok || !here || !trust.MayDecide(c.F.Person, p) {
		c.Notice = c.V.Say("notice.stale")
		return
	}
	decide(c, p, old)
}

func standIn(c *engine.Talk, p shop.Person, on bool) {
	p.Deputy = on
	withPerson(c, p)
	word := texts.Either(on, "deputy-on", "deputy-off")
	tellRole(c, p, c.V.Say("told."+word))
	c.Close(chat.Block{Text: c.V.Say(word, "who", p.Name)})
}

// tellRole tells a person what they may do from now on.
func tellRole(c *engine.Talk, p shop.Person, what string) {
	if p.ID == c.F.Person.ID {
		c.Post(c.Menu(chat.Audience{}, p.Acts()))
		return
	}
	c.TellPerson(p.ID, chat.Reply{Body: []chat.Block{{Text: what}}})
	c.Post(c.Menu(chat.Audience{Person: p.ID}, p.Acts()))
}

func freeze(c *engine.Talk, p shop.Person) {
	c.Freeze = p.ID
	c.Managers(chat.Block{Text: c.V.Say("told.frozen", "who", p.Name, "by", c.F.Person.Name)})
	c.Close(chat.Lines(c.V.Say("frozen", "who", p.Name), c.V.Say("frozen-next")))
}

func share(c *engine.Talk, p shop.Person, on bool) {
	for _, ph := range staff.Phones(c.Teller) {
		if ph.Person == p.ID && !ph.Frozen {
			c.Share = &chat.Phone{Chat: ph.Chat, Shared: on}
		}
	}
	c.Close(chat.Block{Text: c.V.Say(texts.Either(on, "shared", "unshared"), "who", p.Name)})
}

func askRoles(c *engine.Talk) *engine.Card {
	p, ok := whom(c)
	if !ok {
		c.GoTo("list")
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.role", "who", p.Name)}}}
}

// takeRole gives the person in the draft a role.
func takeRole(c *engine.Talk, name string) {
	role := shop.Role(strings.TrimPrefix(name, "role-"))
	p, here := whom(c)
	if !here || !staff.MayManage(c.Teller, p) {
		return
	}
	if staff.LastOwner(c.Teller, p) && role != shop.Owner {
		c.First(c.V.Say("last-owner"))
		c.GoTo("person")
		return
	}
	p.Role, p.Deputy = role, false
	withPerson(c, p)
	word := c.V.Say("role." + string(role))
	tellRole(c, p, c.V.Say("told.role", "role", word))
	c.Close(chat.Block{Text: c.V.Say("role-set", "who", p.Name, "role", word)})
}

// LostPhoneFlow cuts a phone off in one tap.
func LostPhoneFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoLostPhone, Title: "lost-phone", Version: 1, Start: func(c *engine.Talk) { c.GoTo("list") },
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesNothing, Stopped: engine.NothingChanged,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoLostPhone, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{
			"list": ask.Pick{Head: ask.Asking("ask.lost"), Options: lostOptions, Paged: true, What: "what.lost-phone",
				None: func(c *engine.Talk) { c.Close(chat.Block{Text: c.V.Say("lost-none")}) }}.Screen(),
		},
	}
}

// lostOptions are the people whose phone the speaker may cut off.
func lostOptions(c *engine.Talk) (list []ask.Option) {
	for _, p := range staff.Losable(c.Teller) {
		list = append(list, ask.Option{Label: p.Name, Value: "p-" + strconv.FormatInt(int64(p.ID), 10),
			Take: func(c *engine.Talk) { freeze(c, p) }})
	}
	return list
}
