package botapitest_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// post sends a text to Ann over TCP; an error means the connection broke.
func post(t *testing.T, srv *botapitest.Server, text string) (status int, body string, err error) {
	t.Helper()
	// A connection of its own: the client would silently repeat a request on a kept one that breaks.
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	in := params(t, "chat_id", ann, "text", text)
	resp, err := client.Post(srv.URL()+"/bot"+srv.Token()+"/sendMessage", "application/json",
		strings.NewReader(in))
	if err != nil {
		return 0, "", err
	}
	defer func() { _ = resp.Body.Close() }()
	out, err := io.ReadAll(resp.Body)
	return resp.StatusCode, string(out), err
}

// FACTS.md E, "should inject on demand": each fault once, then nothing more.
func TestFaults(t *testing.T) {
	noWait := func(context.Context) {}
	for _, tt := range []struct {
		name   string
		fault  botapitest.Fault
		status int
		body   string
		effect int
	}{
		{"429", botapitest.Fault{Kind: botapitest.TooManyRequests, RetryAfter: 7}, 429, `"retry_after":7`, 0},
		{"500", botapitest.Fault{Kind: botapitest.ServerError}, 500, `"Internal Server Error: restart"`, 0},
		{"502", botapitest.Fault{Kind: botapitest.BadGatewayPage}, 502, "<html>", 0},
		{"cut before", botapitest.Fault{Kind: botapitest.CutBefore}, 0, "", 0},
		{"cut after", botapitest.Fault{Kind: botapitest.CutAfter}, 0, "", 1},
		{"slow", botapitest.Fault{Kind: botapitest.Slow, Wait: noWait}, 200, `"ok":true`, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			srv := start(t, botapitest.Options{})
			srv.AddUser(ann, "Ann")
			srv.Inject(tt.fault)
			status, body, err := post(t, srv, "x")
			if (err != nil) != (tt.status == 0) || status != tt.status || !strings.Contains(body, tt.body) {
				t.Errorf("got %d %q %v", status, body, err)
			}
			if n := len(srv.Messages(ann)); n != tt.effect {
				t.Errorf("chat shows %d messages, want %d", n, tt.effect)
			}
			if status, _, err := post(t, srv, "y"); status != 200 || err != nil || srv.FaultsLeft() != 0 {
				t.Errorf("call after: %d %v, faults left %d", status, err, srv.FaultsLeft())
			}
		})
	}
}

// A fault hits only the method and chat it names, as often as it says. A 429 tells the wait in three places
// (FACTS.md B).
func TestFaultAim(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.AddUser(2002, "Ben")
	srv.Inject(botapitest.Fault{Kind: botapitest.TooManyRequests, Method: "SENDMESSAGE", Chat: ann,
		RetryAfter: 3, Times: 2})
	want(t, "other chat", say(t, srv, 2002), "")
	want(t, "other method", call(t, srv, "sendChatAction", "chat_id", ann, "action", "typing"), "")
	for range 2 {
		r := say(t, srv, ann)
		want(t, "hit", r, "Too Many Requests: retry after 3")
		if r.Parameters.RetryAfter != 3 || r.header.Get("Retry-After") != "3" {
			t.Errorf("retry_after %d, header %q", r.Parameters.RetryAfter, r.header.Get("Retry-After"))
		}
	}
	want(t, "used up", say(t, srv, ann), "")
}

// A slow call waits where Wait holds it, and gives up when the caller does.
func TestSlow(t *testing.T) {
	srv := start(t, botapitest.Options{})
	srv.AddUser(ann, "Ann")
	held := make(chan struct{})
	srv.Inject(botapitest.Fault{Kind: botapitest.Slow,
		Wait: func(ctx context.Context) { close(held); <-ctx.Done() }})
	ctx, cancel := context.WithCancel(t.Context())
	go func() { <-held; cancel() }()
	body := bytes.NewReader([]byte(params(t, "chat_id", ann, "text", "x")))
	url := srv.URL() + "/bot" + srv.Token() + "/sendMessage"
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, url, body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	if resp, err := http.DefaultClient.Do(r); !errors.Is(err, context.Canceled) {
		t.Errorf("slow call: %v %v", resp, err)
	}
}
