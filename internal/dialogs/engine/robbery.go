package engine

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/incidents"
	"shopfloat/internal/shop"
)

// Robbed reports whether a robbery is on record at the machine that no manager
// has said is over.
func (c *Talk) Robbed() bool { return slices.ContainsFunc(c.M.Faults, incidents.Robbery) }

func Manages(p shop.Person) bool { return p.Acts().Manages() }

// warns reports whether a card at which the safe is open after a robbery begins with a caution.
func (c *Talk) warns() bool { return c.Robbed() && !c.Quiet() }

// quiet: a robbery is under way in this chat, and nothing is asked.
func (c *Talk) Quiet() bool {
	w := c.State.Walk
	if w == nil || w.Guide != chat.Robbery || len(w.Taken) > 0 {
		return false
	}
	f := c.M.Fault(w.Fault)
	return f == nil || f.Unsolved() // a manager may have said meanwhile that it is over
}
