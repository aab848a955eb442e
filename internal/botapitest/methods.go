package botapitest

import "strings"

// method is one Bot API method the stand-in knows.
type method struct {
	name  string
	do    func(*Server, *call) *apiError
	calls int
}

// methodsByName lists every method under its name in lower case. Anything else answers "method not found".
func methodsByName() map[string]*method {
	all := map[string]*method{}
	for name, do := range map[string]func(*Server, *call) *apiError{
		"getMe":                  (*Server).getMe,
		"getUpdates":             (*Server).getUpdates,
		"sendMessage":            (*Server).sendMessage,
		"sendPhoto":              (*Server).sendPhoto,
		"sendDocument":           (*Server).sendDocument,
		"sendChatAction":         (*Server).sendChatAction,
		"editMessageText":        (*Server).editMessageText,
		"editMessageCaption":     (*Server).editMessageCaption,
		"editMessageReplyMarkup": (*Server).editMessageReplyMarkup,
		"deleteMessage":          (*Server).deleteMessage,
		"answerCallbackQuery":    (*Server).answerCallbackQuery,
		"getFile":                (*Server).getFile,
		"setMyCommands":          (*Server).setMyCommands,
		"getMyCommands":          (*Server).getMyCommands,
		"deleteMyCommands":       (*Server).deleteMyCommands,
		"setWebhook":             (*Server).setWebhook,
		"deleteWebhook":          (*Server).deleteWebhook,
		"getWebhookInfo":         (*Server).getWebhookInfo,
		"setMyName":              (*Server).accept,
		"setMyDescription":       (*Server).accept,
		"setMyShortDescription":  (*Server).accept,
		"setChatMenuButton":      (*Server).accept,
	} {
		all[strings.ToLower(name)] = &method{name: name, do: do}
	}
	return all
}

// getMe describes the bot.
func (s *Server) getMe(c *call) *apiError {
	c.out = append(c.out, s.me[:len(s.me)-1]...)
	c.out = append(c.out, `,"can_join_groups":true,"can_read_all_group_messages":false}`...)
	return nil
}

// accept answers true to a setting nothing here depends on.
func (s *Server) accept(c *call) *apiError { return c.yes() }

func (c *call) yes() *apiError {
	c.out = append(c.out, "true"...)
	return nil
}

// deliver hands the message back as the result and notes the effect.
func (s *Server) deliver(c *call, ch *chat, m *Message) *apiError {
	c.out = appendMessage(c.out, s, ch, m)
	c.effects = append(c.effects, Effect{Method: c.method.name, Chat: ch.id, Message: *m})
	return nil
}

// setWebhook takes an https address; while one is set getUpdates is refused. Nothing is ever sent to it.
func (s *Server) setWebhook(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	address := c.text("url")
	if address != "" && !strings.HasPrefix(address, "https://") {
		return badRequest("bad webhook: An HTTPS URL must be provided for webhook")
	}
	s.queue.allow(c.raw("allowed_updates"))
	s.webhook = address
	if address != "" {
		s.endPoll(errSetWebhook)
	}
	s.dropPending(c)
	return c.yes()
}

// deleteWebhook makes getUpdates work again.
func (s *Server) deleteWebhook(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.webhook = ""
	s.dropPending(c)
	return c.yes()
}

func (s *Server) dropPending(c *call) {
	if c.flag("drop_pending_updates") {
		s.queue.updates = nil
	}
}

// getWebhookInfo gives the address and the number of waiting updates.
func (s *Server) getWebhookInfo(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.queue.expire(s.now())
	c.out = appendString(append(c.out, `{"url":`...), s.webhook)
	c.out = append(c.out, `,"has_custom_certificate":false`...)
	c.out = append(appendIntField(c.out, "pending_update_count", int64(len(s.queue.updates))), '}')
	return nil
}
