package queue

import (
	"slices"

	"shopfloat/internal/store"
)

// merged gives the first message of a line. Where later ones replace it, their
// text goes out in its place and all of them are done with. So it is where the
// very next one is the same card drawn anew: a burst of taps on an old button
// costs one card.
func merged(line []store.Message) (m store.Message, rows []int64) {
	m = line[0]
	rows = []int64{m.ID}
	last, next := m.ID, true // next: nothing has been passed over
	for _, e := range line[1:] {
		switch {
		case e.Edits == last:
			if m.Retires != 0 && e.Retires == 0 {
				e.Retires, e.Reply.Retire = m.Retires, m.Reply.Retire
			}
			m.Retires = e.Retires
		case next && redraws(m, last, e):
		default:
			next = false
			continue
		}
		last = e.ID
		rows = append(rows, e.ID)
		m.Reply = e.Reply
	}
	return m, rows
}

// redraws tells whether a message says once more what one that is still to be
// sent says, with the same buttons under another number: the earlier one would
// be seen with dead buttons.
func redraws(m store.Message, last int64, e store.Message) bool {
	return m.Edits == 0 && e.Edits == 0 && e.Retires == last && m.Reply.File == nil && e.Reply.File == nil &&
		m.Reply.Silent == e.Reply.Silent && slices.Equal(m.Reply.Body, e.Reply.Body)
}
