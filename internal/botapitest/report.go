package botapitest

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"time"
)

const (
	chatGap       = time.Second // about one message a second in one chat, FACTS.md A
	groupWindow   = time.Minute
	groupSendsMax = 20  // in one group within groupWindow
	errorTextsMax = 200 // different error texts counted
)

// Report is what the server counted since it was made.
type Report struct {
	Calls         map[string]int // by method name
	Errors        map[string]int // by description, for answers with ok:false
	Unanswered    []string       // ids of callback queries that never got an answer
	AnsweredTwice int            // answers to a query answered already or never made
	AnsweredLate  int            // answers after Options.AnswerWindow
	LongestWait   time.Duration  // of a tap for its answer, by the server's clock
	FastSends     int            // sends and edits less than 1 s after the one before in the chat
	FastGroup     int            // sends and edits above 20 in a minute in one group
	EarlyRetries  int            // sends and edits to a chat before retry_after was over
	ButtonsCut    int            // dropped without an error: empty, past the 12th of a row or the 300th
	TokenSeen     int            // calls with the secret part of the token in a parameter or a file
}

// pace is what the counts by Options.RateClock need to know of a chat.
type pace struct {
	last, held time.Time
	minute     []time.Time
}

// Report gives the counts so far. FastSends, FastGroup and EarlyRetries stay 0 without [Options.RateClock].
func (s *Server) Report() Report {
	s.mu.Lock()
	defer s.mu.Unlock()
	r := s.report
	r.Calls = map[string]int{}
	for _, m := range s.byName {
		if m.calls > 0 {
			r.Calls[m.name] = m.calls
		}
	}
	r.Errors = maps.Clone(s.report.Errors)
	r.Unanswered = slices.Sorted(maps.Keys(s.callbacks))
	return r
}

// note counts a call and looks for the token in what it sends.
func (s *Server) note(c *call) {
	leak := c.contains(s.secret)
	s.mu.Lock()
	defer s.mu.Unlock()
	c.method.calls++
	if leak {
		s.report.TokenSeen++
	}
	s.changed.Broadcast()
}

func (c *call) contains(secret string) bool {
	if strings.Contains(view(c.body), secret) {
		return true // the usual body; a quoted form needs the parameters as well
	}
	needle := []byte(secret)
	for i := range c.params {
		if bytes.Contains(c.params[i].value, needle) {
			return true
		}
	}
	for _, p := range c.parts {
		if bytes.Contains(p.data, needle) || strings.Contains(p.name, secret) {
			return true
		}
	}
	return false
}

func (s *Server) noteError(err *apiError) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.report.Errors == nil {
		s.report.Errors = map[string]int{}
	}
	if _, known := s.report.Errors[err.text]; known || len(s.report.Errors) < errorTextsMax {
		s.report.Errors[err.text]++
	}
}

// notePace counts a send or edit that comes too soon.
func (s *Server) notePace(c *chat) {
	if s.opts.RateClock == nil {
		return
	}
	now := s.opts.RateClock()
	p := &c.pace
	if !p.last.IsZero() && now.Sub(p.last) < chatGap {
		s.report.FastSends++
	}
	p.last = now
	if now.Before(p.held) {
		s.report.EarlyRetries++
	}
	if c.id > 0 {
		return
	}
	p.minute = append(p.minute, now)
	if len(p.minute) > groupSendsMax {
		if now.Sub(p.minute[0]) < groupWindow {
			s.report.FastGroup++
		}
		p.minute = p.minute[1:]
	}
}

// holdChat remembers until when a chat must be left alone after a 429.
func (s *Server) holdChat(id int64, seconds int) {
	if c := s.chats[id]; c != nil && s.opts.RateClock != nil {
		c.pace.held = s.opts.RateClock().Add(time.Duration(seconds) * time.Second)
	}
}
