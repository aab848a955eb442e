package botapitest_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

// manual is a timer that fires only when told, and remembers what it was set to.
type manual struct {
	set  chan time.Duration
	fire chan time.Time
}

func newManual() manual {
	return manual{set: make(chan time.Duration, 10), fire: make(chan time.Time)}
}

func (m manual) after(d time.Duration) <-chan time.Time { m.set <- d; return m.fire }

// waiting starts a poll in the background and returns once it waits.
func waiting(t *testing.T, srv *botapitest.Server, ctx context.Context, body string) <-chan reply {
	t.Helper()
	out := make(chan reply, 1)
	r := httptest.NewRequest(http.MethodPost, "/bot"+srv.Token()+"/getUpdates", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	go func() { out <- serve(t, srv, r.WithContext(ctx)) }()
	if err := srv.WaitFor(testContext(t), botapitest.Snapshot.Polling); err != nil {
		t.Fatal(err)
	}
	return out
}

// The timeout is clamped to 0..50 s (FACTS.md A).
func TestPollTimeout(t *testing.T) {
	for _, tt := range []struct {
		body string
		want time.Duration
	}{
		{`{"timeout":20}`, 20 * time.Second},
		{`{"timeout":"20"}`, 20 * time.Second},
		{`{"timeout":59}`, 50 * time.Second},
	} {
		timer := newManual()
		srv := withAnn(t, botapitest.Options{After: timer.after})
		got := waiting(t, srv, t.Context(), tt.body)
		if d := <-timer.set; d != tt.want {
			t.Errorf("%s waits %v, want %v", tt.body, d, tt.want)
		}
		timer.fire <- time.Time{}
		if n := ids(t, <-got); len(n) != 0 {
			t.Errorf("%s: %v", tt.body, n)
		}
	}
	srv := withAnn(t, botapitest.Options{})
	if got := ids(t, ask(t, srv, "getUpdates", `{"timeout":-1}`)); len(got) != 0 {
		t.Errorf("negative timeout: %v", got)
	}
}

// The same offset again: within 0.5 s one update at most, within 3 s the wait is 3 s (FACTS.md A).
func TestQuickRepeat(t *testing.T) {
	timer := newManual()
	srv := withAnn(t, botapitest.Options{After: timer.after})
	srv.SendText(ann, "a")
	srv.SendText(ann, "b")
	count := func(after time.Duration) int {
		srv.SetNow(srv.Now().Add(after))
		return len(ids(t, ask(t, srv, "getUpdates", `{"offset":5}`)))
	}
	got := [...]int{count(0), count(499 * time.Millisecond), count(500 * time.Millisecond)}
	if got != [...]int{2, 1, 2} {
		t.Errorf("batches of %v, want 2, 1, 2", got)
	}
	srv.JumpID(9)
	repeated := waiting(t, srv, t.Context(), `{"offset":5}`)
	if d := <-timer.set; d != 3*time.Second {
		t.Errorf("repeat waits %v, want 3 s", d)
	}
	timer.fire <- time.Time{}
	<-repeated
}

// A waiting poll gets an update as soon as there is one.
func TestPollWakes(t *testing.T) {
	timer := newManual()
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first, After: timer.after})
	got := waiting(t, srv, t.Context(), `{"timeout":50}`)
	srv.SendText(ann, "hello")
	if n := ids(t, <-got); len(n) != 1 || n[0] != 0 {
		t.Errorf("got %v", n)
	}
}

// Two pollers: the new call wins, the older one gets 409 (FACTS.md A and B).
func TestConflict(t *testing.T) {
	timer := newManual()
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first, After: timer.after})
	older := waiting(t, srv, t.Context(), `{"timeout":50}`)
	<-timer.set
	newer := make(chan reply, 1)
	go func() { newer <- ask(t, srv, "getUpdates", `{"timeout":50}`) }()
	want(t, "older", <-older, "Conflict: terminated by other getUpdates request; "+
		"make sure that only one bot instance is running")
	<-timer.set
	srv.SendText(ann, "hello")
	if n := ids(t, <-newer); len(n) != 1 {
		t.Errorf("newer got %v", n)
	}
}

// A caller that hangs up ends its poll, and Close ends every poll.
func TestPollEnds(t *testing.T) {
	timer := newManual()
	srv := withAnn(t, botapitest.Options{After: timer.after})
	ctx, cancel := context.WithCancel(t.Context())
	got := waiting(t, srv, ctx, `{"timeout":50}`)
	cancel()
	<-got
	got = waiting(t, srv, t.Context(), `{"timeout":50,"offset":7}`)
	srv.Close()
	<-got
}

// getUpdates is refused while a webhook is set, and setting one ends a waiting poll (FACTS.md A and B).
func TestWebhook(t *testing.T) {
	timer := newManual()
	srv := withAnn(t, botapitest.Options{After: timer.after})
	got := waiting(t, srv, t.Context(), `{"timeout":50}`)
	want(t, "plain http", ask(t, srv, "setWebhook", `{"url":"http://shop.example/hook"}`),
		"Bad Request: bad webhook: An HTTPS URL must be provided for webhook")
	want(t, "set", ask(t, srv, "setWebhook", `{"url":"https://shop.example/hook"}`), "")
	want(t, "waiting poll", <-got, "Conflict: terminated by setWebhook request")
	want(t, "poll", ask(t, srv, "getUpdates", ``),
		"Conflict: can't use getUpdates method while webhook is active; "+
			"use deleteWebhook to delete the webhook first")
	srv.SendText(ann, "kept")
	info := decode[struct {
		URL     string
		Pending int `json:"pending_update_count"`
	}](t, ask(t, srv, "getWebhookInfo", ``))
	if info.URL != "https://shop.example/hook" || info.Pending != 1 {
		t.Errorf("info = %+v", info)
	}
	want(t, "delete", ask(t, srv, "deleteWebhook", ``), "")
	if n := poll(t, srv, `{}`); len(n) != 1 {
		t.Errorf("after deleting: %v", n)
	}
	want(t, "drop", ask(t, srv, "deleteWebhook", `{"drop_pending_updates":true}`), "")
	if n := poll(t, srv, `{}`); len(n) != 0 {
		t.Errorf("after dropping: %v", n)
	}
}
