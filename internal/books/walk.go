package books

import (
	"fmt"

	"shopfloat/internal/shop"
)

// Walk replays a machine's entries as they hold, in the order in which they take
// effect, and shows the state after each, with all of the past at hand. fn must
// neither change nor keep what it is shown.
func Walk(id shop.MachineID, entries []Entry, fn func(Entry, *Machine)) error {
	return WalkOn(New(id), entries, fn)
}

// WalkOn is Walk from books on that were folded over all entries before these.
func WalkOn(m *Machine, entries []Entry, fn func(Entry, *Machine)) error {
	m = m.Clone()
	m.all = true
	for _, e := range InForce(entries) {
		if _, err := m.post(&e); err != nil {
			return fmt.Errorf("entry %d: %w", e.Seq, err)
		}
		fn(e, m)
	}
	return nil
}
