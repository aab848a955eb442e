package botapitest

import "time"

const maxPollSeconds = 50 // platform server, LONG_POLL_MAX_TIMEOUT

// poll is a getUpdates call that waits for an update.
type poll struct {
	wake    chan struct{} // one waiting signal is enough
	refused *apiError     // set before the wake when another call ended this one
}

// lastPoll is what the rule against quick repeats needs to know.
type lastPoll struct {
	offset int64
	at     time.Time
}

// getUpdates hands out waiting updates under the queue rules of FACTS.md A.
func (s *Server) getUpdates(c *call) *apiError {
	offset := c.integer("offset", 0, -1<<62, 1<<62)
	limit := c.integer("limit", 100, 1, 100)
	seconds := c.integer("timeout", 0, 0, maxPollSeconds)

	s.mu.Lock()
	defer s.mu.Unlock()
	s.queue.allow(c.raw("allowed_updates"))
	if s.webhook != "" {
		return errWebhookActive
	}
	s.endPoll(errOtherPoll)
	limit, seconds = s.slowRepeat(offset, limit, seconds)
	batch := s.queue.take(s.now(), offset, int(limit))
	if len(batch) == 0 && seconds > 0 {
		p := &poll{wake: make(chan struct{}, 1)}
		s.poll = p
		s.changed.Broadcast()
		timer := s.opts.After(time.Duration(seconds) * time.Second)
		for len(batch) == 0 && s.awaitUpdate(c, p, timer) && p.refused == nil {
			batch = s.queue.take(s.now(), offset, int(limit))
		}
		if p.refused != nil {
			return p.refused
		}
		s.poll = nil
	}
	c.out = appendBatch(c.out, batch)
	return nil
}

// slowRepeat slows a caller down that asks again for what it was just given: within 0.5 s it gets one update,
// within 3 s the wait is at least 3 s (platform server, process_get_updates_query).
func (s *Server) slowRepeat(offset, limit, seconds int64) (int64, int64) {
	now := s.now()
	since := now.Sub(s.lastPoll.at)
	if offset == s.lastPoll.offset && since >= 0 {
		if since < 3*time.Second {
			seconds = max(seconds, 3)
		}
		if since < 500*time.Millisecond {
			limit = 1
		}
	}
	s.lastPoll = lastPoll{offset, now}
	return limit, seconds
}

// awaitUpdate lets go of the lock until something is queued. It reports false when the wait is over.
func (s *Server) awaitUpdate(c *call, p *poll, timer <-chan time.Time) bool {
	s.mu.Unlock()
	defer s.mu.Lock()
	select {
	case <-p.wake:
		return true
	case <-timer:
	case <-c.ctx.Done():
	case <-s.done:
	}
	return false
}

// wakePoll tells the waiting poll of a new update.
func (s *Server) wakePoll() {
	if s.poll == nil {
		return
	}
	select {
	case s.poll.wake <- struct{}{}:
	default: // told already
	}
}

// endPoll ends the waiting poll with a refusal: the newer call wins.
func (s *Server) endPoll(err *apiError) {
	if s.poll == nil {
		return
	}
	s.poll.refused = err
	s.wakePoll()
	s.poll = nil
}

func appendBatch(b []byte, batch []update) []byte {
	b = append(b, '[')
	for i, u := range batch {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, u.json...)
	}
	return append(b, ']')
}
