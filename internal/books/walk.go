package books

import "shopfloat/internal/shop"

// Walk replays a machine's entries as they hold, in the order in which they take
// effect, and shows the state after each, with all of the past at hand. fn must
// neither change nor keep what it is shown.
func Walk(id shop.MachineID, entries []Entry, fn func(Entry, *Machine)) error {
	_, err := WalkOn(New(id), entries, fn)
	return err
}

// WalkOn is Walk from books on that were folded over all entries before these, and gives
// what [HistoryOn] gives.
func WalkOn(m *Machine, entries []Entry, fn func(Entry, *Machine)) (*Machine, error) {
	m = m.Clone()
	m.all = true
	return replay(m, entries, nil, fn)
}
