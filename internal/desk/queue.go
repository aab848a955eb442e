package desk

import (
	"container/heap"
	"sync"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// keepFor is how long handled rows are kept, and how long a message is tried.
// Ids of updates may be used again after a quiet week, not before.
const keepFor = 48 * time.Hour

// knownMax bounds the message ids kept at hand.
const knownMax = 4096

// queue holds the messages that are durable and not sent yet, a line for each
// chat, and what became of those sent since the last commit. A chat without
// messages has no line, unless it has just been written to.
type queue struct {
	mu       sync.Mutex
	lines    map[chat.Chat]*line
	order    [ranks]lineHeap // lines that nobody is sending from, by the time they may
	receipts []receipt
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

// receipt says what became of an outbox row, or that a chat is gone.
type receipt struct {
	row       int64
	messageID int64
	gone      chat.Chat
}

func (q *queue) init() {
	q.lines = map[chat.Chat]*line{}
	q.known = map[int64]int64{}
	q.wake = make(chan struct{}, 1)
}

// add appends durable messages to their lines.
func (q *queue) add(list []store.Message) {
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

// drop forgets what waits for chats. What is on its way at the moment cannot
// be called back, but it is not tried again.
func (q *queue) drop(list []drop) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, d := range list {
		l := q.lines[d.chat]
		switch {
		case l == nil:
		case l.busy && len(l.rows) > 0:
			l.rows, l.last = l.rows[:1], true
		case !l.busy:
			l.rows = nil
			q.again(l)
		}
	}
}

// only drops all that waits but has not been told anybody yet, for words that
// hold instead.
func (q *queue) only(list []store.Message) {
	q.mu.Lock()
	for _, l := range q.lines {
		if l.busy && len(l.rows) > 0 {
			l.rows, l.last = l.rows[:1], true
		} else if !l.busy {
			l.rows = nil
			q.again(l)
		}
	}
	q.mu.Unlock()
	q.add(list)
}

// waiting tells how many messages wait, and since when the oldest does.
func (q *queue) waiting() (n int, oldest time.Time) {
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

func (q *queue) signal() {
	select {
	case q.wake <- struct{}{}:
	default:
	}
}

// take gives the next message that may be sent now; its line is busy until
// settle. When there is none, wait tells how long to wait for one; 0 means
// until something changes.
func (q *queue) take(now time.Time, p Pace) (m store.Message, rows []int64, wait time.Duration) {
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
func (q *queue) ready(r rank, now time.Time, p Pace) (l *line, wait time.Duration) {
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
func (q *queue) retire(l *line, now time.Time) {
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
func (q *queue) pay(l *line, now time.Time, p Pace) {
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

// settle ends the sending from a line: rows are done with, or, without rows,
// the first message stays and is tried again after a pause, unless it was
// dropped meanwhile.
func (q *queue) settle(where chat.Chat, rows []int64, messageID int64, pause time.Duration, now time.Time) {
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
		q.receipts = append(q.receipts, receipt{row: id, messageID: messageID})
		q.remember(id, messageID)
	}
	l.drop(rows)
	l.held = now.Add(pause)
	if len(rows) > 0 {
		l.wait = 0
	}
	l.busy = false
	l.sort()
	q.push(l)
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

// gone drops a line whose chat takes no messages.
func (q *queue) gone(where chat.Chat) {
	q.mu.Lock()
	defer q.mu.Unlock()
	l := q.lines[where]
	for _, m := range l.rows {
		if m.ID > 0 {
			q.receipts = append(q.receipts, receipt{row: m.ID})
		}
	}
	q.receipts = append(q.receipts, receipt{gone: where})
	delete(q.lines, where)
	q.signal()
}

// pause gives the next pause after a network fault: double the last, at most a minute.
func (q *queue) pause(where chat.Chat) time.Duration {
	q.mu.Lock()
	defer q.mu.Unlock()
	l := q.lines[where]
	l.wait = min(max(2*l.wait, time.Second), time.Minute)
	return l.wait
}

func (q *queue) remember(row, messageID int64) {
	if len(q.known) >= knownMax && len(q.receipts) < knownMax/2 {
		clear(q.known)
		for _, r := range q.receipts {
			q.known[r.row] = r.messageID
		}
	}
	q.known[row] = messageID
}

// message gives the message a row became, if it is at hand.
func (q *queue) message(row int64) (id int64, ok bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	id, ok = q.known[row]
	return id, ok
}

// receiptsWaiting lists what is to be written with the next commit.
func (q *queue) receiptsWaiting() []receipt {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.receipts[:len(q.receipts):len(q.receipts)]
}

// written drops the first n receipts: they are durable.
func (q *queue) written(n int) {
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
