package botapitest_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

func TestWaitFor(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	never := func(botapitest.Snapshot) bool { return false }

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := srv.WaitFor(ctx, never); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before: %v", err)
	}
	ctx, cancel = context.WithCancel(t.Context())
	looked := make(chan struct{}, 100)
	go func() { <-looked; cancel() }()
	err := srv.WaitFor(ctx, func(botapitest.Snapshot) bool { looked <- struct{}{}; return false })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled during: %v", err)
	}
	go srv.SendReply(ann, 0, "hello")
	err = srv.WaitFor(testContext(t), func(v botapitest.Snapshot) bool { return v.Pending() == 1 })
	if err != nil {
		t.Error(err)
	}
	go srv.Close()
	if err := srv.WaitFor(testContext(t), never); !errors.Is(err, botapitest.ErrClosed) {
		t.Errorf("closed: %v", err)
	}
}

func TestSnapshot(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.View(func(v botapitest.Snapshot) {
		_, ok := v.Last(ann)
		if ok || v.Messages(7) != nil || v.Answers(7) != nil || v.Calls("nonsense") != 0 {
			t.Error("something in an empty server")
		}
	})
	m := send(t, srv, "text", "card", "reply_markup", row("Yes"))
	srv.SendText(ann, "hello")
	srv.TapData(ann, ann, m.ID, "x")
	srv.View(func(v botapitest.Snapshot) {
		last, ok := v.Last(ann)
		if !ok || last.ID != m.ID || v.Polling() {
			t.Errorf("last %+v, polling %v", last, v.Polling())
		}
		if got := [...]int{v.Calls("SendMessage"), v.Unanswered(), v.Pending()}; got != [...]int{1, 1, 2} {
			t.Errorf("calls, unanswered, pending = %v, want 1, 1, 2", got)
		}
	})
}

// OnEffect sees each change and may let the person act at once.
func TestOnEffect(t *testing.T) {
	var srv *botapitest.Server
	var seen []botapitest.Effect
	srv = withAnn(t, botapitest.Options{OnEffect: func(e botapitest.Effect) {
		seen = append(seen, e)
		if e.Method == "sendMessage" {
			if _, err := srv.Tap(e.Chat, e.Message.ID, "Yes"); err != nil {
				t.Error(err)
			}
		}
	}})
	m := send(t, srv, "text", "card", "reply_markup", row("Yes"))
	want(t, "answer", answer(t, srv, srv.Report().Unanswered[0], "text", "ok"), "")
	want(t, "edit", edit(t, srv, m.ID, "text", "done"), "")
	want(t, "failed edit", edit(t, srv, m.ID, "text", "done"), notModified)
	want(t, "delete", call(t, srv, "deleteMessage", "chat_id", ann, "message_id", m.ID), "")
	if len(seen) != 4 {
		t.Fatalf("effects %+v", seen)
	}
	if seen[1].Answer.Text != "ok" || seen[2].Message.Text != "done" || seen[3].Message.ID != m.ID {
		t.Errorf("effects %+v", seen)
	}
}

// The clock stands still unless moved, or is the one supplied.
func TestClock(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	if a, b := srv.Now(), srv.Now(); !a.Equal(b) {
		t.Errorf("clock ran from %v to %v", a, b)
	}
	clock := &ticking{time.Unix(5, 0)}
	srv = withAnn(t, botapitest.Options{Clock: clock.now})
	clock.t = time.Unix(9, 0)
	if m := send(t, srv, "text", "x"); m.Date != 9 {
		t.Errorf("date %d", m.Date)
	}
}
