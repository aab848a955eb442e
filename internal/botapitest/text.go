package botapitest

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

const (
	maxRawText    = 32_768 // bytes, before the markup is parsed away
	maxMessage    = 4096   // code points after parsing
	maxCaption    = 1024   // code points after parsing
	maxAnswerText = 200    // characters
)

// formatted reads a text or caption with its markup. An empty text comes back as such: whether that is an
// error depends on the method.
func (c *call) formatted(field, entities string) (Version, *apiError) {
	raw := c.text(field)
	switch {
	case !utf8.ValidString(raw):
		return Version{}, badRequest("strings must be encoded in UTF-8") // from memory
	case len(raw) > maxRawText:
		return Version{}, badRequest("text is too long")
	}
	raw = clean(raw)
	var v Version
	var err *apiError
	switch strings.ToLower(c.text("parse_mode")) {
	case "html":
		v.Text, v.Entities, err = parseHTML(raw)
	case "", "none":
		v.Text = raw
		v.Entities, err = parseEntities(c.raw(entities), raw)
	default:
		err = badRequest("unsupported parse_mode")
	}
	if err != nil {
		return Version{}, err
	}
	trim(&v)
	return v, nil
}

// messageText reads the text of a message: 1-4096 characters after parsing.
func (c *call) messageText() (Version, *apiError) {
	if len(c.raw("text")) == 0 {
		return Version{}, badRequest("message text is empty")
	}
	v, err := c.formatted("text", "entities")
	switch {
	case err != nil:
		return v, err
	case v.Text == "":
		return v, badRequest("text must be non-empty")
	case utf8.RuneCountInString(v.Text) > maxMessage:
		return v, badRequest("message is too long")
	}
	return v, nil
}

// caption reads a caption: 0-1024 characters after parsing.
func (c *call) caption() (Version, *apiError) {
	v, err := c.formatted("caption", "caption_entities")
	if err == nil && utf8.RuneCountInString(v.Text) > maxCaption {
		err = badRequest("message caption is too long")
	}
	return v, err
}

// clean drops carriage returns and turns other control characters into spaces (from memory).
func clean(s string) string {
	if strings.IndexFunc(s, isControl) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\r':
			return -1
		case isControl(r):
			return ' '
		}
		return r
	}, s)
}

func isControl(r rune) bool { return r < ' ' && r != '\n' }

// trim takes white space off both ends. At the front it stops where the first entity begins (from memory).
func trim(v *Version) {
	lead := len(v.Text) - len(strings.TrimLeft(v.Text, " \n"))
	if len(v.Entities) > 0 {
		lead = min(lead, v.Entities[0].Offset) // white space is one unit and one byte each
	}
	v.Text = strings.TrimRight(v.Text[lead:], " \n")
	if len(v.Entities) == 0 {
		return
	}
	total := utf16Len(v.Text)
	for i := range v.Entities {
		e := &v.Entities[i]
		e.Offset -= lead
		e.Length = min(e.Length, total-e.Offset)
	}
	v.Entities = slices.DeleteFunc(v.Entities, func(e Entity) bool { return e.Length <= 0 })
}

// utf16Len counts UTF-16 units.
func utf16Len(s string) int {
	n := 0
	for _, r := range s {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}

// parseEntities reads the entities parameter and checks that each lies inside the text.
func parseEntities(raw []byte, text string) ([]Entity, *apiError) {
	if len(raw) == 0 {
		return nil, nil
	}
	var list []Entity
	if err := json.Unmarshal(raw, &list); err != nil {
		return nil, badRequest("can't parse entities JSON object")
	}
	total := utf16Len(text)
	for _, e := range list {
		if e.Offset < 0 || e.Length <= 0 || e.Offset > total {
			return nil, badRequest("receive an entity with incorrect offset or length") // from memory
		}
		if end := e.Offset + e.Length; end > total {
			return nil, badRequest("entity beginning at UTF-16 offset " + strconv.Itoa(e.Offset) +
				" ends after the end of the text at UTF-16 offset " + strconv.Itoa(end)) // from memory
		}
	}
	slices.SortStableFunc(list, func(a, b Entity) int { return a.Offset - b.Offset })
	return list, nil
}
