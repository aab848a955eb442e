package engine

import "shopfloat/internal/chat"

// curtain ends a dialog whose cards would tell figures while somebody counts.
func (c *Talk) curtain(f *Flow) bool {
	if f.Tells == TellsNothing || !c.Hidden() {
		return false
	}
	c.Close(chat.Lines(c.V.Say("hidden")))
	return true
}

// hides reports whether somebody is counting this machine, so that nobody may
// see what should be there.
func (c *Talk) hides() bool {
	if _, blind, _ := c.shows(); blind {
		return true
	}
	for _, a := range c.F.Others {
		if a.Blind {
			return true
		}
	}
	return false
}
