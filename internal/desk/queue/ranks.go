package queue

import (
	"container/heap"
	"slices"
	"time"

	"shopfloat/internal/store"
)

// rank is the order in which messages go out when there are more than the pace
// allows: what cannot wait first, people of a shop next, strangers last.
type rank int

const (
	urgent rank = iota
	toMember
	toStranger
	ranks
)

// strangerEvery bounds the answers to strangers over all of them: a crowd of
// them takes no more than a tenth of what the platform lets through.
const strangerEvery = time.Second / 3

func rankOf(m store.Message) rank {
	switch {
	case m.Reply.Urgent:
		return urgent
	case m.Reply.Stranger:
		return toStranger
	}
	return toMember
}

// put adds a message to a line: behind all others, or what is urgent behind
// what is urgent too and behind what is on its way.
func (l *line) put(m store.Message) {
	at := len(l.rows)
	if rankOf(m) == urgent {
		at = 0
		if l.busy {
			at = min(1, len(l.rows))
		}
		for at < len(l.rows) && rankOf(l.rows[at]) == urgent {
			at++
		}
	}
	l.rows = slices.Insert(l.rows, at, m)
}

// sort puts what is urgent in front, as it may not be when a message that was
// on its way is to be tried again.
func (l *line) sort() {
	if len(l.rows) > 1 && rankOf(l.rows[0]) != urgent && rankOf(l.rows[1]) == urgent {
		slices.SortStableFunc(l.rows, func(a, b store.Message) int {
			return int(min(rankOf(a), toMember)) - int(min(rankOf(b), toMember))
		})
	}
}

// push puts a line into the heap, by its most urgent message. What is urgent
// does not wait for the chat's allowance.
func (q *Queue) push(l *line) {
	l.rank, l.at = toMember, l.held
	if len(l.rows) > 0 {
		l.rank = rankOf(l.rows[0])
	}
	if l.rank != urgent && !l.due.IsZero() { // an allowance that nothing was taken of is full
		l.at = later(l.at, l.due.Add(-(chatBurst-1)*chatEvery))
	}
	heap.Push(&q.order[l.rank], l)
}

// again puts a line that is in the heap into its place anew.
func (q *Queue) again(l *line) {
	heap.Remove(&q.order[l.rank], l.place)
	q.push(l)
}

// gate tells how long the overall pace has a rank wait.
func (q *Queue) gate(r rank, now time.Time, p Pace) time.Duration {
	if p.Rate <= 0 {
		return 0
	}
	until := q.next
	if r == toStranger {
		until = later(until, q.stranger)
	}
	return until.Sub(now)
}
