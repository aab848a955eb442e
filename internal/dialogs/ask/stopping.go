package ask

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
)

// losesAnswers: something of a count was typed.
func LosesAnswers(c *engine.Talk) bool {
	for _, a := range c.State.Draft.Answers {
		if SomeAnswered(a.Counts) {
			return true
		}
	}
	return false
}

// CountStays is said of a dialog on the way of which a count is recorded.
func CountStays(c *engine.Talk) string {
	switch p := Target(c); {
	case p == nil || c.State.Draft.Period == 0:
	case p.Status == books.Closed:
		return c.V.Say("stopped-closed")
	case p.Status == books.Waiting && !c.Count().Second:
		return c.V.Say(engine.Either(len(p.Slips) > 0, "stopped-slips", "stopped-counted"))
	}
	return engine.NothingBooked(c)
}

// spotStays: the count is recorded before the printed figures, and both before
// the reason for a difference is asked.
func SpotStays(c *engine.Talk) string {
	switch {
	case c.State.Step == "reason":
		return c.V.Say("stopped-spot-done")
	case !c.Screen().Finds:
		return c.V.Say("stopped-spot")
	}
	return engine.NothingBooked(c)
}
