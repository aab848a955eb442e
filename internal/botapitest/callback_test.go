package botapitest_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

const tooOld = "Bad Request: query is too old and response timeout expired or query ID is invalid"

// tapped has a card with two buttons and a tap on the first.
func tapped(t *testing.T) (srv *botapitest.Server, card int, query string) {
	t.Helper()
	srv = withAnn(t, botapitest.Options{})
	card = send(t, srv, "text", "card", "reply_markup", keyboard(`{"text":"Yes","callback_data":"y1"},`+
		`{"text":"No","callback_data":"n1"},{"text":"Web","url":"https://a.example"}`)).ID
	query, err := srv.Tap(ann, card, "Yes")
	if err != nil {
		t.Fatal(err)
	}
	return srv, card, query
}

func answer(t *testing.T, srv *botapitest.Server, query string, pairs ...any) reply {
	t.Helper()
	return call(t, srv, "answerCallbackQuery", append([]any{"callback_query_id", query}, pairs...)...)
}

// FACTS.md A: 0-200 characters; B: too old.
func TestAnswers(t *testing.T) {
	srv, _, query := tapped(t)
	want(t, "201", answer(t, srv, query, "text", strings.Repeat("é", 201)), "Bad Request: MESSAGE_TOO_LONG")
	want(t, "unknown", answer(t, srv, "77"), tooOld)
	want(t, "200", answer(t, srv, query, "text", strings.Repeat("é", 200), "show_alert", "true"), "")
	want(t, "second", answer(t, srv, query), tooOld)
	if got := srv.Answers(ann); len(got) != 1 || !got[0].Alert || got[0].Query != query {
		t.Errorf("answers %+v", got)
	}
	if r := srv.Report(); r.AnsweredTwice != 2 || len(r.Unanswered) != 0 {
		t.Errorf("report %+v", r)
	}
}

func TestLateAnswer(t *testing.T) {
	for _, tt := range []struct {
		after time.Duration
		want  string
		late  int
	}{{15 * time.Second, "", 0}, {16 * time.Second, tooOld, 1}} {
		srv, _, query := tapped(t)
		srv.SetNow(srv.Now().Add(tt.after))
		want(t, tt.after.String(), answer(t, srv, query), tt.want)
		r := srv.Report()
		if r.AnsweredLate != tt.late || len(r.Unanswered) != tt.late || r.LongestWait != tt.after {
			t.Errorf("after %v: report %+v", tt.after, r)
		}
	}
}

// A tap names a button by label or data; a button that sends nothing back cannot be tapped.
func TestTapping(t *testing.T) {
	srv, card, _ := tapped(t)
	if _, err := srv.Tap(ann, card, "n1"); err != nil {
		t.Error(err)
	}
	for _, which := range []string{"Maybe", "Web", ""} {
		if _, err := srv.Tap(ann, card, which); !errors.Is(err, botapitest.ErrNoButton) {
			t.Errorf("tap %q: %v", which, err)
		}
	}
	if _, err := srv.Tap(ann, 99, "Yes"); !errors.Is(err, botapitest.ErrNoButton) {
		t.Errorf("tap on no message: %v", err)
	}
}

// The update carries message, person and data; a message that is gone comes with date 0 (FACTS.md C).
func TestTapUpdate(t *testing.T) {
	srv, card, query := tapped(t)
	srv.Erase(ann, card)
	srv.TapData(ann, ann, card, "stale")
	got := decode[[]struct {
		Query struct {
			ID      string
			Data    string
			From    struct{ ID int64 }
			Message message
		} `json:"callback_query"`
	}](t, ask(t, srv, "getUpdates", ""))
	if len(got) != 2 {
		t.Fatalf("updates %+v", got)
	}
	if q := got[0].Query; q.ID != query || q.Data != "y1" || q.From.ID != ann || q.Message.ID != card ||
		q.Message.Date == 0 {
		t.Errorf("tap %+v", q)
	}
	if q := got[1].Query; q.Data != "stale" || q.Message.ID != card || q.Message.Date != 0 {
		t.Errorf("stale tap %+v", q)
	}
}
