package botapitest_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

// ticking is a clock a test moves by hand.
type ticking struct{ t time.Time }

func (c *ticking) now() time.Time { return c.t }

// About one send or edit a second in a chat, 20 a minute in a group (FACTS.md A, Sending rate).
func TestPace(t *testing.T) {
	clock := &ticking{time.Unix(1_800_000_000, 0)}
	srv := withAnn(t, botapitest.Options{RateClock: clock.now})
	srv.AddGroup(group, "Shop")
	m := send(t, srv, "text", "a")
	clock.t = clock.t.Add(999 * time.Millisecond)
	want(t, "edit", edit(t, srv, m.ID, "text", "b"), "")
	clock.t = clock.t.Add(time.Second)
	send(t, srv, "text", "c")
	if r := srv.Report(); r.FastSends != 1 || r.FastGroup != 0 {
		t.Errorf("private: %+v", r)
	}
	for range 22 {
		say(t, srv, group)
		clock.t = clock.t.Add(time.Second)
	}
	clock.t = clock.t.Add(time.Hour)
	say(t, srv, group)
	if r := srv.Report(); r.FastSends != 1 || r.FastGroup != 2 {
		t.Errorf("group: %+v", r)
	}
}

// A chat told to wait must be left alone until retry_after is over (FACTS.md B, 429).
func TestEarlyRetries(t *testing.T) {
	clock := &ticking{time.Unix(1_800_000_000, 0)}
	srv := withAnn(t, botapitest.Options{RateClock: clock.now})
	srv.Inject(botapitest.Fault{Kind: botapitest.TooManyRequests, Chat: ann, RetryAfter: 7})
	say(t, srv, ann)
	clock.t = clock.t.Add(6 * time.Second)
	say(t, srv, ann)
	clock.t = clock.t.Add(time.Second)
	say(t, srv, ann)
	if r := srv.Report(); r.EarlyRetries != 1 {
		t.Errorf("report %+v", r)
	}
}

// The secret part of the token is found in whatever the bot sends out (FACTS.md E).
func TestTokenSeen(t *testing.T) {
	_, secret, _ := strings.Cut(botapitest.DefaultToken, ":")
	for name, leak := range map[string]func(*botapitest.Server){
		"text":   func(srv *botapitest.Server) { say(t, srv, ann); send(t, srv, "text", "see "+secret) },
		"button": func(srv *botapitest.Server) { send(t, srv, "text", "x", "reply_markup", row(secret)) },
		"query":  func(srv *botapitest.Server) { ask(t, srv, "sendMessage?chat_id=1001&text="+secret, "") },
		"file": func(srv *botapitest.Server) {
			upload(t, srv, "sendDocument", "document", "a.log", "GET "+secret, nil)
		},
		"escaped": func(srv *botapitest.Server) {
			ask(t, srv, "sendMessage", `{"chat_id":1001,"text":"\u0053`+secret[1:]+`"}`)
		},
		"file name": func(srv *botapitest.Server) {
			upload(t, srv, "sendDocument", "document", secret, "x", nil)
		},
	} {
		srv := withAnn(t, botapitest.Options{})
		leak(srv)
		if r := srv.Report(); r.TokenSeen != 1 {
			t.Errorf("%s: seen %d times", name, r.TokenSeen)
		}
	}
}

// Calls and refusals are counted by name and by text.
func TestCounts(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	send(t, srv, "text", "a")
	ask(t, srv, "SENDMESSAGE", `{"chat_id":5,"text":"x"}`)
	ask(t, srv, "nonsense", "")
	r := srv.Report()
	if r.Calls["sendMessage"] != 2 || len(r.Calls) != 1 || r.Errors["Bad Request: chat not found"] != 1 ||
		r.Errors["Not Found: method not found"] != 1 {
		t.Errorf("report %+v", r)
	}
}
