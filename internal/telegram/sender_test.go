package telegram_test

import (
	"errors"
	"net/http"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

func sent(id string) answer {
	return answer{body: `{"ok":true,"result":{"message_id":` + id + `,"date":1}}`}
}

func out(edit int64) desk.Out {
	return desk.Out{ID: 5, Chat: "tg:1000001", MessageID: edit, Reply: chat.Reply{
		Body:    []chat.Block{{Text: "a < b"}},
		Buttons: [][]chat.Button{{{Label: "Yes", Data: "o.3.yes"}}},
	}}
}

func TestSendNew(t *testing.T) {
	f := newFixture(t, map[string][]answer{"sendMessage": {sent("77")}})
	id, err := f.bot.Send(t.Context(), out(0))
	if id != 77 || err != nil {
		t.Fatal(id, err)
	}
	got := f.made("sendMessage")[0].Fields
	for field, want := range map[string]string{
		"chat_id": `1000001`, "text": `"a \u0026lt; b"`, "parse_mode": `"HTML"`,
		"link_preview_options": `{"is_disabled":true}`,
		"reply_markup":         `{"inline_keyboard":[[{"text":"Yes","callback_data":"o.3.yes"}]]}`,
	} {
		if got[field] != want {
			t.Errorf("%s is %s, want %s", field, got[field], want)
		}
	}
}

// However the answer is laid out: what went out is never sent again for it.
func TestSendReadsTheNumber(t *testing.T) {
	for result, want := range map[string]int64{
		`{"message_id":77}`: 77, `{"message_id": 77, "date":1}`: 77, `{"date":1,"message_id":77}`: 77,
		`{"message_id":"77"}`: 0, `{"message_id":99999999999999999999}`: 0, `{}`: 0, `true`: 0,
	} {
		f := newFixture(t, map[string][]answer{"sendMessage": {{body: `{"ok":true,"result":` + result + `}`}}})
		if id, err := f.bot.Send(t.Context(), out(0)); id != want || err != nil {
			t.Errorf("%s: %d, %v", result, id, err)
		}
	}
}

// A message that was made is not sent again because the line broke while the
// server was still telling of it.
func TestSendCutOffBehindTheNumber(t *testing.T) {
	half := answer{body: `{"ok":true,"result":{"message_id":77,"text":"` + strings.Repeat("x", 4000),
		header: map[string]string{"Content-Length": "9000"}}
	f := newFixture(t, map[string][]answer{"sendMessage": {half}})
	if id, err := f.bot.Send(t.Context(), out(0)); id != 77 || err != nil {
		t.Errorf("%d, %v", id, err)
	}
}

func TestSendEdit(t *testing.T) {
	f := newFixture(t, map[string][]answer{"editMessageText": {sent("77")}})
	o := out(77)
	o.Reply.Buttons = nil
	id, err := f.bot.Send(t.Context(), o)
	if id != 77 || err != nil {
		t.Fatal(id, err)
	}
	got := f.made("editMessageText")[0].Fields
	if _, has := got["reply_markup"]; has || got["message_id"] != "77" || got["chat_id"] != "1000001" {
		t.Errorf("got %v", got)
	}
}

// Texts of the errors: published server and client-library sources of the
// platform, versions of May and July 2026.
func TestSendFates(t *testing.T) {
	for _, c := range []struct {
		answer answer
		want   error
	}{
		{refuse(400, "Bad Request: message to edit not found"), desk.ErrVanished},
		{refuse(400, "Bad Request: message can't be edited"), desk.ErrVanished},
		{refuse(400, "Bad Request: there is no text in the message to edit"), desk.ErrVanished},
		{refuse(400, "Bad Request: chat not found"), desk.ErrGone},
		{refuse(400, "Bad Request: message text is empty"), desk.ErrRefused},
		{refuse(400, "Bad Request: BUTTON_DATA_INVALID"), desk.ErrRefused},
		{refuse(400, "Bad Request: reply markup is too long"), desk.ErrRefused},
		{refuse(413, "Request Entity Too Large"), desk.ErrRefused},
		{refuse(401, "Unauthorized"), desk.ErrStop},
		{refuse(404, "Not Found: method not found"), desk.ErrStop},
		{refuse(403, "Forbidden: bot was blocked by the user"), desk.ErrGone},
		{refuse(403, "Forbidden: user is deactivated"), desk.ErrGone},
		{refuse(500, "Internal Server Error: restart"), nil},
		{answer{status: 502, body: "<html>Bad Gateway</html>"}, nil},
		{answer{status: 404, body: "<html>who are you</html>"}, nil},
		{answer{body: `{"ok":tr`}, nil},
		{answer{cut: true}, nil},
	} {
		f := newFixture(t, map[string][]answer{"sendMessage": {c.answer}, "editMessageText": {c.answer}})
		for _, edit := range []int64{0, 77} {
			_, err := f.bot.Send(t.Context(), out(edit))
			if err == nil {
				t.Fatalf("%v: no error", c.answer)
			}
			for _, fate := range []error{desk.ErrVanished, desk.ErrGone, desk.ErrRefused, desk.ErrStop} {
				if errors.Is(err, fate) != (fate == c.want) {
					t.Errorf("%v: got %v, want %v", c.answer, err, c.want)
				}
			}
			if strings.Contains(err.Error(), "SECRET") {
				t.Errorf("the token is in %q", err)
			}
		}
	}
}

// However long the server asks a chat to wait, it is not silent for more than a while.
func TestSendLater(t *testing.T) {
	forYears := refuse(429, "Too Many Requests: retry after 1000000000")
	forYears.body = strings.Replace(forYears.body, "{", `{"parameters":{"retry_after":1000000000},`, 1)
	forYearsBeside := refuse(429, "Too Many Requests")
	forYearsBeside.header = map[string]string{"Retry-After": "99999999999"}
	inBody := refuse(429, "Too Many Requests: retry after 7")
	inBody.body = strings.Replace(inBody.body, "{", `{"parameters":{"retry_after":7},`, 1)
	inHeader := refuse(429, "Too Many Requests")
	inHeader.header = map[string]string{"Retry-After": "9"}
	for _, c := range []struct {
		answer answer
		want   time.Duration
	}{{inBody, 7 * time.Second}, {inHeader, 9 * time.Second}, {refuse(429, "Too Many Requests"), time.Second},
		{forYears, 15 * time.Minute}, {forYearsBeside, 15 * time.Minute}} {
		f := newFixture(t, map[string][]answer{"sendMessage": {c.answer}})
		_, err := f.bot.Send(t.Context(), out(0))
		var later *desk.Later
		if !errors.As(err, &later) || later.After != c.want {
			t.Errorf("got %v, want %v", err, c.want)
		}
	}
}

func TestSendNotModified(t *testing.T) {
	same := refuse(400, "Bad Request: message is not modified: specified new message content and reply markup "+
		"are exactly the same as a current content and reply markup of the message")
	f := newFixture(t, map[string][]answer{"editMessageText": {same}})
	if id, err := f.bot.Send(t.Context(), out(77)); id != 77 || err != nil {
		t.Error(id, err)
	}
}

func TestSendPlainOnce(t *testing.T) {
	bad := refuse(400, `Bad Request: can't parse entities: Unsupported start tag "x" at byte offset 5`)
	f := newFixture(t, map[string][]answer{"sendMessage": {bad, sent("78")}})
	if id, err := f.bot.Send(t.Context(), out(0)); id != 78 || err != nil {
		t.Fatal(id, err)
	}
	again := f.made("sendMessage")[1].Fields
	if _, has := again["parse_mode"]; has || again["text"] != `"a \u003c b"` {
		t.Errorf("got %v", again)
	}
	f = newFixture(t, map[string][]answer{"sendMessage": {bad}})
	if _, err := f.bot.Send(t.Context(), out(0)); !errors.Is(err, desk.ErrRefused) || len(f.calls) != 2 {
		t.Error(err)
	}
}

func TestSendFollowsMigration(t *testing.T) {
	moved := refuse(400, "Bad Request: group chat was upgraded to a supergroup chat")
	moved.body = strings.Replace(moved.body, "{", `{"parameters":{"migrate_to_chat_id":-1005000000055},`, 1)
	f := newFixture(t, map[string][]answer{"editMessageText": {moved}, "sendMessage": {sent("1")}})
	if id, err := f.bot.Send(t.Context(), out(77)); id != 1 || err != nil {
		t.Fatal(id, err)
	}
	if to := f.made("sendMessage")[0].Fields["chat_id"]; to != "-1005000000055" {
		t.Error(to)
	}
	f = newFixture(t, map[string][]answer{"sendMessage": {moved}}) // never round and round
	if _, err := f.bot.Send(t.Context(), out(0)); !errors.Is(err, desk.ErrRefused) || len(f.calls) != 2 {
		t.Error(err)
	}
}

func TestSendElsewhere(t *testing.T) {
	f := newFixture(t, nil)
	for _, where := range []chat.Chat{"term:owner", "tg:", "tg:x", "tg:-5", ""} {
		o := out(0)
		o.Chat = where
		if _, err := f.bot.Send(t.Context(), o); !errors.Is(err, desk.ErrRefused) {
			t.Errorf("%q: %v", where, err)
		}
	}
	if len(f.calls) != 0 {
		t.Error(f.calls)
	}
}

// A redirection would carry the token to another computer.
func TestSendFollowsNoRedirection(t *testing.T) {
	away := answer{
		status: http.StatusTemporaryRedirect, body: "moved", header: map[string]string{"Location": "/elsewhere"},
	}
	f := newFixture(t, map[string][]answer{"sendMessage": {away}})
	if _, err := f.bot.Send(t.Context(), out(0)); err == nil || len(f.calls) != 1 {
		t.Error(err, f.calls)
	}
}
