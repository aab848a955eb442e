package botapitest

import (
	"slices"
	"time"
)

const deleteWithin = 48 * time.Hour // API deleteMessage

// editMessageText replaces text and buttons. Without reply_markup the buttons go.
func (s *Server) editMessageText(c *call) *apiError {
	v, err := c.messageText()
	if err != nil {
		return err
	}
	return s.edit(c, func(m *Message) (Version, *apiError) {
		if m.File != "" {
			return v, badRequest("there is no text in the message to edit")
		}
		return v, nil
	})
}

// editMessageCaption replaces the caption and the buttons of a photo or document.
func (s *Server) editMessageCaption(c *call) *apiError {
	v, err := c.caption()
	if err != nil {
		return err
	}
	return s.edit(c, func(m *Message) (Version, *apiError) {
		if m.File == "" {
			return v, badRequest("there is no caption in the message to edit")
		}
		return v, nil
	})
}

// editMessageReplyMarkup replaces the buttons only.
func (s *Server) editMessageReplyMarkup(c *call) *apiError {
	return s.edit(c, func(m *Message) (Version, *apiError) { return m.Version, nil })
}

// edit finds the message, lets revised give its new content, puts the call's buttons under it and stores it.
func (s *Server) edit(c *call, revised func(*Message) (Version, *apiError)) *apiError {
	mk, err := c.inline()
	if err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	ch, m, err := s.own(c)
	if err != nil {
		return err
	}
	v, err := revised(m)
	if err != nil {
		return err
	}
	v.Buttons = mk.buttons
	if v.same(m.Version) {
		return errNotModified
	}
	s.report.ButtonsCut += mk.cut
	s.notePace(ch) // edits draw on the same allowance as sends, FACTS.md A
	s.revise(m, v)
	return s.deliver(c, ch, m)
}

// own finds a message of the bot that may be edited (can_edit_message; FACTS.md A).
func (s *Server) own(c *call) (*chat, *Message, *apiError) {
	ch, err := s.reach(c)
	if err != nil {
		return nil, nil, err
	}
	if len(c.raw("message_id")) == 0 {
		return nil, nil, badRequest("message identifier is not specified")
	}
	m := ch.message(int(c.integer("message_id", 0, 0, 1<<31)))
	switch {
	case m == nil:
		return nil, nil, badRequest("message to edit not found")
	case !m.FromBot || m.fixed:
		return nil, nil, badRequest("message can't be edited")
	}
	return ch, m, nil
}

// same compares what is shown: text, entities and buttons.
func (v Version) same(w Version) bool {
	return v.Text == w.Text && slices.Equal(v.Entities, w.Entities) &&
		slices.EqualFunc(v.Buttons, w.Buttons, slices.Equal[[]Button])
}

// deleteMessage takes a message out of its chat: the bot's own anywhere, a person's in a private chat only,
// neither when older than 48 h.
func (s *Server) deleteMessage(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	ch, err := s.reach(c)
	if err != nil {
		return err
	}
	m := ch.message(int(c.integer("message_id", 0, 0, 1<<31)))
	switch {
	case m == nil:
		return badRequest("message to delete not found")
	case !m.FromBot && ch.id < 0:
		return badRequest("message can't be deleted")
	case s.now().Sub(time.Unix(m.Date, 0)) > deleteWithin:
		return badRequest("message can't be deleted for everyone")
	}
	ch.remove(m.ID)
	s.changed.Broadcast()
	c.effects = append(c.effects, Effect{Method: c.method.name, Chat: ch.id, Message: Message{ID: m.ID}})
	return c.yes()
}
