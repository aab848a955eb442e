package botapitest

import (
	"time"
	"unicode/utf8"
)

// callback is a tap that waits for its answer.
type callback struct {
	chat int64
	at   time.Time
}

// answerCallbackQuery stops the spinner of a tap. A late one is refused; so is a second one, which the
// platform leaves undocumented.
func (s *Server) answerCallbackQuery(c *call) *apiError {
	text := c.text("text")
	if utf8.RuneCountInString(text) > maxAnswerText {
		return badRequest("MESSAGE_TOO_LONG") // from memory
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	id := c.text("callback_query_id")
	query, ok := s.callbacks[id]
	if !ok {
		s.report.AnsweredTwice++
		return errQueryOld
	}
	waited := s.now().Sub(query.at)
	s.report.LongestWait = max(s.report.LongestWait, waited)
	if waited > s.opts.AnswerWindow {
		s.report.AnsweredLate++
		return errQueryOld
	}
	delete(s.callbacks, id)
	a := Answer{Query: id, Text: text, Alert: c.flag("show_alert")}
	s.chats[query.chat].addAnswer(a, s.opts.KeepMessages)
	s.changed.Broadcast()
	c.effects = append(c.effects, Effect{Method: c.method.name, Chat: query.chat, Answer: a})
	return c.yes()
}
