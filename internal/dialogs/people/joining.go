package people

import (
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/helping"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
	"shopfloat/internal/texts"
)

// inviteLife is how long a link lets somebody in.
const inviteLife = 48 * time.Hour

// inviteDraft is who gets a link.
type inviteDraft struct {
	Name string `json:"name,omitempty"`
}

func invited(c *engine.Talk) *inviteDraft { return engine.Drafted[inviteDraft](c) }

// InviteFlow lets somebody in by a link.
func InviteFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoInvite, Title: "invite", Version: 1, Draft: func() any { return &inviteDraft{} },
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingChanged,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoInvite, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords, Menu: 9},
		},
		Start: func(c *engine.Talk) {
			c.GoTo("name")
			if c.Rest != "" {
				answerInvite(c, staff.AsTyped(c.In.Text, c.Rest))
			}
		},
		Screens: map[string]engine.Screen{
			"name": {What: "what.invite", Answer: answerInvite, Ask: ask.Asking("ask.invite"),
				Free: true, Named: true},
			"role": ask.Pick{What: "what.roles", Options: roleOptions, Take: takeInvite,
				Head: func(c *engine.Talk) *engine.Card {
					return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.invite-role", "who", invited(c).Name)}}}
				},
			}.Screen(),
		},
	}
}

func answerInvite(c *engine.Talk, s string) bool {
	s, role := staff.NamedRole(c.Teller, s)
	name, problem := ask.ReadPerson(c, s)
	if problem == "" {
		problem = staff.NotFree(c.Teller, name)
	}
	if problem != "" {
		c.First(problem)
		return true
	}
	invited(c).Name = name
	c.GoTo("role")
	if role != "" && access.MayManage(c.F.Person.Role, role) {
		takeInvite(c, string(role))
	}
	return true
}

// roleOptions are the roles that the speaker may give.
func roleOptions(c *engine.Talk) (list []ask.Option) {
	for _, r := range shop.Roles() {
		if access.MayManage(c.F.Person.Role, r) {
			label := texts.Upper(c.V.Say("role." + string(r)))
			list = append(list, ask.Option{Label: label, Value: "role-" + string(r)})
		}
	}
	return list
}

func takeInvite(c *engine.Talk, name string) {
	role := shop.Role(strings.TrimPrefix(name, "role-"))
	c.Invite = &chat.Invite{Name: invited(c).Name, Role: role, Expires: c.In.At.Add(inviteLife)}
	c.Close(chat.Lines(c.V.Say("invited", "who", invited(c).Name, "role", c.V.Say("role."+string(role)),
		"when", c.Clock(c.In.At.Add(inviteLife)))), chat.Block{Text: chat.LinkMark})
}

// opened answers somebody who opened a link that was made here.
func opened(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	l := f.Link
	country, currency := "", ""
	if l.Shop != nil {
		country, currency = l.Shop.Country, l.Shop.Currency
	}
	switch over := staff.LinkOver(e.Texts.In(f.Lang, country, currency), l); {
	case over != "":
		return chat.Result{State: st, Replies: []chat.Reply{{Body: []chat.Block{{Text: over}}}}}
	case l.Shop == nil:
		return found(e, st, in, f)
	}
	return join(e, st, in, f)
}

// found makes the speaker the owner of a shop that does not exist yet, and begins to set it up.
func found(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	c, err := trade.NewShop(e, st, in, f, shop.Person{Role: shop.Owner})
	if err != nil {
		return chat.Result{State: st}
	}
	c.Accept = true
	c.First(c.V.Say("claimed"))
	c.Begin(engine.DoSetup)
	return c.Done()
}

// join lets somebody into a shop: somebody new, or a person with another phone.
func join(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	l := f.Link
	person, with := staff.Newcomer(l)
	f.Shop, f.Person, f.Machine = l.Shop, person, nil
	c := e.Talk(chat.State{V: chat.StateFormat, Rev: st.Rev + 1}, in, f)
	c.Accept, c.Settings, c.State.Lessons = true, with, helping.Lessons()
	role := c.V.Say("role." + string(person.Role))
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("joined", "who", person.Name, "place", l.Shop.Name,
		"role", role)}}, Buttons: [][]chat.Button{c.Button("what-now", chat.Begins("help"))}})
	c.Post(c.Menu(chat.Audience{}, person.Acts()))
	if l.By != 0 {
		joined := c.V.Say("told.joined", "who", person.Name, "role", role)
		lines := append([]string{joined}, staff.Account(c.Teller, in)...)
		c.TellPerson(l.By, chat.Reply{Silent: true, Body: []chat.Block{chat.Lines(lines...)}})
	}
	return c.Done()
}

// Moments are links that are opened.
func Moments() engine.Moments { return engine.Moments{Opened: opened} }
