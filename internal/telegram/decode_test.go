package telegram_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/go-telegram/bot/models"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/telegram"
)

func noon() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) }

// Parts of updates as the Bot API 10.1 lays them out; ids and names are invented.
const (
	ann     = `"from":{"id":1000001,"is_bot":false,"first_name":"Ann"}`
	private = `"chat":{"id":1000001,"type":"private","first_name":"Ann"}`
	group   = `"chat":{"id":-55,"type":"group","title":"Shop"}`
	early   = `"date":1795590000` // 2026-11-25 07:00 UTC
)

func message(fields string) string {
	return `{"update_id":7,"message":{"message_id":3,` + fields + `}}`
}

// said is a message in a private conversation.
func said(fields string) string {
	return message(ann + `,` + private + `,` + early + `,` + fields)
}

func TestDecode(t *testing.T) {
	at := time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC)
	text := func(s string) chat.Input {
		return chat.Input{Chat: "tg:1000001", Kind: chat.Text, Text: s, At: at}
	}
	foreign := chat.Input{Chat: "tg:1000001", Kind: chat.Foreign, At: at}
	press := chat.Input{Chat: "tg:1000001", Kind: chat.Press, Tap: "o.3.yes", At: noon()}
	picture := chat.Input{
		Chat: "tg:1000001", Kind: chat.Picture, Text: "slip", At: at, Photo: books.Photo{ID: "big", Unique: "b"},
	}
	sent := chat.Input{Chat: "tg:1000001", Kind: chat.Sent, At: at, Photo: books.Photo{ID: "f", Unique: "b"}}
	tap := func(message, data string) string {
		return `{"update_id":7,"callback_query":{"id":"q1",` + ann + `,"message":{"message_id":3,` + message +
			`},"data":"` + data + `"}}`
	}
	for name, c := range map[string]struct {
		raw  string
		want telegram.Update
	}{
		"text":          {said(`"text":"open 40 150"`), telegram.Update{Input: text("open 40 150")}},
		"command":       {said(`"text":"/open@shop_bot 1 2"`), telegram.Update{Input: text("/open 1 2")}},
		"bare command":  {said(`"text":"/help@shop_bot"`), telegram.Update{Input: text("/help")}},
		"@ in an order": {said(`"text":"/move 3 @till"`), telegram.Update{Input: text("/move 3 @till")}},
		"future date": {message(ann + `,` + private + `,"date":1999999999,"text":"x"`),
			telegram.Update{Input: chat.Input{Chat: "tg:1000001", Kind: chat.Text, Text: "x", At: noon()}}},
		"photo": {said(`"caption":"slip","photo":[` +
			`{"file_id":"small","file_unique_id":"s","width":9,"height":9,"file_size":900},` +
			`{"file_id":"big","file_unique_id":"b","width":90,"height":90,"file_size":90000},` +
			`{"file_id":"huge","file_unique_id":"h","width":900,"height":900,"file_size":9000000}]`),
			telegram.Update{Input: picture}},
		"picture as a file": {said(`"caption":"slip","document":` +
			`{"file_id":"big","file_unique_id":"b","mime_type":"image/png","file_size":5}`),
			telegram.Update{Input: picture}},
		"other file": {said(`"document":` +
			`{"file_id":"f","file_unique_id":"b","mime_type":"text/plain","file_size":5},"caption":"for november"`),
			telegram.Update{Input: sent}},
		"picture too large": {said(`"document":` +
			`{"file_id":"f","file_unique_id":"b","mime_type":"image/png","file_size":20971521}`),
			telegram.Update{Input: foreign}},
		"voice": {said(`"voice":{"file_id":"v","file_unique_id":"u","duration":2}`),
			telegram.Update{Input: foreign}},
		"pinned by the person": {said(`"pinned_message":{"message_id":2,` + private + `,` + early + `}`),
			telegram.Update{}},
		"changed later": {strings.Replace(said(`"text":"9"`), "message", "edited_message", 1),
			telegram.Update{Input: chat.Input{Chat: "tg:1000001", Kind: chat.Edited, At: noon()}}},
		"moved later": {strings.Replace(said(`"location":{"latitude":1,"longitude":2}`), "message",
			"edited_message", 1),
			telegram.Update{}},
		"group": {message(ann + `,` + group + `,` + early + `,"text":"/open"`), telegram.Update{Group: -55}},
		"a bot": {message(`"from":{"id":9,"is_bot":true,"first_name":"B"},` +
			`"chat":{"id":9,"type":"private"},"text":"x"`), telegram.Update{}},
		"channel post": {`{"update_id":7,"channel_post":{"message_id":3,"chat":{"id":-9,"type":"channel"}}}`,
			telegram.Update{}},
		"unknown kind":     {`{"update_id":7,"weather_changed":{"to":"rain"}}`, telegram.Update{}},
		"tap":              {tap(private+`,`+early, "o.3.yes"), telegram.Update{Input: press, Query: "q1"}},
		"tap, old message": {tap(private+`,"date":0`, "o.3.yes"), telegram.Update{Input: press, Query: "q1"}},
		"tap in a group":   {tap(group+`,`+early, "o.3.yes"), telegram.Update{Query: "q1"}},
		"forged payload": {tap(private+`,`+early, strings.Repeat("x", 65)), telegram.Update{Query: "q1",
			Input: chat.Input{Chat: "tg:1000001", Kind: chat.Press, At: noon()}}},
		"blocked": {`{"update_id":7,"my_chat_member":{` + private + `,` + ann + `,` + early + `,` +
			`"old_chat_member":{"status":"member","user":{"id":4,"is_bot":true,"first_name":"B"}},` +
			`"new_chat_member":{"status":"kicked","user":{"id":4,"is_bot":true,"first_name":"B"},"until_date":0}}}`,
			telegram.Update{}},
	} {
		t.Run(name, func(t *testing.T) {
			c.want.ID = 7
			if c.want.Input.Chat != "" && strings.HasPrefix(c.raw, message("")[:len(`{"update_id":7,"message"`)]) {
				c.want.Input.Message = 3
			}
			got, err := telegram.Decode([]byte(c.raw), noon())
			if err != nil {
				t.Fatal(err)
			}
			if got != c.want {
				t.Errorf("got  %+v\nwant %+v", got, c.want)
			}
		})
	}
}

