// Package past is the room of what has been: the state of things, history, days,
// months and weeks, where the money is, and what is taken back at once.
package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// looksBack is a command for who keeps the books that tells of what was.
func looksBack(name string, run func(*engine.Talk)) engine.Command {
	return engine.Command{Name: name, Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords, Run: run}
}

// shown reports whether days may be told; else it says why not.
func shown(c *engine.Talk, days []*telling.DaySum, none string) bool {
	switch {
	case len(days) == 0:
		c.Say(none)
	case c.Hidden():
		c.Say(c.V.Say("hidden"))
	default:
		return true
	}
	return false
}
