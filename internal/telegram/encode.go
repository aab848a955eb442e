package telegram

import (
	"html"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"shopfloat/internal/chat"
)

// Limits of a message. The first two stand in the Bot API 10.1; the number of
// buttons is the practical bound found by other bots; what fits beside each
// other on a phone is common practice, no source.
const (
	textMax    = 4096 // UTF-16 units after the markup is parsed away, the stricter reading
	noticeMax  = 200  // characters of a notice on a tap
	buttonsMax = 100
	rowMax     = 3
	rowRunes   = 24 // letters of all labels in a row
)

// Message is a reply as the platform takes it.
type Message struct {
	Text     string
	HTML     bool // Text carries markup
	Keyboard *Keyboard
	Silent   bool
	file     *file // goes with it; Text is its caption
}

// Keyboard is the buttons under a message, row by row. It is what the library
// calls InlineKeyboardMarkup, without the other things a button of the platform
// can be, which make each of the library's five times as large.
type Keyboard struct {
	InlineKeyboard [][]Button `json:"inline_keyboard"`
}

// Button sends CallbackData, at most 64 bytes, when it is tapped.
type Button struct {
	Text         string `json:"text"`
	CallbackData string `json:"callback_data"`
}

// Encode writes a reply as HTML, figures in columns in a fixed-width block. A
// text beyond the limit is cut and ends in "…". Buttons that the platform would
// refuse are left out, since it would refuse the whole message for them.
func Encode(r chat.Reply) Message {
	return Message{
		Text:     render(r.Body, limitOf(r), true),
		HTML:     true,
		Keyboard: keyboard(r.Buttons),
		Silent:   r.Silent,
	}
}

// EncodePlain is Encode without markup.
func EncodePlain(r chat.Reply) Message {
	return Message{Text: render(r.Body, limitOf(r), false), Keyboard: keyboard(r.Buttons), Silent: r.Silent}
}

// limitOf is how long the text of a reply may be.
func limitOf(r chat.Reply) int {
	if r.File != nil {
		return chat.CaptionMax
	}
	return textMax
}

func render(body []chat.Block, left int, markup bool) string {
	var b strings.Builder
	for i, block := range body {
		if i > 0 {
			if left--; left <= 0 {
				break
			}
			b.WriteByte('\n')
		}
		text, units := clip(block.Text, left)
		left -= units
		switch {
		case !markup || text == "":
			b.WriteString(text)
		case block.Fixed:
			b.WriteString("<pre>" + html.EscapeString(text) + "</pre>")
		default:
			b.WriteString(html.EscapeString(text))
		}
	}
	return b.String()
}

// clip cuts a text to so many UTF-16 units and says how many it has.
func clip(text string, limit int) (string, int) {
	text = strings.ToValidUTF8(text, "\uFFFD")
	units, fits := 0, 0 // fits: bytes that leave room for the sign of a cut
	for i, r := range text {
		if units += utf16.RuneLen(r); units > limit {
			return text[:fits] + "…", limit
		}
		if units < limit {
			fits = i + utf8.RuneLen(r)
		}
	}
	return text, units
}

func keyboard(rows [][]chat.Button) *Keyboard {
	var out [][]Button
	count := 0
	for _, row := range rows {
		var buttons []Button
		letters := 0
		for _, b := range row {
			if b.Label == "" || b.Data == "" || len(b.Data) > payloadMax || count == buttonsMax {
				continue
			}
			count++
			letters += utf8.RuneCountInString(b.Label)
			buttons = append(buttons, Button{Text: b.Label, CallbackData: b.Data})
		}
		if len(buttons) <= rowMax && letters <= rowRunes && len(buttons) > 0 {
			out = append(out, buttons)
			continue
		}
		for i := range buttons {
			out = append(out, buttons[i:i+1:i+1])
		}
	}
	if out == nil {
		return nil
	}
	return &Keyboard{InlineKeyboard: out}
}
