package ask

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/texts"
)

// CountStays is said of a dialog on the way of which a count is recorded.
func CountStays(c *engine.Talk) string {
	switch p := Target(c); {
	case p == nil || c.State.Draft.Period == 0:
	case p.Status == books.Closed:
		return c.V.Say("stopped-closed")
	case p.Status == books.Waiting && !c.E.Second(c.State.Flow):
		return c.V.Say(texts.Either(len(p.Slips) > 0, "stopped-slips", "stopped-counted"))
	}
	return engine.NothingBooked(c)
}
