package botapitest_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// form is a multipart body with the given fields.
func form(t *testing.T, fields map[string]string) (body *bytes.Buffer, contentType string) {
	t.Helper()
	body = &bytes.Buffer{}
	w := multipart.NewWriter(body)
	for k, v := range fields {
		if err := w.WriteField(k, v); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return body, w.FormDataContentType()
}

// FACTS.md E, "must accept": every form a request may take.
func TestAcceptedForms(t *testing.T) {
	fields := map[string]string{"chat_id": "1001", "text": "hi", "disable_notification": "true",
		"reply_markup": `{"inline_keyboard":[[{"text":"Yes","callback_data":"y","copy_text":{"text":""}}]]}`}
	multi, multiType := form(t, fields)
	empty, emptyType := form(t, nil)
	const urlencoded = "application/x-www-form-urlencoded"
	query := "chat_id=1001&text=hi&disable_notification=1&reply_markup=" +
		url.QueryEscape(`{"inline_keyboard":[[{"text":"Yes","callback_data":"y"}]]}`)
	asText := `{"chat_id":"1001","text":"hi","disable_notification":"True",` +
		`"reply_markup":"{\"inline_keyboard\":[[{\"text\":\"Yes\",\"callback_data\":\"y\"}]]}"}`
	for _, tt := range []struct {
		name, method, path, contentType, body string
	}{
		{"POST JSON", "POST", "sendMessage", "application/json", asText},
		{"JSON with charset", "POST", "sendMessage", "application/json; charset=utf-8", asText},
		{"POST multipart", "POST", "sendMessage", multiType, multi.String()},
		{"POST urlencoded", "POST", "sendMessage", urlencoded, query},
		{"GET query", "GET", "sendMessage?" + query, "", ""},
		{"POST query and empty body", "POST", "sendMessage?" + query, multiType, ""},
		{"query and zero parts", "POST", "sendMessage?" + query, emptyType, empty.String()},
		{"lower case", "POST", "sendmessage", "application/json", asText},
		{"upper case", "POST", "SENDMESSAGE", "application/json", asText},
		{"test environment", "POST", "test/sendMessage", "application/json", asText},
	} {
		t.Run(tt.name, func(t *testing.T) {
			srv := withAnn(t, botapitest.Options{})
			// A reader of an unknown type has no length, so the body goes out chunked.
			r := httptest.NewRequest(tt.method, "/bot"+srv.Token()+"/"+tt.path,
				io.MultiReader(strings.NewReader(tt.body)))
			r.Header.Set("Content-Type", tt.contentType)
			m := decode[message](t, serve(t, srv, r))
			got := srv.Messages(ann)
			if m.Text != "hi" || m.ID == 0 || m.Date == 0 || !m.From.IsBot {
				t.Errorf("result %+v", m)
			}
			if len(got) != 1 || !got[0].Silent || len(got[0].Buttons) != 1 {
				t.Fatalf("chat shows %+v", got)
			}
			if b := got[0].Buttons[0][0]; b.Text != "Yes" || b.Data != "y" {
				t.Errorf("button %+v", b)
			}
		})
	}
}

// FACTS.md D3, 21: calls without parameters come as multipart with an empty body.
func TestEmptyMultipartGetMe(t *testing.T) {
	srv := withAnn(t, botapitest.Options{Username: "till_bot"})
	r := httptest.NewRequest(http.MethodPost, "/bot"+srv.Token()+"/getMe", io.MultiReader())
	r.Header.Set("Content-Type", "multipart/form-data; boundary=abc")
	got := decode[struct {
		ID       int64
		IsBot    bool `json:"is_bot"`
		Username string
	}](t, serve(t, srv, r))
	if got.ID != srv.BotID() || !got.IsBot || got.Username != "till_bot" {
		t.Errorf("getMe = %+v", got)
	}
}

// FACTS.md B, 401 and 404; A, Files: request size.
func TestRefusedRequests(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	good := "/bot" + srv.Token()
	huge := `{"chat_id":1001,"text":"` + strings.Repeat("x", 1<<20) + `"}`
	for _, tt := range []struct {
		name, method, path, contentType, body, want string
	}{
		{"path", "POST", "/getMe", "", "", "Not Found"},
		{"no method", "POST", good, "", "", "Not Found"},
		{"HTTP verb", "PUT", good + "/getMe", "", "", "Not Found"},
		{"unknown method", "POST", good + "/sendRichMessage", "", "", "Not Found: method not found"},
		{"long method", "POST", good + "/" + strings.Repeat("a", 99), "", "", "Not Found: method not found"},
		{"other token", "POST", "/bot1:abc/getMe", "", "", "Unauthorized"},
		{"malformed token", "POST", "/botabc/getMe", "", "", "Unauthorized: invalid token specified"},
		{"large JSON", "POST", good + "/sendMessage", "application/json", huge, "Request Entity Too Large"},
		{"broken JSON", "POST", good + "/sendMessage", "application/json", `{"chat_id":`,
			"Bad Request: can't parse request body as JSON object"},
		{"JSON list", "POST", good + "/sendMessage", "application/json", `[]`,
			"Bad Request: can't parse request body as JSON object"},
		{"long boundary", "POST", good + "/getMe", "multipart/form-data; boundary=" + strings.Repeat("b", 71),
			"x", "Bad Request: boundary not found"},
		{"cut multipart", "POST", good + "/getMe", "multipart/form-data; boundary=b", "--b\r\nContent-Dis",
			"Bad Request: can't parse multipart body"},
		{"bad query", "GET", good + "/getMe?a=%zz", "", "", "Bad Request: can't parse the parameters"},
	} {
		r := httptest.NewRequest(tt.method, tt.path, strings.NewReader(tt.body))
		r.Header.Set("Content-Type", tt.contentType)
		want(t, tt.name, serve(t, srv, r), tt.want)
	}
	srv.RevokeToken()
	want(t, "revoked", ask(t, srv, "getMe", ""), "Unauthorized")
}

// All text parameters together may have 1 MiB, in a multipart body too (FACTS.md A, Files).
func TestMultipartTextLimit(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	half := strings.Repeat("x", 1<<19)
	body, contentType := form(t, map[string]string{"a": half, "b": half, "c": "x"})
	r := httptest.NewRequest(http.MethodPost, "/bot"+srv.Token()+"/getMe", body)
	r.Header.Set("Content-Type", contentType)
	want(t, "1 MiB and one", serve(t, srv, r), "Request Entity Too Large")
}

// JSON null is an absent parameter; nested values stay whole whatever they contain.
func TestJSONCorners(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	body := "\n { \"chat_id\" : 1001 , \"x\":{\"y\":[\"}\\\"]\",{}]}, \"parse_mode\":null, " +
		"\"te\\u0078t\" : \"a\\\"\\u20ac\\n<b>\" }\n"
	if m := decode[message](t, ask(t, srv, "sendMessage", body)); m.Text != "a\"€\n<b>" {
		t.Errorf("text %q", m.Text)
	}
}
