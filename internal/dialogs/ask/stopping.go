package ask

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/texts"
)

// CountStays is said of a dialog on the way of which a count is recorded.
func CountStays(c *engine.Talk) string {
	p := Target(c)
	if p == nil || c.State.Draft.Period == 0 {
		return engine.NothingBooked(c)
	}
	if p.Status == books.Closed {
		return c.V.Say("stopped-closed")
	}
	if p.Status == books.Waiting && !c.E.Second(c.State.Flow) {
		return c.V.Say(texts.Either(len(p.Slips) > 0, "stopped-slips", "stopped-counted"))
	}
	return engine.NothingBooked(c)
}
