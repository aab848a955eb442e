package botapitest

import (
	"fmt"
	"strings"
)

// SendText lets a person write to the bot in private and gives the message id. An unknown person becomes
// known, and whoever blocked the bot unblocks it by writing.
func (s *Server) SendText(user int64, text string) int { return s.SendReply(user, 0, text) }

// SendReply lets a person answer a message in private; to is its id, 0 for none.
func (s *Server) SendReply(user int64, to int, text string) int {
	m := textMessage(user, text)
	m.ReplyTo = to
	return s.say(user, m)
}

// SendForward lets a person forward a message of the bot's back to it. It gives an error when there is none
// of that id.
func (s *Server) SendForward(user int64, message int) error {
	s.mu.Lock()
	of := s.room(user).message(message)
	if of == nil || !of.FromBot {
		s.mu.Unlock()
		return fmt.Errorf("stand-in: message %d is not the bot's", message)
	}
	m := textMessage(user, of.Text)
	m.Forwards = message
	s.mu.Unlock()
	s.say(user, m)
	return nil
}

// SendTextIn lets a person write in a chat.
func (s *Server) SendTextIn(chat, user int64, text string) int {
	return s.say(chat, textMessage(user, text))
}

func textMessage(user int64, text string) *Message {
	return &Message{From: user, Version: Version{Text: text, Entities: commandsIn(text)}}
}

// say puts a person's message into a chat and queues it for the bot.
func (s *Server) say(chat int64, m *Message) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.enter(chat, m.From)
	s.place(c, m)
	s.queue.add(s, "message", appendMessage(nil, s, c, m), messageLife)
	return m.ID
}

// enter makes person and chat known and, in private, writable.
func (s *Server) enter(id, user int64) *chat {
	s.person(user)
	c := s.room(id)
	if id > 0 && c.state != Active {
		s.setState(c, Active)
	}
	return c
}

// SendPhoto lets a person send a picture in private; its content can be fetched by getFile.
func (s *Server) SendPhoto(user int64, picture []byte, caption string) int {
	s.mu.Lock()
	id := s.store(picture, true).id
	s.mu.Unlock()
	return s.say(user, &Message{From: user, Photo: true, File: id, Version: Version{Text: caption}})
}

// SendDocument lets a person send a file in private. Its content can be fetched by getFile up to
// the platform's 20 MB. Name and kind are as the person's program says them, either may be empty (API
// Document).
func (s *Server) SendDocument(user int64, name, kind string, data []byte, caption string) int {
	s.mu.Lock()
	id := s.store(data, false).id
	s.mu.Unlock()
	return s.say(user, &Message{From: user, File: id, FileName: name, FileKind: kind,
		Version: Version{Text: caption}})
}

// EditText lets a person change an own message; the bot gets an edited_message update.
func (s *Server) EditText(user int64, message int, text string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.room(user)
	m := c.message(message)
	if m == nil || m.FromBot {
		return fmt.Errorf("stand-in: message %d is not one of user %d", message, user)
	}
	s.revise(m, Version{Text: text, Entities: commandsIn(text)})
	s.queue.add(s, "edited_message", appendMessage(nil, s, c, m), messageLife)
	return nil
}

// commandsIn finds the commands in a text the way clients mark them: a slash after the start or white
// space, then letters, digits and underscores, then perhaps @name.
func commandsIn(text string) []Entity {
	var list []Entity
	for i := 0; i < len(text); i++ {
		if text[i] != '/' || i > 0 && !isSpace(text[i-1]) {
			continue
		}
		rest := text[i+1:]
		n := len(rest) - len(strings.TrimLeft(rest, wordBytes))
		if n == 0 {
			continue
		}
		if strings.HasPrefix(rest[n:], "@") {
			if m := len(rest[n+1:]) - len(strings.TrimLeft(rest[n+1:], wordBytes)); m > 0 {
				n += 1 + m
			}
		}
		list = append(list, Entity{Type: "bot_command", Offset: utf16Len(text[:i]), Length: n + 1})
		i += n
	}
	return list
}

const wordBytes = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_"
