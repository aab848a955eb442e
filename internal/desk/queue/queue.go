// Package queue decides what goes out next: messages that are durable wait in a
// line for each chat, what is urgent before all else, strangers last, at the
// pace that the platform allows.
package queue

import (
	"container/heap"
	"sync"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// knownMax bounds the message ids kept at hand.
const knownMax = 4096

// Pace bounds the speed of sending: Rate messages a second over all chats, and
// about one a second in each chat with a burst of five. A Rate of 0 bounds
// neither.
type Pace struct{ Rate int }

// Queue holds the messages that are durable and not sent yet, a line for each
// chat, and what became of those sent since the last commit. A chat without
// messages has no line, unless it has just been written to. It is safe for use by
// several goroutines.
type Queue struct {
	mu       sync.Mutex
	lines    map[chat.Chat]*line
	order    [ranks]lineHeap // lines that nobody is sending from, by the time they may
	receipts []Receipt
	known    map[int64]int64 // message ids by outbox row
	next     time.Time       // when the overall pace allows the next message
	stranger time.Time       // when the next stranger may be answered
	wake     chan struct{}   // something changed
}

// line is the messages for one chat, in order.
type line struct {
	chat  chat.Chat
	rows  []store.Message
	rank  rank          // of its most urgent message, while it stands in the heap
	at    time.Time     // not before
	held  time.Time     // not before, whatever is to be said: the server said so, or cannot be reached
	due   time.Time     // when the chat's allowance is full again
	wait  time.Duration // the last pause after a network fault
	busy  bool
	last  bool // the message on its way is not tried again
	place int  // in the heap
}

// Receipt says what became of an outbox row, or that a chat is gone.
type Receipt struct {
	Row       int64
	MessageID int64
	Gone      chat.Chat
}

// New makes an empty queue.
func New() *Queue {
	return &Queue{lines: map[chat.Chat]*line{}, known: map[int64]int64{}, wake: make(chan struct{}, 1)}
}

// Wake is sent to when something has changed.
func (q *Queue) Wake() <-chan struct{} { return q.wake }

// Add appends durable messages to their lines.
func (q *Queue) Add(list []store.Message) {
	if len(list) == 0 {
		return
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, m := range list {
		switch l := q.lines[m.Chat]; {
		case l == nil:
			l = &line{chat: m.Chat, rows: []store.Message{m}}
			q.lines[m.Chat] = l
			q.push(l)
		case l.busy:
			l.put(m)
		default:
			l.put(m)
			if len(l.rows) == 1 || rankOf(m) < l.rank {
				q.again(l)
			}
		}
	}
	q.signal()
}

// Drop forgets what waits for a chat. What is on its way at the moment cannot
// be called back, but it is not tried again.
func (q *Queue) Drop(where chat.Chat) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if l := q.lines[where]; l != nil {
		q.drop(l)
	}
}

func (q *Queue) drop(l *line) {
	switch {
	case l.busy && len(l.rows) > 0:
		l.rows, l.last = l.rows[:1], true
	case !l.busy:
		l.rows = nil
		q.again(l)
	}
}

// DropAll forgets all that waits.
func (q *Queue) DropAll() {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, l := range q.lines {
		q.drop(l)
	}
}

// Waiting tells how many messages wait, and since when the oldest does.
func (q *Queue) Waiting() (n int, oldest time.Time) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, l := range q.lines {
		n += len(l.rows)
		if len(l.rows) > 0 && (oldest.IsZero() || l.rows[0].At.Before(oldest)) {
			oldest = l.rows[0].At
		}
	}
	return n, oldest
}

func (q *Queue) signal() {
	select {
	case q.wake <- struct{}{}:
	default:
	}
}

// Take gives the next message that may be sent now; its line is busy until
// settle. When there is none, wait tells how long to wait for one; 0 means
// until something changes.
func (q *Queue) Take(now time.Time, p Pace) (m store.Message, rows []int64, wait time.Duration) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for r := range q.order {
		l, w := q.ready(rank(r), now, p)
		if l == nil {
			if w > 0 && (wait == 0 || w < wait) {
				wait = w
			}
			continue
		}
		q.pay(l, now, p)
		heap.Remove(&q.order[r], l.place)
		l.busy = true
		m, rows = merged(l.rows)
		return m, rows, 0
	}
	return m, nil, wait
}

// ready gives the first line of a rank that may send, or how long to wait for
// one. Lines without messages go on the way.
func (q *Queue) ready(r rank, now time.Time, p Pace) (l *line, wait time.Duration) {
	for len(q.order[r]) > 0 {
		l := q.order[r][0]
		if w := l.at.Sub(now); w > 0 {
			return nil, w
		}
		if len(l.rows) > 0 {
			if w := q.gate(r, now, p); w > 0 {
				return nil, w
			}
			return l, 0
		}
		q.retire(l, now)
	}
	return nil, 0
}

// retire drops an empty line once its allowance is full.
func (q *Queue) retire(l *line, now time.Time) {
	if l.due.After(now) {
		l.at = l.due
		heap.Fix(&q.order[l.rank], l.place)
		return
	}
	heap.Remove(&q.order[l.rank], l.place)
	delete(q.lines, l.chat)
}

