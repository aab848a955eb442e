package botapitest

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"time"
)

const (
	maxUpdateBytes = 64 << 10 // a larger update is dropped (platform server, add_update_impl)
	maxQueue       = 100_000  // updates held (TQueue)
	maxBatchBytes  = 4 << 20  // one answer to getUpdates
	farAhead       = 10       // an offset this far above the newest id still counts (TQueue)

	messageLife  = 24 * time.Hour    // from the message date, also other kinds
	callbackLife = 150 * time.Second // platform server, add_new_callback_query
)

// update is one waiting update, ready as JSON.
type update struct {
	id      int64
	expires time.Time
	json    []byte
}

// queue holds what the bot has not confirmed, by rising id.
type queue struct {
	next     int64 // id of the next update
	updates  []update
	earliest time.Time       // nothing expires before it
	allowed  map[string]bool // sticky between calls; nil means all but the three below
	last     []update        // the last batch handed out
	repeat   bool            // hand last out once more
}

// offByDefault are the kinds that come only when asked for by name (API getUpdates).
func offByDefault(kind string) bool {
	return kind == "chat_member" || kind == "message_reaction" || kind == "message_reaction_count"
}

func (q *queue) wants(kind string) bool {
	if q.allowed == nil {
		return !offByDefault(kind)
	}
	return q.allowed[kind]
}

// add queues an update of a kind the bot asked for and gives its id, 0 if it was dropped.
func (q *queue) add(s *Server, kind string, payload []byte, life time.Duration) int64 {
	if !q.wants(kind) {
		return 0
	}
	return q.force(s, kind, payload, life)
}

// force queues an update whether or not the bot asked for its kind.
func (q *queue) force(s *Server, kind string, payload []byte, life time.Duration) int64 {
	b := make([]byte, 0, len(payload)+len(kind)+40)
	b = strconv.AppendInt(append(b, `{"update_id":`...), q.next, 10)
	b = append(append(appendKey(b, kind), payload...), '}')
	if len(b) > maxUpdateBytes || len(q.updates) >= maxQueue {
		return 0
	}
	u := update{q.next, s.now().Add(life), b}
	if len(q.updates) == 0 || u.expires.Before(q.earliest) {
		q.earliest = u.expires
	}
	q.updates = append(q.updates, u)
	q.next++
	s.wakePoll()
	s.changed.Broadcast()
	return u.id
}

// expire forgets what is past its time.
func (q *queue) expire(now time.Time) {
	if len(q.updates) == 0 || now.Before(q.earliest) {
		return
	}
	q.updates = slices.DeleteFunc(q.updates, func(u update) bool { return !now.Before(u.expires) })
	for i, u := range q.updates {
		if i == 0 || u.expires.Before(q.earliest) {
			q.earliest = u.expires
		}
	}
}

// confirm forgets every update below offset. A negative offset keeps the newest -offset. An offset too far
// above the newest id is ignored, so the queue is handed out from its head.
func (q *queue) confirm(offset int64) {
	drop := 0
	switch {
	case offset < 0:
		drop = max(0, len(q.updates)+int(max(offset, -maxQueue)))
	case offset > q.next-1+farAhead:
		return
	default:
		for drop < len(q.updates) && q.updates[drop].id < offset {
			drop++
		}
	}
	clear(q.updates[:drop]) // lets go of the texts
	q.updates = q.updates[drop:]
}

// take confirms and gives the next batch, which stays queued until a later call confirms it.
func (q *queue) take(now time.Time, offset int64, limit int) []update {
	if q.repeat && len(q.last) > 0 {
		q.repeat = false
		return q.last
	}
	q.expire(now)
	q.confirm(offset)
	n, size := 0, 0
	for n < len(q.updates) && n < limit && (n == 0 || size+len(q.updates[n].json) <= maxBatchBytes) {
		size += len(q.updates[n].json)
		n++
	}
	if n > 0 {
		q.last = slices.Clone(q.updates[:n])
	}
	return q.updates[:n]
}

// allow remembers the kinds a call names. An absent or unreadable list changes nothing; an empty one means
// the default kinds; names nobody knows are passed over (platform server, update_allowed_update_types).
func (q *queue) allow(list []byte) {
	var kinds []string
	if len(bytes.TrimSpace(list)) == 0 || json.Unmarshal(list, &kinds) != nil {
		return
	}
	q.allowed = nil
	for _, kind := range kinds {
		if q.allowed == nil {
			q.allowed = map[string]bool{}
		}
		q.allowed[kind] = true
	}
}