// What the library's own update cannot be read for must neither get stuck nor
// go unanswered: kinds of media, senders and members made up after it.
func TestDecodeUnknownKinds(t *testing.T) {
	at := time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC)
	foreign := chat.Input{Chat: "tg:1000001", Kind: chat.Foreign, At: at, Message: 3}
	text := chat.Input{Chat: "tg:1000001", Kind: chat.Text, Text: "x", At: at, Message: 3}
	for name, c := range map[string]struct {
		raw  string
		want chat.Input
	}{
		"paid media": {said(`"paid_media":{"paid_media":[{"type":"live_photo"}]}`), foreign},
		"origin":     {said(`"text":"x","forward_origin":{"type":"moon"}`), text},
		"member":     {`{"update_id":7,"my_chat_member":{"new_chat_member":{"status":"moon"}}}`, chat.Input{}},
	} {
		got, err := telegram.Decode([]byte(c.raw), noon())
		if err != nil || got != (telegram.Update{ID: 7, Input: c.want}) {
			t.Errorf("%s: got %+v, %v", name, got, err)
		}
		if err := json.Unmarshal([]byte(c.raw), &models.Update{}); err == nil {
			t.Errorf("%s: the library reads it by now", name)
		}
	}
}

func TestDecodeUnreadable(t *testing.T) {
	at := time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC)
	foreign := chat.Input{Chat: "tg:1000001", Kind: chat.Foreign, At: at, Message: 3}
	for name, c := range map[string]struct {
		raw  string
		want telegram.Update
	}{
		"text that is a number":    {said(`"text":5`), telegram.Update{ID: 7, Input: foreign}},
		"caption that is a number": {said(`"caption":5,"text":"x"`), telegram.Update{ID: 7, Input: foreign}},
		"tap of nobody": {`{"update_id":7,"callback_query":{"id":"q","from":5,"data":"x"}}`,
			telegram.Update{ID: 7, Query: "q"}},
		"id only":      {`{"update_id":7,"message":5}`, telegram.Update{ID: 7}},
		"no id":        {`{"message":5}`, telegram.Update{}},
		"negative id":  {`{"update_id":-7,"message":5}`, telegram.Update{}},
		"no object":    {`[1]`, telegram.Update{}},
		"nothing":      {``, telegram.Update{}},
		"null":         {`null`, telegram.Update{}},
		"cut off":      {`{"update_id":7,"mess`, telegram.Update{}},
		"id as a text": {`{"update_id":"7"}`, telegram.Update{}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := telegram.Decode([]byte(c.raw), noon())
			if err == nil {
				t.Error("no error")
			}
			if got != c.want {
				t.Errorf("got  %+v\nwant %+v", got, c.want)
			}
		})
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(said(`"text":"open 40 150"`)))
	f.Add([]byte(message(ann + `,` + group + `,` + early + `,"text":"/open@x"`)))
	f.Add([]byte(`{"update_id":7,"callback_query":{"id":"q",` + ann + `,"message":{` + private + `}}}`))
	f.Add([]byte(message(ann + `,` + private + `,"paid_media":{"paid_media":[{"type":"live_photo"}]}`)))
	f.Add([]byte(`{"update_id":"7"}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		u, err := telegram.Decode(raw, noon())
		switch in := u.Input; {
		case u.ID < 0 || err == nil && u.ID == 0:
			t.Errorf("id %d, error %v", u.ID, err)
		case in.Chat == "" && in != chat.Input{}:
			t.Errorf("an input of nobody: %+v", in)
		case in.Chat != "" && (!strings.HasPrefix(string(in.Chat), "tg:") || in.Kind == "" || in.At.After(noon())):
			t.Errorf("input %+v", in)
		case len(in.Tap) > 64 || u.Group > 0 || u.Group != 0 && in.Chat != "":
			t.Errorf("update %+v", u)
		}
	})
}

func TestDecodeList(t *testing.T) {
	one, odd, last := said(`"text":"open"`), message(`"text":5`), said(`"text":"[{\"x\":1}], 2"`)
	list, err := telegram.DecodeList([]byte("[ "+one+" ,\n"+odd+","+`{"x":1},`+last+" ] "), noon())
	if err != nil || len(list) != 4 {
		t.Fatalf("%+v, %v", list, err)
	}
	for i, raw := range []string{one, odd, `{"x":1}`, last} {
		want, bad := telegram.Decode([]byte(raw), noon())
		got := list[i]
		if string(got.Raw) != raw || got.Update != want || (got.Err == nil) != (bad == nil) {
			t.Errorf("%d: got %+v, want %s", i, got, raw)
		}
	}
	for _, in := range []string{
		``, `{}`, `null`, `true`, `[`, `[` + one, `[` + one + `,`, `[` + one + `,]`, `[` + one + `]]`,
		`[` + one + `],"more":1`, `[` + one + ` ` + one + `]`, `[` + one[:40] + `]`,
	} {
		if list, err := telegram.DecodeList([]byte(in), noon()); err == nil || list != nil {
			t.Errorf("%s: %+v, %v", in, list, err)
		}
	}
}

// A list is what encoding/json takes for one, and each of it is what it is alone.
func FuzzDecodeList(f *testing.F) {
	f.Add([]byte(`[` + said(`"text":"open 40 150"`) + `, {"update_id":"7"} ,5,null,[],"x"]`))
	f.Add([]byte(` [ ] `))
	f.Add([]byte(`[{}],[]`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		var want []json.RawMessage
		bad := json.Unmarshal(raw, &want) != nil || bytes.Equal(bytes.TrimSpace(raw), []byte("null"))
		list, err := telegram.DecodeList(raw, noon())
		if (err != nil) != bad {
			t.Fatalf("error %v", err)
		}
		if bad {
			return
		}
		if len(list) != len(want) {
			t.Fatalf("%d of %d", len(list), len(want))
		}
		for i, r := range list {
			u, err := telegram.Decode(want[i], noon())
			if !bytes.Equal(r.Raw, bytes.TrimSpace(want[i])) || r.Update != u || (r.Err == nil) != (err == nil) {
				t.Errorf("%d: %+v, %v; alone %+v, %v", i, r, r.Err, u, err)
			}
		}
	})
}