// The pace within a chat: one message a second, five at once.
const (
	chatEvery = time.Second
	chatBurst = 5
)

// pay takes a message off the allowances. What is left of a chat's allowance
// is told by the time at which it is full again.
func (q *Queue) pay(l *line, now time.Time, p Pace) {
	if p.Rate <= 0 {
		return
	}
	q.next = later(q.next, now).Add(time.Second / time.Duration(p.Rate))
	if l.rank == toStranger {
		q.stranger = later(q.stranger, now).Add(strangerEvery)
	}
	l.due = later(l.due, now).Add(chatEvery)
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// Settle ends the sending from a line: rows are done with, or, without rows,
// the first message stays and is tried again after a pause, unless it was
// dropped meanwhile.
func (q *Queue) Settle(where chat.Chat, rows []int64, messageID int64, pause time.Duration, now time.Time) {
	q.mu.Lock()
	defer q.mu.Unlock()
	l := q.lines[where]
	if l.last && len(rows) == 0 {
		l.drop([]int64{l.first()})
	}
	l.last = false
	for _, id := range rows {
		if id < 0 { // it stands in no outbox
			continue
		}
		q.receipts = append(q.receipts, Receipt{Row: id, MessageID: messageID})
		q.remember(id, messageID)
	}
	l.drop(rows)
	l.held = now.Add(pause)
	if len(rows) > 0 {
		l.wait = 0
	}
	l.busy = false
	if len(l.rows) == 0 && !l.due.After(now) && !l.held.After(now) {
		delete(q.lines, where) // nothing waits, and its allowance is full: it is as if it had never been
	} else {
		l.sort()
		q.push(l)
	}
	q.signal()
}

func (l *line) drop(rows []int64) {
	kept := l.rows[:0]
	for _, m := range l.rows {
		if len(rows) > 0 && m.ID == rows[0] {
			rows = rows[1:]
			continue
		}
		kept = append(kept, m)
	}
	clear(l.rows[len(kept):])
	l.rows = kept
}

// Gone drops a line whose chat takes no messages.
func (q *Queue) Gone(where chat.Chat) {
	q.mu.Lock()
	defer q.mu.Unlock()
	l := q.lines[where]
	for _, m := range l.rows {
		if m.ID > 0 {
			q.receipts = append(q.receipts, Receipt{Row: m.ID})
		}
	}
	q.receipts = append(q.receipts, Receipt{Gone: where})
	delete(q.lines, where)
	q.signal()
}

// Pause gives the next pause after a network fault: double the last, at most a minute.
func (q *Queue) Pause(where chat.Chat) time.Duration {
	q.mu.Lock()
	defer q.mu.Unlock()
	l := q.lines[where]
	l.wait = min(max(2*l.wait, time.Second), time.Minute)
	return l.wait
}

func (q *Queue) remember(row, messageID int64) {
	if len(q.known) >= knownMax && len(q.receipts) < knownMax/2 {
		clear(q.known)
		for _, r := range q.receipts {
			q.known[r.Row] = r.MessageID
		}
	}
	q.known[row] = messageID
}

// Message gives the message a row became, if it is at hand.
func (q *Queue) Message(row int64) (id int64, ok bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	id, ok = q.known[row]
	return id, ok
}

// Receipts lists what is to be written with the next commit.
func (q *Queue) Receipts() []Receipt {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.receipts[:len(q.receipts):len(q.receipts)]
}

// Written drops the first n receipts: they are durable.
func (q *Queue) Written(n int) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.receipts = q.receipts[n:]; len(q.receipts) == 0 {
		q.receipts = nil
	}
}

// lineHeap orders lines by the time they may send, then by their oldest message.
type lineHeap []*line

func (h lineHeap) Len() int { return len(h) }
func (h lineHeap) Less(i, j int) bool {
	if !h[i].at.Equal(h[j].at) {
		return h[i].at.Before(h[j].at)
	}
	return h[i].first() < h[j].first()
}
func (h lineHeap) Swap(i, j int) {
	h[i], h[j] = h[j], h[i]
	h[i].place, h[j].place = i, j
}
func (h *lineHeap) Push(x any) {
	l := x.(*line)
	l.place = len(*h)
	*h = append(*h, l)
}
func (h *lineHeap) Pop() any {
	old := *h
	l := old[len(old)-1]
	old[len(old)-1] = nil
	*h = old[:len(old)-1]
	return l
}

func (l *line) first() int64 {
	if len(l.rows) == 0 {
		return 0
	}
	return l.rows[0].ID
}

// Oldest takes the oldest message over the lines of some chats, whatever the pace.
func (q *Queue) Oldest(own func(chat.Chat) bool) (m store.Message, rows []int64, ok bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	var first *line
	for _, l := range q.lines {
		if !l.busy && len(l.rows) > 0 && own(l.chat) && (first == nil || l.first() < first.first()) {
			first = l
		}
	}
	if first == nil {
		return m, nil, false
	}
	heap.Remove(&q.order[first.rank], first.place)
	first.busy = true
	if len(first.rows) == 1 {
		return first.rows[0], []int64{first.rows[0].ID}, true
	}
	m, rows = merged(first.rows)
	return m, rows, true
}
