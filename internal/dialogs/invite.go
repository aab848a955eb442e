package dialogs

import (
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// inviteLife is how long a link lets somebody in.
const inviteLife = 48 * time.Hour

func inviteFlow() *flow {
	return &flow{
		name: doInvite, title: "invite", version: 1,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingChanged,
		rights:   rights{access.Managing, ownPhone, onceSetUp},
		commands: []command{{name: doInvite, does: startsDialog, help: helpMore, takes: anyWords, menu: 9}},
		start: func(c *talk) {
			c.goTo("name")
			if c.rest != "" {
				answerInvite(c, c.typed())
			}
		},
		screens: map[string]screen{
			"name": {what: "what.invite", answer: answerInvite, ask: asking("ask.invite")},
			"role": pick{what: "what.roles", options: roleOptions, take: takeInvite, head: func(c *talk) *card {
				return &card{body: []Block{{Text: c.v.Say("ask.invite-role", "who", c.chosen("name"))}}}
			}}.screen(),
		},
	}
}

// typed is what followed the command, in the letters it was typed in.
func (c *talk) typed() string {
	if at := len(c.in.Text) - len(c.rest); at > 0 && strings.EqualFold(c.in.Text[at:], c.rest) {
		return c.in.Text[at:]
	}
	return c.rest
}

func answerInvite(c *talk, s string) bool {
	name, problem := readName(c, s)
	for _, p := range c.f.Shop.People {
		if strings.EqualFold(p.Name, name) && problem == "" {
			problem = c.v.Say("name-taken", "who", p.Name)
		}
	}
	if problem != "" {
		c.first(problem)
		return true
	}
	c.choose("name", name)
	c.goTo("role")
	return true
}

// roleOptions are the roles that the speaker may give.
func roleOptions(c *talk) (list []option) {
	for _, r := range shop.Roles() {
		if access.MayManage(c.f.Person.Role, r) {
			list = append(list, option{label: upper(c.v.Say("role." + string(r))), value: "role-" + string(r)})
		}
	}
	return list
}

func takeInvite(c *talk, name string) {
	role := shop.Role(strings.TrimPrefix(name, "role-"))
	c.Invite = &Invite{Name: c.chosen("name"), Role: role, Expires: c.in.At.Add(inviteLife)}
	c.close(text(c.v.Say("invited", "who", c.chosen("name"), "role", c.v.Say("role."+string(role)),
		"when", c.clock(c.in.At.Add(inviteLife)))), Block{Text: LinkMark})
}
