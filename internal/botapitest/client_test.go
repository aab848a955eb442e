package botapitest_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// reply is the platform's envelope.
type reply struct {
	OK         bool            `json:"ok"`
	Result     json.RawMessage `json:"result"`
	Code       int             `json:"error_code"`
	Text       string          `json:"description"`
	Parameters struct {
		RetryAfter int   `json:"retry_after"`
		MigratedTo int64 `json:"migrate_to_chat_id"`
	} `json:"parameters"`
	status int
	header http.Header
}

// message is as much of a message object as the tests look at.
type message struct {
	ID       int   `json:"message_id"`
	Date     int64 `json:"date"`
	EditDate int64 `json:"edit_date"`
	From     struct {
		ID    int64 `json:"id"`
		IsBot bool  `json:"is_bot"`
	} `json:"from"`
	Text     string              `json:"text"`
	Caption  string              `json:"caption"`
	Entities []botapitest.Entity `json:"entities"`
	Document struct {
		ID   string `json:"file_id"`
		Name string `json:"file_name"`
	} `json:"document"`
	Photo []struct {
		ID string `json:"file_id"`
	} `json:"photo"`
	ReplyTo struct {
		ID int `json:"message_id"`
	} `json:"reply_to_message"`
	Markup struct {
		Inline [][]json.RawMessage `json:"inline_keyboard"`
	} `json:"reply_markup"`
}

// ask posts a JSON body to a method without a network and checks the envelope's own rule: the HTTP status
// equals error_code (FACTS.md B).
func ask(t *testing.T, srv *botapitest.Server, method, body string) reply {
	t.Helper()
	r := httptest.NewRequest(http.MethodPost, "/bot"+srv.Token()+"/"+method, strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	return serve(t, srv, r)
}

func serve(t *testing.T, srv *botapitest.Server, r *http.Request) reply {
	t.Helper()
	w := httptest.NewRecorder()
	srv.ServeHTTP(w, r)
	out := reply{status: w.Code, header: w.Header()}
	if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil {
		t.Fatalf("answer is not JSON: %v\n%s", err, w.Body)
	}
	if out.OK && out.status != 200 || !out.OK && out.status != out.Code {
		t.Errorf("status %d with ok %v and error_code %d", out.status, out.OK, out.Code)
	}
	return out
}

// params builds a JSON object from names and values in turn.
func params(t *testing.T, pairs ...any) string {
	t.Helper()
	m := map[string]any{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i].(string)] = pairs[i+1]
	}
	b, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// call is ask with parameters given as names and values in turn.
func call(t *testing.T, srv *botapitest.Server, method string, pairs ...any) reply {
	t.Helper()
	return ask(t, srv, method, params(t, pairs...))
}

// decode reads the result of a call that must have gone well.
func decode[T any](t *testing.T, r reply) T {
	t.Helper()
	var v T
	if !r.OK {
		t.Fatalf("call failed: %d %s", r.Code, r.Text)
	}
	if err := json.Unmarshal(r.Result, &v); err != nil {
		t.Fatalf("result %s: %v", r.Result, err)
	}
	return v
}

// want checks an answer against a description, "" for success.
func want(t *testing.T, name string, r reply, text string) {
	t.Helper()
	if r.OK != (text == "") || r.Text != text {
		t.Errorf("%s: got ok %v %q, want %q", name, r.OK, r.Text, text)
	}
}

// withAnn makes a server that knows Ann.
func withAnn(t *testing.T, opts botapitest.Options) *botapitest.Server {
	t.Helper()
	srv := botapitest.New(opts)
	srv.AddUser(ann, "Ann")
	t.Cleanup(srv.Close)
	return srv
}

// send posts a text to Ann and gives the message.
func send(t *testing.T, srv *botapitest.Server, pairs ...any) message {
	t.Helper()
	return decode[message](t, call(t, srv, "sendMessage", append([]any{"chat_id", ann}, pairs...)...))
}

// row is a reply_markup with one row of callback buttons; each label is its own data.
func row(labels ...string) map[string]any {
	var out []map[string]string
	for _, l := range labels {
		out = append(out, map[string]string{"text": l, "callback_data": l})
	}
	return map[string]any{"inline_keyboard": []any{out}}
}
