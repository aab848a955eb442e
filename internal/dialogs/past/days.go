// Package past is the room of what has been: the state of things, history, days,
// months and weeks, where the money is, and what is taken back at once.
package past

import (
	"cmp"

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

// past gives the days of machines that may be told, one after the other; nil where
// it said why they may not.
func past(c *engine.Talk, of []*telling.Teller, from, to shop.Date, none string) (list []*tally.Machine) {
	days, hidden := 0, ""
	for _, t := range of {
		seen := telling.SeenUntil(t, to)
		if seen < to {
			hidden = telling.Counted(t)
		}
		m, err := bygone.Past(t, from, max(seen, from.Add(-1)))
		if err != nil {
			c.Say(c.V.Say("proof.cannot"))
			return nil
		}
		list, days = append(list, m), days+len(m.Days)
	}
	if days == 0 {
		c.Send(chat.Reply{Place: telling.Place(of), Body: []chat.Block{chat.Lines(cmp.Or(hidden, none))}})
		return nil
	}
	if hidden != "" {
		c.First(hidden)
	}
	return list
}
