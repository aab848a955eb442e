package books

import "shopfloat/internal/shop"

// Ended replays a machine's entries like Fold and hands over every period once,
// when it is closed, in that order. fn must neither change nor keep it.
func Ended(id shop.MachineID, entries []Entry, fn func(*Period)) error {
	return EndedOn(New(id), entries, fn)
}

// EndedOn is Ended from books on that were folded over all entries before these.
func EndedOn(then *Machine, entries []Entry, fn func(*Period)) error {
	told := map[int64]bool{}
	_, err := replay(then.Clone(), entries, nil, func(m *Machine) {
		for _, p := range m.Periods {
			if p.Status == Closed && !told[p.No] {
				told[p.No] = true
				fn(p)
			}
		}
	})
	return err
}
