package trouble

import (
	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/hearing"
	"shopfloat/internal/lessons"
	"shopfloat/internal/texts"
)

// teaching is for managers, on a phone of their own: the words are those of their people.
var teaching = engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp)

// MissedCommand shows what was not understood, and has managers say what was meant.
func MissedCommand() engine.Command {
	cmd := tells(engine.DoMissed, func(c *engine.Talk) { lesson(c, "") })
	cmd.Rights = teaching
	return cmd
}

// MissedCard has its buttons.
func MissedCard() engine.Standing {
	return engine.Standing{Name: engine.DoMissed, Rights: teaching, Tap: func(c *engine.Talk, arg string) {
		c.Edit = lessons.Name
		lesson(c, arg)
	}}
}

// lesson shows a card of what was not understood, and teaches what a tap says.
func lesson(c *engine.Talk, tap string) {
	book := lessons.Book{Teller: c.Teller, All: append(hearing.Names[:len(hearing.Names):len(hearing.Names)],
		c.Guides.IDs()...)}
	for i, name := range book.All[:len(hearing.Names)] {
		book.All[i] = hearing.CommandName(name)
	}
	if c.F.Ask.Phrases != nil {
		book.Phrases = c.F.Ask.Phrases()
	}
	book.Near = func(text string) (list []string) { return c.Ear().Near(text, c.Situation()) }
	book.Label = func(name string) string { return meant(c, name) }
	r, teach, ok := book.Card(tap)
	if !ok {
		c.Edit, c.Notice = "", c.V.Say("notice.unknown")
		return
	}
	c.Teach = teach
	c.Amend(r)
}

// meant is what a reading is called on a button; empty for one that cannot be taught.
func meant(c *engine.Talk, name string) string {
	id, command := hearing.Carries(name)
	if g, ok := c.Guides.Guide(id); !command && ok && id != chat.Robbery {
		return g.Title
	}
	if cmd := c.E.Named(id); command && cmd != nil && cmd.Help != engine.HelpNever {
		return texts.Upper(c.V.Say("help." + id))
	}
	return ""
}
