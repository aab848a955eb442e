package botapitest_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

func keyboard(button string) string { return `{"inline_keyboard":[[` + button + `]]}` }

// FACTS.md A, Text and markup, and B: what a button may be.
func TestButtons(t *testing.T) {
	type button = botapitest.Button
	var none button
	const unparsed = "Bad Request: can't parse inline keyboard button: "
	const badData = "Bad Request: BUTTON_DATA_INVALID"
	cyrillic := strings.Repeat("ж", 32) // 64 bytes
	for _, tt := range []struct {
		name, in, want string
		shown          button
	}{
		{"data", `{"text":"A","callback_data":"x"}`, "", button{Text: "A", Data: "x"}},
		{"64 bytes", `{"text":"A","callback_data":"` + cyrillic + `"}`, "",
			button{Text: "A", Data: cyrillic}},
		{"66 bytes", `{"text":"A","callback_data":"` + cyrillic + `ж"}`, badData, none},
		{"no data", `{"text":"A","callback_data":""}`, badData, none},
		{"empty copy_text beside data", `{"text":"A","callback_data":"x","copy_text":{"text":""}}`, "",
			button{Text: "A", Data: "x"}},
		{"no action", `{"text":"A"}`, unparsed +
			"Text buttons are unallowed in the inline keyboard", none},
		{"only an empty copy_text", `{"text":"A","copy_text":{"text":""}}`, unparsed +
			"Text buttons are unallowed in the inline keyboard", none},
		{"copy_text", `{"text":"A","copy_text":{"text":"R-1"}}`, "", button{Text: "A", CopyText: "R-1"}},
		{"copy_text 257", `{"text":"A","copy_text":{"text":"` + strings.Repeat("x", 257) + `"}}`,
			"Bad Request: BUTTON_COPY_TEXT_INVALID", none},
		{"url", `{"text":"A","url":"https://shop.example"}`, "",
			button{Text: "A", URL: "https://shop.example"}},
		{"bad url", `{"text":"A","url":"nowhere"}`,
			"Bad Request: inline keyboard button URL 'nowhere' is invalid", none},
		{"no text", `{"callback_data":"x"}`, unparsed +
			`Field "text" must be of type String`, none},
		{"style", `{"text":"A","style":"danger","callback_data":"x"}`, "",
			button{Text: "A", Style: "danger", Data: "x"}},
		{"other style", `{"text":"A","style":"pink","callback_data":"x"}`,
			unparsed + "invalid button style specified", none},
		{"web app", `{"text":"A","web_app":{"url":"https://shop.example"}}`, "",
			button{Text: "A", Other: "web_app"}},
	} {
		srv := withAnn(t, botapitest.Options{})
		r := call(t, srv, "sendMessage", "chat_id", ann, "text", "x", "reply_markup", keyboard(tt.in))
		want(t, tt.name, r, tt.want)
		if r.OK {
			if got := srv.Messages(ann)[0].Buttons[0][0]; got != tt.shown {
				t.Errorf("%s: shown %+v", tt.name, got)
			}
		}
	}
}

// FACTS.md B: markup that is no markup.
func TestBadMarkup(t *testing.T) {
	for _, tt := range []struct{ markup, want string }{
		{"[]", "object expected as reply markup"},
		{`{"inline_keyboard":5}`, "can't parse reply keyboard markup JSON object"},
		{`{"inline_keyboard":[[{"text":`, "can't parse reply keyboard markup JSON object"},
		{keyboard(`{"text":"` + strings.Repeat("x", 10_000) + `","callback_data":"x"}`),
			"reply markup is too long"},
	} {
		srv := withAnn(t, botapitest.Options{})
		r := call(t, srv, "sendMessage", "chat_id", ann, "text", "x", "reply_markup", tt.markup)
		want(t, tt.markup[:min(30, len(tt.markup))], r, "Bad Request: "+tt.want)
	}
}

// Buttons with an empty text, after the 12th in a row and after the 300th overall go without an error and are
// counted (FACTS.md A; ReplyMarkup.cpp).
func TestSilentCut(t *testing.T) {
	// The shortest button that does something: 300 of them must stay below the limit on the JSON.
	grid := func(rows, columns int) string {
		line := "[" + strings.TrimSuffix(strings.Repeat(`{"text":"A","url":"a.b"},`, columns), ",") + "]"
		return `{"inline_keyboard":[` + strings.TrimSuffix(strings.Repeat(line+",", rows), ",") + "]}"
	}
	for _, tt := range []struct {
		markup           string
		rows, shown, cut int
	}{
		{grid(1, 12), 1, 12, 0},
		{grid(2, 14), 2, 24, 4},
		{grid(26, 12), 25, 300, 12},
		{keyboard(`{"text":"","callback_data":"x"},{"text":"A","callback_data":"x"}`), 1, 1, 1},
		{`{"inline_keyboard":[]}`, 0, 0, 0},
		{`{"inline_keyboard":[[]]}`, 0, 0, 0},
	} {
		srv := withAnn(t, botapitest.Options{})
		r := call(t, srv, "sendMessage", "chat_id", ann, "text", "x", "reply_markup", tt.markup)
		want(t, fmt.Sprint(tt.rows, tt.shown, tt.cut), r, "")
		got, n := srv.Messages(ann)[0].Buttons, 0
		for _, r := range got {
			n += len(r)
		}
		if cut := srv.Report().ButtonsCut; len(got) != tt.rows || n != tt.shown || cut != tt.cut {
			t.Errorf("rows %d shown %d cut %d, want %d %d %d", len(got), n, cut, tt.rows, tt.shown, tt.cut)
		}
	}
}

// A result carries the buttons the way they were sent.
func TestButtonsInResult(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	m := send(t, srv, "text", "x", "reply_markup", keyboard(
		`{"text":"A","style":"primary","callback_data":"x"},{"text":"B","url":"https://a.example"},`+
			`{"text":"C","copy_text":{"text":"c"}}`))
	got, err := json.Marshal(m.Markup.Inline)
	if err != nil {
		t.Fatal(err)
	}
	const all = `[[{"text":"A","style":"primary","callback_data":"x"},` +
		`{"text":"B","url":"https://a.example"},{"text":"C","copy_text":{"text":"c"}}]]`
	if string(got) != all {
		t.Errorf("got %s", got)
	}
}

// A reply keyboard shows as a menu and makes its message one that cannot be edited.
func TestReplyKeyboard(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	for _, markup := range []string{
		`{"keyboard":[["Open",{"text":"Close"}]],"resize_keyboard":true}`,
		`{"remove_keyboard":true}`, `{"force_reply":true}`,
	} {
		m := send(t, srv, "text", "x", "reply_markup", markup)
		r := call(t, srv, "editMessageText", "chat_id", ann, "message_id", m.ID, "text", "y")
		want(t, markup, r, "Bad Request: message can't be edited")
	}
	if menu := srv.Messages(ann)[0].Menu; len(menu) != 1 || menu[0][0] != "Open" || menu[0][1] != "Close" {
		t.Errorf("menu %v", menu)
	}
}
