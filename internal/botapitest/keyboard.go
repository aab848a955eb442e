package botapitest

import (
	"bytes"
	"encoding/json"
)

const (
	maxRow         = 12     // buttons in a row; the rest is dropped without an error (ReplyMarkup.cpp)
	maxButtons     = 300    // buttons in all; the rest is dropped without an error (ReplyMarkup.cpp)
	maxMarkupBytes = 10_000 // "about 10 kB of JSON", no official figure, FACTS.md A
	maxDataBytes   = 64     // callback_data, API
	maxCopyText    = 256    // characters, API CopyTextButton
)

// markup is a reply_markup parameter.
type markup struct {
	buttons [][]Button
	menu    [][]string // labels of a reply keyboard
	fixed   bool       // reply keyboard, removal or forced reply: the message cannot be edited later
	cut     int        // buttons dropped without an error
}

type markupJSON struct {
	Inline [][]buttonJSON `json:"inline_keyboard"`
	Menu   [][]menuJSON   `json:"keyboard"`
	Remove bool           `json:"remove_keyboard"`
	Force  bool           `json:"force_reply"`
}

// menuJSON is a key of a reply keyboard: a plain text or an object with one.
type menuJSON struct{ text string }

// UnmarshalJSON accepts both forms.
func (m *menuJSON) UnmarshalJSON(b []byte) error {
	if b[0] == '"' {
		return json.Unmarshal(b, &m.text)
	}
	var key struct {
		Text string `json:"text"`
	}
	err := json.Unmarshal(b, &key)
	m.text = key.Text
	return err
}

// markup reads reply_markup. An empty inline keyboard counts as none.
func (c *call) markup() (markup, *apiError) {
	raw := bytes.TrimSpace(c.raw("reply_markup"))
	if len(raw) == 0 || string(raw) == "{}" || string(raw) == "null" {
		return markup{}, nil
	}
	if len(raw) > maxMarkupBytes {
		return markup{}, badRequest("reply markup is too long")
	}
	if raw[0] != '{' {
		return markup{}, badRequest("object expected as reply markup")
	}
	var in markupJSON
	if err := json.Unmarshal(raw, &in); err != nil {
		return markup{}, badRequest("can't parse reply keyboard markup JSON object")
	}
	if in.Inline != nil {
		return inlineMarkup(in.Inline)
	}
	m := markup{fixed: in.Menu != nil || in.Remove || in.Force}
	for _, row := range in.Menu {
		var labels []string
		for _, key := range row {
			labels = append(labels, key.text)
		}
		m.menu = append(m.menu, labels)
	}
	return m, nil
}

// inlineMarkup checks every button, then drops the surplus the way the platform does.
func inlineMarkup(rows [][]buttonJSON) (markup, *apiError) {
	var m markup
	total := 0
	for _, row := range rows {
		out := make([]Button, 0, len(row))
		for i := range row {
			b, err := row[i].button()
			if err != nil {
				return markup{}, err
			}
			if b.Text == "" || len(out) == maxRow || total == maxButtons {
				m.cut++
				continue
			}
			out = append(out, b)
			total++
		}
		if len(out) > 0 {
			m.buttons = append(m.buttons, out)
		}
	}
	return m, nil
}

// inline reads the markup of an edit, where nothing but an inline keyboard may stand.
func (c *call) inline() (markup, *apiError) {
	m, err := c.markup()
	if err == nil && m.fixed {
		err = badRequest("inline keyboard expected")
	}
	return m, err
}
