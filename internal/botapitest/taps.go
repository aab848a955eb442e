package botapitest

import (
	"errors"
	"fmt"
	"strconv"
)

// ErrNoButton is what Tap gives when the message shows no such button.
var ErrNoButton = errors.New("stand-in: no such button")

// Tap lets a person press a button in private and gives the callback query's id. The button is the first one
// whose data or label equals which.
func (s *Server) Tap(user int64, message int, which string) (string, error) {
	return s.TapIn(user, user, message, which)
}

// TapIn lets a person press a button in a chat.
func (s *Server) TapIn(chat, user int64, message int, which string) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if m := s.room(chat).message(message); m != nil {
		for _, row := range m.Buttons {
			for _, b := range row {
				if b.Data != "" && (b.Data == which || b.Text == which) {
					return s.tap(chat, user, message, b.Data), nil
				}
			}
		}
	}
	return "", fmt.Errorf("%w: %q on message %d of chat %d", ErrNoButton, which, message, chat)
}

// TapData sends a tap with any data, as an old copy of a message or a hostile client can. A message that is
// gone comes as an inaccessible one, with date 0 (API InaccessibleMessage).
func (s *Server) TapData(chat, user int64, message int, data string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.tap(chat, user, message, data)
}

func (s *Server) tap(chat, user int64, message int, data string) string {
	c := s.enter(chat, user)
	s.queries++
	id := strconv.FormatInt(4_000_000_000_000_000+s.queries, 10)
	b := append([]byte(`{"id":"`), id...)
	b = appendUser(append(b, `","from":`...), s.person(user))
	b = appendKey(b, "message")
	if m := c.message(message); m != nil {
		b = appendMessage(b, s, c, m)
	} else {
		b = append(append(b, `{"chat":`...), c.head...)
		b = appendIntField(b, "message_id", int64(message))
		b = append(b, `,"date":0}`...)
	}
	b = appendStringField(b, "chat_instance", strconv.FormatInt(chat, 10))
	b = append(appendStringField(b, "data", data), '}')
	if s.queue.add(s, "callback_query", b, callbackLife) != 0 {
		s.callbacks[id] = callback{chat, s.now()}
	}
	return id
}
