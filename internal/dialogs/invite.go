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
		name: doInvite, title: "invite",
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
			"name": {what: "what.invite", answer: answerInvite, ask: func(c *talk) *card {
				return &card{body: []Block{{Text: c.v.Say("ask.invite")}}}
			}},
			"role": {what: "what.roles", tap: tapInvite, ask: func(c *talk) *card {
				return &card{
					body:    []Block{{Text: c.v.Say("ask.invite-role", "who", c.chosen("name"))}},
					buttons: c.roleButtons(),
				}
			}},
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

// roleButtons are the roles that the speaker may give.
func (c *talk) roleButtons() [][]Button {
	var rows [][]Button
	for _, r := range shop.Roles() {
		if access.MayManage(c.f.Person.Role, r) {
			rows = append(rows, []Button{{upper(c.v.Say("role." + string(r))), "role-" + string(r)}})
		}
	}
	return rows
}

func tapInvite(c *talk, choice string) bool {
	role, ok := c.roleOf(choice)
	if !ok {
		return false
	}
	c.Invite = &Invite{Name: c.chosen("name"), Role: role, Expires: c.in.At.Add(inviteLife)}
	c.close(text(c.v.Say("invited", "who", c.chosen("name"), "role", c.v.Say("role."+string(role)),
		"when", c.clock(c.in.At.Add(inviteLife)))), Block{Text: LinkMark})
	return true
}

// roleOf reads a button of a role that the speaker may give.
func (c *talk) roleOf(choice string) (shop.Role, bool) {
	name, found := strings.CutPrefix(choice, "role-")
	for _, r := range shop.Roles() {
		if found && string(r) == name && access.MayManage(c.f.Person.Role, r) {
			return r, true
		}
	}
	return "", false
}
