package telegram_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/desk"
	"shopfloat/internal/telegram"
)

const token = "4200001:SECRET-part_of_the_token"

// call is one call the bot made.
type call struct {
	Method string
	Fields map[string]string // JSON values and form fields as text
}

// answer is what the server says; zero is ok with an empty result.
type answer struct {
	status int
	body   string
	header map[string]string
	cut    bool // the connection ends instead
}

// script is a server that answers from a list for each method, the last one
// again and again. It is no stand-in for the platform: it knows no rules.
type script struct {
	*httptest.Server
	mu      sync.Mutex
	answers map[string][]answer
	calls   []call
	onCall  func(call)
}

func newScript(t *testing.T, answers map[string][]answer) *script {
	s := &script{answers: answers, onCall: func(call) {}}
	s.Server = httptest.NewServer(s)
	t.Cleanup(s.Close)
	return s
}

func (s *script) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	c := call{Method: path.Base(r.URL.Path), Fields: map[string]string{}}
	body, _ := io.ReadAll(r.Body)
	if strings.HasPrefix(r.Header.Get("Content-Type"), "application/json") {
		var fields map[string]json.RawMessage
		_ = json.Unmarshal(body, &fields)
		for k, v := range fields {
			c.Fields[k] = string(v)
		}
	} else {
		r.Body = io.NopCloser(bytes.NewReader(body))
		_ = r.ParseMultipartForm(1 << 20)
		for k := range r.PostForm {
			c.Fields[k] = r.PostForm.Get(k)
		}
	}
	a := s.next(c)
	s.onCall(c)
	if a.cut {
		panic(http.ErrAbortHandler)
	}
	for k, v := range a.header {
		w.Header().Set(k, v)
	}
	if a.status != 0 {
		w.WriteHeader(a.status)
	}
	if a.body == "" {
		a.body = `{"ok":true,"result":true}`
	}
	_, _ = io.WriteString(w, a.body)
}

func (s *script) next(c call) answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.calls = append(s.calls, c)
	list := s.answers[c.Method]
	if len(list) == 0 && c.Method == "getMe" {
		return answer{body: `{"ok":true,"result":{"id":4200001,"is_bot":true,"username":"shop_bot"}}`}
	}
	if len(list) == 0 {
		return answer{}
	}
	if len(list) > 1 {
		s.answers[c.Method] = list[1:]
	}
	return list[0]
}

// made lists the calls of a method.
func (s *script) made(method string) (list []call) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, c := range s.calls {
		if c.Method == method {
			list = append(list, c)
		}
	}
	return list
}

// refuse is an answer as the platform's server gives it.
func refuse(status int, description string) answer {
	body, _ := json.Marshal(map[string]any{"ok": false, "error_code": status, "description": description})
	return answer{status: status, body: string(body)}
}

// fixture is a bot on a scripted server, with what it did on the way.
type fixture struct {
	*script
	bot    *telegram.Bot
	log    bytes.Buffer
	mu     sync.Mutex
	now    time.Time
	slept  []time.Duration
	taken  [][]desk.Raw
	redrew int
	caught []time.Time
}

func newFixture(
	t *testing.T, answers map[string][]answer, change ...func(*fixture, *telegram.Options),
) *fixture {
	f := &fixture{script: newScript(t, answers), now: noon()}
	o := telegram.Options{
		Token: token, URL: f.URL, PrivateOnly: "I talk in private chats only.",
		Log:  slog.New(slog.NewTextHandler(&f.log, &slog.HandlerOptions{Level: slog.LevelDebug})),
		Seen: noon(), Now: f.clock, Sleep: f.sleep, Take: f.take,
		Redraw: func(context.Context, time.Time) error { f.redrew++; return nil },
		Caught: func(at time.Time) { f.caught = append(f.caught, at) },
	}
	for _, c := range change {
		c(f, &o)
	}
	var err error
	if f.bot, err = telegram.New(o); err != nil {
		t.Fatal(err)
	}
	return f
}

func (f *fixture) clock() time.Time {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.now
}

func (f *fixture) sleep(ctx context.Context, d time.Duration) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.slept = append(f.slept, d)
	return ctx.Err()
}

func (f *fixture) take(_ context.Context, raws []desk.Raw) ([]desk.Notice, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.taken = append(f.taken, raws)
	return nil, nil
}

// run runs the bot until the server was polled so many times.
func (f *fixture) run(t *testing.T, polls int) error {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	count := 0
	f.onCall = func(c call) {
		if c.Method == "getUpdates" {
			if count++; count == polls {
				cancel()
			}
		}
	}
	return f.bot.Run(ctx)
}
