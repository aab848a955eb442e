package botapitest

import "strconv"

// appendMessageHead appends a message object up to its content, without the closing brace.
func appendMessageHead(b []byte, s *Server, c *chat, m *Message) []byte {
	b = strconv.AppendInt(append(b, `{"message_id":`...), int64(m.ID), 10)
	switch {
	case m.FromBot:
		b = append(appendKey(b, "from"), s.me...)
	case m.From != 0:
		b = appendUser(appendKey(b, "from"), s.person(m.From))
	}
	b = append(appendKey(b, "chat"), c.head...)
	b = appendIntField(b, "date", m.Date)
	if m.EditDate != 0 {
		b = appendIntField(b, "edit_date", m.EditDate)
	}
	return b
}

// appendMessage appends a whole message object.
func appendMessage(b []byte, s *Server, c *chat, m *Message) []byte {
	b = appendMessageHead(b, s, c, m)
	if to := c.message(m.ReplyTo); to != nil {
		b = appendMessageHead(appendKey(b, "reply_to_message"), s, c, to)
		b = append(appendContent(b, s, to), '}')
	}
	if of := c.message(m.Forwards); of != nil { // API MessageOriginUser
		b = append(appendKey(b, "forward_origin"), `{"type":"user"`...)
		b = append(appendKey(appendIntField(b, "date", of.Date), "sender_user"), s.me...)
		b = append(b, '}')
	}
	b = appendContent(b, s, m)
	if len(m.Buttons) > 0 {
		b = appendButtons(appendKey(b, "reply_markup"), m.Buttons)
	}
	return append(b, '}')
}

func appendContent(b []byte, s *Server, m *Message) []byte {
	text, entities := "text", "entities"
	if f := s.files[m.File]; f != nil {
		text, entities = "caption", "caption_entities"
		b = appendFile(b, f, m)
	}
	if m.Text != "" {
		b = appendStringField(b, text, m.Text)
	}
	if len(m.Entities) > 0 {
		b = appendEntities(appendKey(b, entities), m.Entities)
	}
	return b
}

func appendEntities(b []byte, list []Entity) []byte {
	sep := byte('[')
	for _, e := range list {
		b = append(append(b, sep), `{"type":`...)
		b = appendString(b, e.Type)
		b = appendIntField(b, "offset", int64(e.Offset))
		b = appendIntField(b, "length", int64(e.Length))
		if e.URL != "" {
			b = appendStringField(b, "url", e.URL)
		}
		if e.Language != "" {
			b = appendStringField(b, "language", e.Language)
		}
		b = append(b, '}')
		sep = ','
	}
	return append(b, ']')
}

func appendButtons(b []byte, rows [][]Button) []byte {
	b = append(b, `{"inline_keyboard":`...)
	outer := byte('[')
	for _, row := range rows {
		b = append(b, outer)
		outer = ','
		inner := byte('[')
		for i := range row {
			b = appendButton(append(b, inner), &row[i])
			inner = ','
		}
		b = append(b, ']')
	}
	return append(b, "]}"...)
}

func appendButton(b []byte, x *Button) []byte {
	b = appendString(append(b, `{"text":`...), x.Text)
	if x.Style != "" {
		b = appendStringField(b, "style", x.Style)
	}
	switch {
	case x.Data != "":
		b = appendStringField(b, "callback_data", x.Data)
	case x.URL != "":
		b = appendStringField(b, "url", x.URL)
	case x.CopyText != "":
		b = append(appendKey(b, "copy_text"), `{"text":`...)
		b = append(appendString(b, x.CopyText), '}')
	}
	return append(b, '}')
}

// appendFile appends the photo or document of a message. The sizes of a photo are two, the largest last.
func appendFile(b []byte, f *file, m *Message) []byte {
	if m.Photo {
		b = append(appendKey(b, "photo"), `[{"file_id":`...)
		b = appendString(b, f.id+"-s")
		b = appendStringField(b, "file_unique_id", "u"+f.id+"-s")
		b = append(b, `,"width":90,"height":90},{"file_id":`...)
		b = appendFileIDs(b, f)
		return append(b, `,"width":800,"height":800}]`...)
	}
	b = append(appendKey(b, "document"), `{"file_id":`...)
	b = appendFileIDs(b, f)
	if m.FileName != "" {
		b = appendStringField(b, "file_name", m.FileName)
	}
	if m.FileKind != "" {
		b = appendStringField(b, "mime_type", m.FileKind)
	}
	return append(b, '}')
}

func appendFileIDs(b []byte, f *file) []byte {
	b = appendString(b, f.id)
	b = appendStringField(b, "file_unique_id", "u"+f.id)
	return appendIntField(b, "file_size", int64(len(f.data)))
}
