package dialogs

import "shopfloat/internal/guides"

// Hurt stands for the words of a message that was dropped unread and spoke of
// somebody who is hurt.
const Hurt = "hurt"

// injury reports whether an input speaks of somebody who is hurt.
func (c *talk) injury() bool {
	if c.in.Kind == Secret {
		return c.in.Text == Hurt
	}
	return guides.Injury(c.in.Text)
}

// firstAid answers words of an injury: one message, nothing is asked, nothing is
// put on record, and whatever was under way stays as it is.
func (c *talk) firstAid() {
	if c.in.Kind == Secret {
		c.drop()
	}
	c.State.Last = c.in.At
	number := guides.EmergencyNumber(c.f.Shop.Country)
	c.say(c.v.Say("hurt", "number", number))
}
