package botapitest_test

import (
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// FACTS.md A, Text and markup: limits count code points after parsing; B: the refusals.
func TestMessageText(t *testing.T) {
	long := strings.Repeat("é", 4096)
	smile := strings.Repeat("\U0001F600", 4096)
	for _, tt := range []struct{ name, text, mode, want, shown string }{
		{"longest", long, "", "", long},
		{"longest counts code points", smile, "", "", smile},
		{"one too long", long + "é", "", "Bad Request: message is too long", ""},
		{"markup does not count", "<b>" + long + "</b>", "HTML", "", long},
		{"raw over 32 KiB", strings.Repeat("<b></b>", 4700) + "x", "HTML",
			"Bad Request: text is too long", ""},
		{"empty", "", "", "Bad Request: message text is empty", ""},
		{"white space", " \n\t ", "", "Bad Request: text must be non-empty", ""},
		{"only markup", "<b> </b>", "HTML", "Bad Request: text must be non-empty", ""},
		{"trimmed", "\n  a b \n", "", "", "a b"},
		{"control characters", "a\tb\r\nc", "", "", "a b\nc"},
		{"mode in lower case", "<b>a</b>", "html", "", "a"},
		{"no mode", "<b>a</b>", "", "", "<b>a</b>"},
		{"other mode", "a", "MarkdownV2", "Bad Request: unsupported parse_mode", ""},
	} {
		srv := withAnn(t, botapitest.Options{})
		r := call(t, srv, "sendMessage", "chat_id", ann, "text", tt.text, "parse_mode", tt.mode)
		want(t, tt.name, r, tt.want)
		if r.OK && decode[message](t, r).Text != tt.shown {
			t.Errorf("%s: shown %.40q", tt.name, decode[message](t, r).Text)
		}
	}
}

func TestInvalidUTF8(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	r := ask(t, srv, "sendMessage?chat_id=1001&text=%ff", "")
	want(t, "invalid", r, "Bad Request: strings must be encoded in UTF-8")
}

// The entities parameter replaces parse_mode; offsets are UTF-16 units and move with the trimming.
func TestEntitiesParameter(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	bold := func(offset, length int) []botapitest.Entity {
		return []botapitest.Entity{{Type: "bold", Offset: offset, Length: length}}
	}
	m := send(t, srv, "text", "  \U0001F600 ab  ", "entities", bold(5, 4))
	if m.Text != "\U0001F600 ab" || len(m.Entities) != 1 || m.Entities[0] != bold(3, 2)[0] {
		t.Errorf("%q %+v", m.Text, m.Entities)
	}
	r := call(t, srv, "sendMessage", "chat_id", ann, "text", "abc", "entities", bold(1, 3))
	want(t, "past the end", r,
		"Bad Request: entity beginning at UTF-16 offset 1 ends after the end of the text at UTF-16 offset 4")
	r = call(t, srv, "sendMessage", "chat_id", ann, "text", "abc", "entities", bold(-1, 3))
	want(t, "negative", r, "Bad Request: receive an entity with incorrect offset or length")
	r = call(t, srv, "sendMessage", "chat_id", ann, "text", "abc", "entities", "x")
	want(t, "not a list", r, "Bad Request: can't parse entities JSON object")
}

// Commands in what a person writes are marked, wherever they stand (API MessageEntity).
func TestIncomingCommands(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	for _, tt := range []struct {
		text string
		want []botapitest.Entity
	}{
		{"/open 40 150", []botapitest.Entity{{Type: "bot_command", Offset: 0, Length: 5}}},
		{"\U0001F600 /open@shop_bot now /x", []botapitest.Entity{
			{Type: "bot_command", Offset: 3, Length: 14}, {Type: "bot_command", Offset: 22, Length: 2}}},
		{"a/b / /@x http://x", []botapitest.Entity{}},
	} {
		id := srv.SendText(ann, tt.text)
		got := srv.Messages(ann)[id-1].Entities
		if len(got) != len(tt.want) {
			t.Errorf("%q: %+v", tt.text, got)
			continue
		}
		for i := range got {
			if got[i] != tt.want[i] {
				t.Errorf("%q: %+v, want %+v", tt.text, got[i], tt.want[i])
			}
		}
	}
}
