// Package past is the room of what has been: the state of things, history, days,
// months and weeks, where the money is, and what is taken back at once.
package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// looksBack is a command for who keeps the books that tells of what was.
func looksBack(name string, run func(*engine.Talk)) engine.Command {
	return engine.Command{Name: name, Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords, Run: here(run)}
}

// here says of all that is said that it is about the machine.
func here(run func(*engine.Talk)) func(*engine.Talk) {
	return func(c *engine.Talk) {
		c.Here = true
		run(c)
	}
}

// past gives the days of machines that may be told, one after the other; nil where it said why they may not.
func past(c *engine.Talk, of []*telling.Teller, from, to shop.Date, none string) []*tally.Machine {
	list, said := bygone.Those(of, from, to, none)
	switch {
	case list == nil:
		c.Send(chat.Reply{Place: telling.Place(of), Body: []chat.Block{chat.Lines(said)}})
	case said != "":
		c.First(said)
	}
	return list
}
