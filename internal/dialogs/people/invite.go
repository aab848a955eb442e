package people

import (
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
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
				answerInvite(c, typed(c))
			}
		},
		Screens: map[string]engine.Screen{
			"name": {What: "what.invite", Answer: answerInvite, Ask: ask.Asking("ask.invite")},
			"role": ask.Pick{
				What:    "what.roles",
				Options: roleOptions,
				Take:    takeInvite,
				Head: func(c *engine.Talk) *engine.Card {
					return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.invite-role", "who", invited(c).Name)}}}
				},
			}.Screen(),
		},
	}
}

// typed is what followed the command, in the letters it was typed in.
func typed(c *engine.Talk) string {
	if at := len(c.In.Text) - len(c.Rest); at > 0 && strings.EqualFold(c.In.Text[at:], c.Rest) {
		return c.In.Text[at:]
	}
	return c.Rest
}

func answerInvite(c *engine.Talk, s string) bool {
	name, problem := ask.ReadName(c, s)
	for _, p := range c.F.Shop.People {
		if strings.EqualFold(p.Name, name) && problem == "" {
			problem = c.V.Say("name-taken", "who", p.Name)
		}
	}
	if problem != "" {
		c.First(problem)
		return true
	}
	invited(c).Name = name
	c.GoTo("role")
	return true
}

// roleOptions are the roles that the speaker may give.
func roleOptions(c *engine.Talk) (list []ask.Option) {
	for _, r := range shop.Roles() {
		if access.MayManage(c.F.Person.Role, r) {
			list = append(list,
				ask.Option{Label: engine.Upper(c.V.Say("role." + string(r))), Value: "role-" + string(r)})
		}
	}
	return list
}

func takeInvite(c *engine.Talk, name string) {
	role := shop.Role(strings.TrimPrefix(name, "role-"))
	c.Invite = &chat.Invite{Name: invited(c).Name, Role: role, Expires: c.In.At.Add(inviteLife)}
	c.Close(engine.Text(c.V.Say("invited", "who", invited(c).Name, "role", c.V.Say("role."+string(role)),
		"when", c.Clock(c.In.At.Add(inviteLife)))), chat.Block{Text: chat.LinkMark})
}
