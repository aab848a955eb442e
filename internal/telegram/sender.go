package telegram

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// sender delivers the outbox.
type sender struct {
	client *client
	log    *slog.Logger
	draw   func(*chat.File) ([]byte, error) // nil: files that are to be drawn are left out
}

// Send delivers one message, or changes the one it names, and gives the id of
// the message. The error is one of the desk's fates; see [fate].
func (s *sender) Send(ctx context.Context, out desk.Out) (int64, error) {
	where, ok := userOf(out.Chat)
	if !ok {
		return 0, fmt.Errorf("message %d: no chat of this kind: %w", out.ID, desk.ErrRefused)
	}
	if len(out.Reply.Body) == 0 {
		return 0, s.aside(ctx, where, out.Reply)
	}
	message, id := Encode(out.Reply), out.MessageID
	message.file = s.fileOf(out)
	for {
		sent, err := s.deliver(ctx, where, id, message)
		var r *refusal
		switch {
		case !errors.As(err, &r):
			return sent, err
		case r.says("message is not modified"):
			return id, nil
		case r.says("can't parse entities") && message.HTML:
			s.log.Error("a text was refused for its markup and goes out plain", "message", out.ID, "why", r.Text)
			plain := EncodePlain(out.Reply)
			plain.file, message = message.file, plain
		case r.MovedTo != 0 && r.MovedTo != where:
			where, id = r.MovedTo, 0 // messages are numbered anew there
		default:
			return 0, fate(r)
		}
	}
}

// aside does what is no message: it sets the commands a chat offers, or takes a
// person's message away. A refusal does no harm and is not tried again.
func (s *sender) aside(ctx context.Context, where int64, r chat.Reply) error {
	method, params := "deleteMessage", any(bot.DeleteMessageParams{ChatID: where, MessageID: int(r.Delete)})
	if len(r.Menu) > 0 {
		list := make([]models.BotCommand, 0, len(r.Menu))
		for _, m := range r.Menu {
			list = append(list, models.BotCommand{Command: m.Name, Description: m.Text})
		}
		method, params = "setMyCommands", map[string]any{
			"commands": list, "scope": map[string]any{"type": "chat", "chat_id": where},
		}
	}
	_, err := s.client.call(ctx, method, params)
	var refused *refusal
	if errors.As(err, &refused) && refused.Status == http.StatusBadRequest {
		return fmt.Errorf("%s: %w", method, desk.ErrRefused)
	}
	if errors.As(err, &refused) {
		return fate(refused)
	}
	return err
}

// deliver makes the one call.
func (s *sender) deliver(ctx context.Context, where, id int64, m Message) (int64, error) {
	var mode models.ParseMode
	if m.HTML {
		mode = models.ParseModeHTML
	}
	var markup models.ReplyMarkup
	if m.Keyboard != nil { // a nil pointer would be sent as null
		markup = m.Keyboard
	}
	if m.file != nil {
		return s.upload(ctx, where, m)
	}
	off := &models.LinkPreviewOptions{IsDisabled: bot.True()}
	method, params := "sendMessage", any(bot.SendMessageParams{
		ChatID: where, Text: m.Text, ParseMode: mode, LinkPreviewOptions: off,
		DisableNotification: m.Silent, ReplyMarkup: markup,
	})
	if id != 0 {
		method, params = "editMessageText", bot.EditMessageTextParams{
			ChatID: where, MessageID: int(id), Text: m.Text, ParseMode: mode, LinkPreviewOptions: off,
			ReplyMarkup: markup, // none takes the buttons away
		}
	}
	return numberOf(s.client.call(ctx, method, params))
}

// numberOf is the id of the message that a call made or changed.
func numberOf(result json.RawMessage, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	if id, ok := messageNumber(result, resultStart); ok {
		return id, nil
	}
	var sent struct {
		ID int64 `json:"message_id"`
	}
	_ = json.Unmarshal(result, &sent) // it is delivered all the same; without its id it is never changed
	return sent.ID, nil
}

// fate says what the desk is to do about a message that was not delivered. An
// error that is none of the desk's is tried again later.
func fate(r *refusal) error {
	switch r.Status {
	case http.StatusTooManyRequests:
		return &desk.Later{After: r.RetryAfter}
	case http.StatusUnauthorized, http.StatusNotFound:
		return fmt.Errorf("%w: %w", desk.ErrStop, r)
	case http.StatusForbidden:
		return fmt.Errorf("%w: %w", desk.ErrGone, r)
	case http.StatusRequestEntityTooLarge:
		return fmt.Errorf("%w: %w", desk.ErrRefused, r)
	case http.StatusBadRequest:
		return fmt.Errorf("%w: %w", badRequest(r), r)
	}
	return r
}

func badRequest(r *refusal) error {
	switch {
	case r.says("message to edit not found"), r.says("message can't be edited"),
		r.says("no text in the message to edit"):
		return desk.ErrVanished
	case r.says("chat not found"), r.says("chat_id is empty"):
		return desk.ErrGone
	}
	return desk.ErrRefused
}
