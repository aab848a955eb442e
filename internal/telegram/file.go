package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"mime/multipart"
	"strconv"

	"shopfloat/internal/desk"
)

// file is what goes with a message.
type file struct {
	name  string
	data  []byte
	photo bool // shown as a picture instead of as something to open
}

// fileOf gives the file of a message, drawn where it has to be. One that cannot
// be drawn is left out: the text says what matters.
func (s *sender) fileOf(out desk.Out) *file {
	f := out.Reply.File
	switch {
	case f == nil:
		return nil
	case !f.Drawn():
		return &file{name: f.Name, data: f.Data}
	case s.draw == nil:
		return nil
	}
	data, err := s.draw(f)
	if err != nil {
		s.log.Error("a picture could not be drawn and is left out", "message", out.ID, "err", err)
		return nil
	}
	return &file{name: f.Name, data: data, photo: true}
}

// upload sends a message with a file as a form (multipart/form-data, RFC 7578).
func (s *sender) upload(ctx context.Context, chat int64, m Message) (int64, error) {
	method, field := "sendDocument", "document"
	if m.file.photo {
		method, field = "sendPhoto", "photo"
	}
	fields := map[string]string{"chat_id": strconv.FormatInt(chat, 10), "caption": m.Text}
	if m.HTML {
		fields["parse_mode"] = "HTML"
	}
	if m.Silent {
		fields["disable_notification"] = "true"
	}
	if m.Keyboard != nil {
		buttons, err := json.Marshal(m.Keyboard)
		if err != nil {
			return 0, err
		}
		fields["reply_markup"] = string(buttons)
	}
	body, contentType, err := form(fields, field, m.file)
	if err != nil {
		return 0, err
	}
	return numberOf(s.client.post(ctx, method, contentType, body))
}

func form(fields map[string]string, field string, f *file) (body []byte, contentType string, err error) {
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for name, value := range fields {
		if err := w.WriteField(name, value); err != nil {
			return nil, "", err
		}
	}
	part, err := w.CreateFormFile(field, f.name)
	if err != nil {
		return nil, "", err
	}
	if _, err := part.Write(f.data); err != nil {
		return nil, "", err
	}
	err = w.Close()
	return b.Bytes(), w.FormDataContentType(), err
}
