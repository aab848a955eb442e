package trade

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// Seconder is who counts the machine a second time just now, or nobody.
func Seconder(c *engine.Talk) *chat.Activity {
	for i := range c.F.Others {
		if a := &c.F.Others[i]; c.E.Second(a.Flow) && a.Blind && !c.Stale(*a) {
			return a
		}
	}
	return nil
}

// SecondBy reports whether a person is in the middle of a second count.
func SecondBy(c *engine.Talk, id shop.PersonID) bool {
	return slices.ContainsFunc(c.F.Others, func(a chat.Activity) bool {
		return a.Person == id && c.E.Second(a.Flow) && a.Blind && !c.Stale(a)
	})
}
