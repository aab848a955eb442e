package main

import (
	"context"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

// answer is how long somebody waited, and how many messages and changes of messages others
// were sent meanwhile.
type answer struct {
	after  time.Duration
	behind int
}

// scene is the program at work at the platform's pace, with two shops and as many strangers
// as a crowd has.
type scene struct {
	t    *testing.T
	srv  *botapitest.Server
	a, b person
}

func newScene(t *testing.T) *scene {
	t.Helper()
	s := &scene{t: t, srv: standIn(t, owner1, owner1+1)}
	s.a, s.b = person{t, s.srv, owner1}, person{t, s.srv, owner1 + 1}
	bot := serve(t, s.srv, seeded(t, 2), "--rate", "30")
	t.Cleanup(func() {
		if code := bot.end(); code != 0 {
			t.Errorf("the bot ended with %d:\n%s", code, bot.stderr.String())
		}
	})
	s.b.does("what now", "Next") // the first words teach it what people say, once
	return s
}

// sent counts what the bot has sent to some people so far, changes included.
func (s *scene) sent(to ...int64) (n int) {
	s.srv.View(func(v botapitest.Snapshot) {
		for _, id := range to {
			for _, m := range v.Messages(id) {
				if m.FromBot {
					n += 1 + len(m.Edits)
				}
			}
		}
	})
	return n
}

// hears waits until somebody hears something, since a message of theirs.
func (s *scene) hears(id int64, since int, part string, others ...int64) answer {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(s.t.Context(), patience)
	defer cancel()
	began, before := time.Now(), s.sent(others...)
	err := s.srv.WaitFor(ctx, func(v botapitest.Snapshot) bool {
		for _, m := range v.Messages(id) {
			if m.ID > since && m.FromBot && strings.Contains(m.Text, part) {
				return true
			}
		}
		return false
	})
	if err != nil {
		s.t.Errorf("%d never heard %q", id, part)
	}
	return answer{time.Since(began), s.sent(others...) - before}
}

// Sixty taps on one old button cost a card or two, and nobody who calls for help waits for
// them: in the same chat one message may be under way, and the platform takes one a second.
func TestOldButtonTappedSixtyTimes(t *testing.T) {
	t.Parallel()
	s := newScene(t)
	s.a.does("open", "top box")
	m := s.a.does("40", "middle box")
	data, ok := button(m, "Customers")
	if !ok {
		t.Fatal("no button to tap")
	}
	s.a.does("150", "bottom box")
	before := s.sent(owner1)
	for range 60 {
		s.srv.TapData(owner1, owner1, m.ID, data)
	}
	typed := s.srv.SendText(owner1, "there is a robbery")
	got := s.hears(owner1, typed, "Do as told")
	if n := s.sent(owner1) - before; n > 6 {
		t.Errorf("%d messages and changes until the answer", n)
	}
	t.Logf("answered after %v", got.after)
	for end := time.Now().Add(patience); len(s.srv.Report().Unanswered) > 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%d taps were never answered", len(s.srv.Report().Unanswered))
		}
	}
}

// Three hundred strangers write at once, and a member behind them: of the strangers' answers
// hardly any goes out first.
func TestMemberBehindStrangers(t *testing.T) {
	t.Parallel()
	s := newScene(t)
	s.a.does("status", "open")
	var strangers []int64
	for i := range int64(300) {
		strangers = append(strangers, 2_000_000+i)
		s.srv.SendText(2_000_000+i, "hello")
	}
	typed := s.srv.SendText(owner1, "help")
	got := s.hears(owner1, typed, "open", strangers...)
	if got.behind > 30 {
		t.Errorf("%d strangers were answered first", got.behind)
	}
	t.Logf("answered after %v, behind %d strangers", got.after, got.behind)
}

// Two robberies at once, each with all its shop told of much else: both are answered ahead
// of everything.
func TestTwoRobberiesAtOnce(t *testing.T) {
	t.Parallel()
	s := newScene(t)
	s.a.does("status", "open")
	s.b.does("status", "open")
	var strangers []int64
	for i := range int64(200) {
		strangers = append(strangers, 2_000_000+i)
		s.srv.SendText(2_000_000+i, "hello")
	}
	for _, p := range []person{s.a, s.b} {
		for range 20 {
			s.srv.SendText(p.id, "history")
		}
	}
	one, two := s.srv.SendText(owner1, "robbery"), s.srv.SendText(owner1+1, "robbery")
	first := s.hears(owner1, one, "Do as told", append(strangers, owner1, owner1+1)...)
	second := s.hears(owner1+1, two, "Do as told")
	if n := s.sent(strangers...); n > 60 {
		t.Errorf("%d strangers were answered first", n)
	}
	if n := s.sent(owner1, owner1+1); n > 16 {
		t.Errorf("%d messages to the two before they had their answer", n)
	}
	t.Logf("answered after %v and %v", first.after, first.after+second.after)
}
