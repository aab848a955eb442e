package trouble

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/guides"
)

// emergency sees to words about one, whatever is under way.
func emergency(c *engine.Talk) bool {
	switch {
	case danger(c):
		alarm(c)
	case injury(c):
		firstAid(c)
	default:
		return false
	}
	return true
}

// danger looks for words of a robbery before anything else is made of an
// input. Figures and plain commands are let through without a search.
func danger(c *engine.Talk) bool {
	if c.In.Kind == chat.Secret {
		return c.In.Text == chat.Robbery
	}
	if cmd, rest := c.Command(); cmd != nil && !engine.Wordy(rest) {
		return false
	}
	a := c.E.Find(c.In.Text)
	return a.Clear && a.IDs[0] == chat.Robbery || guides.Injury(c.In.Text) && guides.Danger(c.In.Text)
}

// alarm answers words of a robbery: one message, and nothing is asked. Whatever
// was under way stays as it is.
func alarm(c *engine.Talk) {
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.State.Last = c.In.At
	fresh := !c.Quiet() // said again, it is not told again
	walkFrom(c, chat.Robbery)
	if fresh {
		tellRobbery(c)
	}
}

// tellRobbery tells managers and owners at once, without a word of it to the
// speaker, whose screen somebody else may be reading.
func tellRobbery(c *engine.Talk) {
	who := c.F.Person.Name
	if who == "" {
		who = c.V.Say("somebody")
	}
	r := chat.Reply{Body: []chat.Block{{Text: c.V.Say("robbery.told", "who", who, "when", c.Clock(c.In.At))},
		{Text: c.V.Say("robbery.do", "number", trade.GuideSettings(c).Number("emergency"))}}}
	if w := c.State.Walk; w != nil && w.Fault != 0 {
		r.Buttons = [][]chat.Button{c.Button("robbery-over", ofFault("back", w.Fault))}
	}
	c.TellManagers(r)
}

// endRobberies closes the other records of what was one robbery.
func endRobberies(c *engine.Talk) {
	var open []int64
	for _, f := range c.M.Faults {
		if engine.OpenRobbery(f) {
			open = append(open, f.Seq)
		}
	}
	for _, seq := range open {
		news(c, seq, books.Trouble{Ending: books.Solved})
	}
}

// injury reports whether an input speaks of somebody who is hurt.
func injury(c *engine.Talk) bool {
	if c.In.Kind == chat.Secret {
		return c.In.Text == chat.Hurt
	}
	return guides.Injury(c.In.Text)
}

// firstAid answers words of an injury: one message, nothing is asked, nothing is
// put on record, and whatever was under way stays as it is.
func firstAid(c *engine.Talk) {
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.State.Last = c.In.At
	c.Say(c.V.Say("hurt", "number", guides.EmergencyNumber(c.F.Shop.Country)))
}
