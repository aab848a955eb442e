package botapitest

import (
	"context"
	"errors"
	"strings"
)

// ErrClosed is what a wait gives when the server was closed.
var ErrClosed = errors.New("stand-in: server closed")

// Snapshot looks at the server while its state stands still. It is valid only inside the function it is
// given to.
type Snapshot struct{ srv *Server }

// Messages gives what a chat shows now, oldest first.
func (v Snapshot) Messages(chat int64) []Message {
	c := v.srv.chats[chat]
	if c == nil {
		return nil
	}
	out := make([]Message, 0, len(c.messages))
	for _, m := range c.messages {
		if m != nil {
			out = append(out, *m)
		}
	}
	return out
}

// Last gives the newest message of the bot in a chat; ok is false if there is none.
func (v Snapshot) Last(chat int64) (m Message, ok bool) {
	if c := v.srv.chats[chat]; c != nil {
		for i := len(c.messages) - 1; i >= 0; i-- {
			if m := c.messages[i]; m != nil && m.FromBot {
				return *m, true
			}
		}
	}
	return Message{}, false
}

// Answers gives the answers to taps in a chat, oldest first.
func (v Snapshot) Answers(chat int64) []Answer {
	if c := v.srv.chats[chat]; c != nil {
		return append([]Answer(nil), c.answers...)
	}
	return nil
}

// Calls is the number of calls to a method so far, in any case of its name.
func (v Snapshot) Calls(method string) int {
	if m := v.srv.find(method); m != nil {
		return m.calls
	}
	return 0
}

// Pending is the number of updates the bot has not confirmed.
func (v Snapshot) Pending() int {
	v.srv.queue.expire(v.srv.now())
	return len(v.srv.queue.updates)
}

// Unanswered is the number of callback queries without an answer.
func (v Snapshot) Unanswered() int { return len(v.srv.callbacks) }

// Polling reports whether a getUpdates call is waiting.
func (v Snapshot) Polling() bool { return v.srv.poll != nil }

// View calls f with the state as it is now.
func (s *Server) View(f func(Snapshot)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f(Snapshot{s})
}

// Messages gives what a chat shows now, oldest first.
func (s *Server) Messages(chat int64) (out []Message) {
	s.View(func(v Snapshot) { out = v.Messages(chat) })
	return out
}

// Answers gives the answers to taps in a chat, oldest first.
func (s *Server) Answers(chat int64) (out []Answer) {
	s.View(func(v Snapshot) { out = v.Answers(chat) })
	return out
}

// WaitFor blocks until cond holds. It is asked once at the start and after every change; it must not call the
// server. The error is ctx's, or [ErrClosed].
func (s *Server) WaitFor(ctx context.Context, cond func(Snapshot) bool) error {
	stop := context.AfterFunc(ctx, s.nudge)
	defer stop()
	s.mu.Lock()
	defer s.mu.Unlock()
	for !cond(Snapshot{s}) {
		if err := ctx.Err(); err != nil {
			return err
		}
		select {
		case <-s.done:
			return ErrClosed
		default:
		}
		s.changed.Wait()
	}
	return nil
}

// nudge makes every wait look again. Taking the lock keeps it from falling between a look and its wait.
func (s *Server) nudge() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.changed.Broadcast()
}

// WaitForText blocks until the chat's newest message of the bot contains part, and gives that message.
func (s *Server) WaitForText(ctx context.Context, chat int64, part string) (found Message, err error) {
	err = s.WaitFor(ctx, func(v Snapshot) bool {
		m, ok := v.Last(chat)
		found = m
		return ok && strings.Contains(m.Text, part)
	})
	return found, err
}
