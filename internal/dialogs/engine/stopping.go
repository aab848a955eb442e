package engine

// What leaving a dialog would lose. A photo is asked about in any of them.

// losesNothing: what was chosen is done, or is chosen again at a tap.
func LosesNothing(*Talk) bool { return false }

// losesCounts: a count was begun.
func LosesCounts(c *Talk) bool { return c.State.Draft.Begun() }

// losesChoices: something was chosen or typed.
func LosesChoices(c *Talk) bool { return c.kept() }

// asksFirst reports whether something would be lost by leaving a dialog.
func (c *Talk) asksFirst(f *Flow) bool { return f.Loses(c) || len(c.State.Draft.Photos) > 0 }

// Pends reports whether a figure waits in the dialog under way that may say otherwise than a checklist.
func (c *Talk) Pends() bool {
	f := c.Flow()
	return f != nil && f.Tells == TellsFigures && c.asksFirst(f)
}

// What is said when a dialog is given up. What was recorded on the way stays.

func NothingBooked(c *Talk) string {
	return c.V.Say("cancelled", "what", c.V.Say("flow."+c.Flow().Title))
}

// NothingChanged is said of a dialog that books nothing anyway.
func NothingChanged(c *Talk) string {
	return c.V.Say("stopped-plain", "what", c.V.Say("flow."+c.Flow().Title))
}

func othersStay(c *Talk) string { return c.V.Say("stays") }
