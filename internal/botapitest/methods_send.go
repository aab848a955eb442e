package botapitest

import (
	"encoding/json"
	"strconv"
	"strings"
)

// sendMessage posts a text. Faults of the text come before those of the markup, and both before the chat's,
// as on the platform's server.
func (s *Server) sendMessage(c *call) *apiError {
	v, err := c.messageText()
	if err != nil {
		return err
	}
	return s.post(c, &Message{Version: v})
}

// post puts a message with the call's markup and reply into the chat.
func (s *Server) post(c *call, m *Message) *apiError {
	mk, err := c.markup()
	if err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	ch, err := s.reach(c)
	if err != nil {
		return err
	}
	if m.ReplyTo, err = c.replyTo(ch); err != nil {
		return err
	}
	m.From, m.FromBot = s.botID, true
	m.Buttons, m.Menu, m.fixed = mk.buttons, mk.menu, mk.fixed
	m.Silent = c.flag("disable_notification")
	s.report.ButtonsCut += mk.cut
	s.notePace(ch)
	return s.deliver(c, ch, s.place(ch, m))
}

// replyTo finds the message replied to, by the current parameter or the one it replaced in API 7.0.
func (c *call) replyTo(ch *chat) (int, *apiError) {
	var reply struct {
		ID      json.Number `json:"message_id"`
		Lenient bool        `json:"allow_sending_without_reply"`
	}
	if raw := c.raw("reply_parameters"); len(raw) > 0 {
		if err := json.Unmarshal(raw, &reply); err != nil {
			return 0, badRequest("can't parse reply parameters JSON object")
		}
	} else {
		reply.ID = json.Number(c.text("reply_to_message_id"))
		reply.Lenient = c.flag("allow_sending_without_reply")
	}
	id, _ := strconv.Atoi(reply.ID.String())
	switch {
	case id == 0:
		return 0, nil
	case ch.message(id) != nil:
		return id, nil
	case reply.Lenient:
		return 0, nil
	}
	return 0, badRequest("message to be replied not found")
}

// chatActions are the actions a bot can show, API sendChatAction.
const chatActions = " typing upload_photo record_video upload_video record_voice upload_voice " +
	"upload_document choose_sticker find_location record_video_note upload_video_note "

// sendChatAction checks the action and the chat and shows nothing.
func (s *Server) sendChatAction(c *call) *apiError {
	action := c.text("action")
	if action == "" || !strings.Contains(chatActions, " "+action+" ") {
		return badRequest("wrong parameter action in request")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, err := s.reach(c); err != nil {
		return err
	}
	return c.yes()
}
