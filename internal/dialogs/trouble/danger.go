package trouble

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/hearing"
	"shopfloat/internal/incidents"
	"shopfloat/internal/telling"
	"shopfloat/internal/wording"
)

// emergency sees to words about one, whatever is under way; and to words that say it is over.
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
	if cmd, rest := c.Command(); cmd != nil && !wording.Wordy(rest) {
		return ""
	}
	if d := c.Heard(); d.Act == hearing.Alarm {
		return d.Readings[0].ID
	}
	return ""
}

// alarm answers words of a robbery: one message, and nothing is asked. Whatever was under way stays as it is.
func alarm(c *engine.Talk) {
	fresh := !c.Quiet() // said again, it is not told again
	walkFrom(c, chat.Robbery)
	if fresh {
		tellRobbery(c)
	}
}

// tellRobbery tells managers and owners at once, without a sound and without a word
// of it to the speaker, whose screen somebody else may be reading.
func tellRobbery(c *engine.Talk) {
	no := int64(0)
	if w := c.State.Walk; w != nil {
		no = w.Fault
	}
	c.TellManagers(incidents.Robbed(c.Teller, no))
}

// tellOf answers words of another danger: one message, nothing is asked, and what
// was under way stays as it is. Managers and owners hear of it at once.
func tellOf(c *engine.Talk, danger string) {
	said, told := incidents.Danger(c.Teller, danger)
	c.Say(said)
	c.TellManagers(told)
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
		c.Managers(chat.Block{Text: c.V.Say("danger.never", "who", incidents.Speaker(c.Teller))})
	case quiet:
		stepOn(c, 0)
		c.Managers(chat.Block{Text: c.V.Say("danger.over", "who", incidents.Speaker(c.Teller))})
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
