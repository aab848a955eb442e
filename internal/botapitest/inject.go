package botapitest

import (
	"context"
	"net/http"
	"slices"
	"strings"
)

const badGateway = "<html><body><h1>502 Bad Gateway</h1></body></html>\r\n"

// FaultKind says what goes wrong with a call.
type FaultKind int

// Faults a call can meet. All but CutAfter and Slow keep the call from having any effect.
const (
	TooManyRequests FaultKind = iota // 429 with Retry-After
	ServerError                      // 500 as JSON
	BadGatewayPage                   // 502 with an HTML page instead of JSON
	CutBefore                        // connection closed before the effect
	CutAfter                         // effect takes place, connection closed instead of an answer
	Slow                             // waits for Wait, then goes on as usual
)

// Fault is something that goes wrong on demand.
type Fault struct {
	Kind       FaultKind
	Method     string // method it hits in any case, "" for every one
	Chat       int64  // chat it hits, 0 for every call
	Times      int    // calls it hits before it is used up; 0 means 1
	RetryAfter int    // seconds, for TooManyRequests; 0 means 1
	// Wait blocks a Slow call, for which it must be set. It should return once ctx is done: the caller left.
	Wait func(ctx context.Context)
}

// Inject arms a fault. Faults act in the order they were armed, one per call.
func (s *Server) Inject(f Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f.Times = max(f.Times, 1)
	f.RetryAfter = max(f.RetryAfter, 1)
	s.faults = append(s.faults, &f)
}

// FaultsLeft is the number of armed faults that are not used up.
func (s *Server) FaultsLeft() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.faults)
}

// takeFault finds the fault that hits a call and uses it up by one.
func (s *Server) takeFault(c *call) *Fault {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, f := range s.faults {
		if !f.hits(c) {
			continue
		}
		if f.Times--; f.Times == 0 {
			s.faults = slices.Delete(s.faults, i, i+1)
		}
		if f.Kind == TooManyRequests {
			s.holdChat(c.chatID, f.RetryAfter)
		}
		return f
	}
	return nil
}

func (f *Fault) hits(c *call) bool {
	if f.Chat != 0 && f.Chat != c.chatID {
		return false
	}
	return f.Method == "" || strings.EqualFold(f.Method, c.method.name)
}

// before acts ahead of the effect. A non-nil error ends the call.
func (f *Fault) before(w http.ResponseWriter, c *call) *apiError {
	switch f.Kind {
	case TooManyRequests:
		return tooMany(f.RetryAfter)
	case ServerError:
		return errRestart
	case BadGatewayPage:
		w.Header().Set("Content-Type", "text/html")
		w.WriteHeader(http.StatusBadGateway)
		_, _ = w.Write([]byte(badGateway)) // a caller that hung up is no concern of the server
		return errAnswered
	case CutBefore:
		panic(http.ErrAbortHandler) // the way net/http closes a connection without an answer
	case Slow:
		f.Wait(c.ctx)
	}
	return nil
}

// RepeatBatch makes the next getUpdates hand out the last batch once more, whatever its offset says: a
// delivery the platform did twice.
func (s *Server) RepeatBatch() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.queue.repeat = true
	s.wakePoll()
}

// JumpID makes the next update carry id next, lower than before if wished, and drops what still waits: the
// platform does so after a week without updates (API Update).
func (s *Server) JumpID(next int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.queue.updates = nil
	s.queue.next = next
}

// Erase removes a message as a person deleting it for both sides does. The bot is not told.
func (s *Server) Erase(chat int64, message int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if c := s.chats[chat]; c != nil && c.message(message) != nil {
		c.remove(message)
		s.changed.Broadcast()
	}
}
