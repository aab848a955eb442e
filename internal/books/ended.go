package books

import (
	"fmt"

	"shopfloat/internal/shop"
)

// ClosingsOn goes on from books that were folded over all entries before others, with these,
// and hands over every period that they close, once, with the number of the entry that did, in
// that order. fn must neither change nor keep it.
func ClosingsOn(m *Machine, entries []Entry, fn func(seq int64, p *Period)) error {
	m = m.Clone()
	told := map[int64]bool{}
	for _, p := range m.Periods {
		told[p.No] = p.Status == Closed
	}
	for _, e := range InForce(entries) {
		if _, err := m.post(&e); err != nil {
			return fmt.Errorf("entry %d: %w", e.Seq, err)
		}
		for _, p := range m.Periods {
			if p.Status == Closed && !told[p.No] {
				told[p.No] = true
				fn(e.Seq, p)
			}
		}
	}
	return nil
}

// Ended replays a machine's entries like Fold and hands over every period once,
// when it is closed, in that order. fn must neither change nor keep it.
func Ended(id shop.MachineID, entries []Entry, fn func(*Period)) error {
	return EndedOn(New(id), entries, fn)
}

// EndedOn is Ended from books on that were folded over all entries before these.
func EndedOn(then *Machine, entries []Entry, fn func(*Period)) error {
	told := map[int64]bool{}
	_, err := replay(then.Clone(), entries, nil, func(_ Entry, m *Machine) {
		for _, p := range m.Periods {
			if p.Status == Closed && !told[p.No] {
				told[p.No] = true
				fn(p)
			}
		}
	})
	return err
}
