package trouble

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
	"shopfloat/internal/hearing"
	"shopfloat/internal/incidents"
	"shopfloat/internal/telling"
)

// emergency sees to words about one, whatever is under way; and to words that say
// it is over.
func emergency(c *engine.Talk) bool {
	d := danger(c)
	if d == "" {
		return passed(c)
	}
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.State.Last = c.In.At
	switch {
	case d == hearing.Robbery:
		alarm(c)
	case c.Quiet():
		walkCard(c, false) // the robbery comes first, and nothing is asked
	default:
		tellOf(c, d)
	}
	return true
}

// danger is the present danger that an input speaks of, before anything else is
// made of it. Figures and plain commands are let through without a look.
func danger(c *engine.Talk) string {
	if c.In.Kind == chat.Secret {
		switch c.In.Text {
		case chat.Robbery:
			return hearing.Robbery
		case chat.Hurt:
			return hearing.Hurt
		}
		return ""
	}
	if cmd, rest := c.Command(); cmd != nil && !engine.Wordy(rest) {
		return ""
	}
	if d := c.Heard(); d.Act == hearing.Alarm {
		return d.Readings[0].ID
	}
	return ""
}

// alarm answers words of a robbery: one message, and nothing is asked. Whatever
// was under way stays as it is.
func alarm(c *engine.Talk) {
	fresh := !c.Quiet() // said again, it is not told again
	walkFrom(c, chat.Robbery)
	if fresh {
		tellRobbery(c)
	}
}

// tellRobbery tells managers and owners at once, without a sound and without a word
// of it to the speaker, whose screen somebody else may be reading. The first line,
// which a locked phone shows, does not name it.
func tellRobbery(c *engine.Talk) {
	r := chat.Reply{Silent: true, Body: []chat.Block{{Text: c.V.Say("danger.look", "who", speaker(c),
		"when", c.Clock(c.In.At))}, {Text: c.V.Say("robbery.told")},
		{Text: c.V.Say("robbery.do", "number", incidents.GuideSettings(c.Teller).Number("emergency"))}}}
	if w := c.State.Walk; w != nil && w.Fault != 0 {
		r.Buttons = [][]chat.Button{c.Button("robbery-over", incidents.OfFault("back", w.Fault)),
			c.Button("robbery-false", incidents.OfFault("nothing", w.Fault))}
	}
	c.TellManagers(r)
}

func speaker(c *engine.Talk) string {
	if c.F.Person.Name == "" {
		return c.V.Say("somebody")
	}
	return c.F.Person.Name
}

// tellOf answers words of another danger: one message, nothing is asked, and what
// was under way stays as it is. Managers and owners hear of it at once.
func tellOf(c *engine.Talk, danger string) {
	number := guides.EmergencyNumber(c.F.Shop.Country)
	c.Say(c.V.Say("danger."+danger, "number", number))
	c.TellManagers(chat.Reply{Silent: true, Body: []chat.Block{
		{Text: c.V.Say("danger.look", "who", speaker(c), "when", c.Clock(c.In.At))},
		{Text: c.V.Say("danger.told-"+danger, "number", number)}}})
}

// passed takes words that say a robbery is over, or that it never was one: of
// whoever spoke of it, whose next step it is, and of a manager.
func passed(c *engine.Talk) bool {
	if c.In.Kind != chat.Text && c.In.Kind != chat.Picture || !c.Robbed() {
		return false
	}
	d := c.Heard()
	f := incidents.OpenRobbery(c.Teller)
	quiet := c.Quiet()
	switch {
	case !d.Over || f == nil:
		return false
	case d.Never && (quiet || telling.MayEnd(c.Teller, f)):
		nothing(c, f)
		c.Managers(chat.Block{Text: c.V.Say("danger.never", "who", speaker(c))})
	case quiet:
		stepOn(c, 0)
		c.Managers(chat.Block{Text: c.V.Say("danger.over", "who", speaker(c))})
	case telling.MayEnd(c.Teller, f):
		solve(c, f)
	default:
		return false
	}
	c.State.Last = c.In.At
	return true
}

// endRobberies closes the other records of what was one robbery.
func endRobberies(c *engine.Talk) {
	var open []int64
	for _, f := range c.M.Faults {
		if incidents.Robbery(f) {
			open = append(open, f.Seq)
		}
	}
	for _, seq := range open {
		news(c, seq, books.Trouble{Ending: books.Solved})
	}
}
