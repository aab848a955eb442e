package engine

import (
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

// curtain ends a dialog whose cards would tell figures while somebody counts.
func (c *Talk) curtain(f *Flow) bool {
	if f.Tells == TellsNothing || !c.Hidden() {
		return false
	}
	c.Close(chat.Lines(telling.Counted(c.Teller)))
	return true
}

// hides reports whether somebody is counting this machine, so that nobody who may
// count it can see what should be there.
func (c *Talk) hides() bool {
	if c.F.Person.ID != 0 && !access.Counting.Has(c.F.Person.Role) {
		return false
	}
	_, blind, _ := c.shows()
	return blind || slices.ContainsFunc(c.F.Others, func(a chat.Activity) bool { return telling.Blinds(c.M, a) })
}
