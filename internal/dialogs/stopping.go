package dialogs

import "shopfloat/internal/books"

// What leaving a dialog would lose. A photo is asked about in any of them.

// losesNothing: what was chosen is done, or is chosen again at a tap.
func losesNothing(*talk) bool { return false }

// losesCounts: a count was begun.
func losesCounts(c *talk) bool { return len(c.State.Draft.Counts) > 0 }

// losesAnswers: something of a count was typed.
func losesAnswers(c *talk) bool {
	for _, v := range c.State.Draft.Counts {
		if someAnswered(v) {
			return true
		}
	}
	return false
}

// losesChoices: something was chosen or typed.
func losesChoices(c *talk) bool { return len(c.State.Draft.Choices) > 0 }

// asksFirst reports whether something would be lost by leaving a dialog.
func (c *talk) asksFirst(f *flow) bool { return f.loses(c) || len(c.State.Draft.Photos) > 0 }

// What is said when a dialog is given up. What was recorded on the way stays.

func nothingBooked(c *talk) string {
	return c.v.Say("cancelled", "what", c.v.Say("flow."+c.flow().title))
}

// nothingChanged is said of a dialog that books nothing anyway.
func nothingChanged(c *talk) string {
	return c.v.Say("stopped-plain", "what", c.v.Say("flow."+c.flow().title))
}

// countStays is said of a dialog on the way of which a count is recorded.
func countStays(c *talk) string {
	switch p := c.target(); {
	case p == nil || c.State.Draft.Period == 0:
	case p.Status == books.Closed:
		return c.v.Say("stopped-closed")
	case p.Status == books.Waiting && !c.count().second:
		return c.v.Say(either(len(p.Slips) > 0, "stopped-slips", "stopped-counted"))
	}
	return nothingBooked(c)
}

// spotStays: the count is recorded before the printed figures, and both before
// the reason for a difference is asked.
func spotStays(c *talk) string {
	switch {
	case c.State.Step == "reason":
		return c.v.Say("stopped-spot-done")
	case !c.screen().finds:
		return c.v.Say("stopped-spot")
	}
	return nothingBooked(c)
}

func setupStays(c *talk) string {
	return c.v.Say(either(c.f.Several, "setup-stopped-several", "setup-stopped"))
}

func othersStay(c *talk) string { return c.v.Say("stays") }
