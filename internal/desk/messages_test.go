package desk_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"shopfloat/internal/desk"
)

func TestEdits(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "card close")   // message 1
	o.say(owner, "hi")           // 2
	o.say(owner, "edit first")   // replaces 1
	o.say(owner, "edit second")  // replaces 1 as well
	o.say(owner, "retire")       // 3, ends 1
	o.say(owner, "edit third")   // replaces 3
	o.say(staff1, "edit fourth") // there is none in this chat
	o.wantShown(
		"term:owner card close",
		"term:owner hi!",
		"term:owner edit first *1",
		"term:owner edit second *1",
		"term:owner new card -1",
		"term:owner edit third *3",
		"term:staff1 edit fourth",
	)
}

// What a message became is still known after a restart.
func TestEditAfterRestart(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "card close")
	o.restart()
	o.say(owner, "edit it")
	o.restart()
	o.say(owner, "retire")
	o.wantShown("term:owner card close", "term:owner edit it *1", "term:owner new card -1")
}

// An edit of a message that has not been sent goes out in its place.
func TestEditUnsent(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw(owner, "card close"), o.raw(owner, "hi"), o.raw(owner, "edit one"), o.raw(owner, "edit two"))
	o.flush()
	o.say(owner, "edit three")
	o.wantShown("term:owner edit two", "term:owner hi!", "term:owner edit three *1")
}

// The buttons a new message ends are ended too when another replaces it before it is sent.
func TestRetireUnsent(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "card close")
	o.take(o.raw(owner, "retire"), o.raw(owner, "edit it"))
	o.flush()
	o.wantShown("term:owner card close", "term:owner edit it -1")
}

// What was sent is not sent again because the commit that was to say so failed.
func TestReceiptsOfAFailedCommit(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw(owner, "hi"))
	full := errors.New("disk full")
	o.db.Interpose(func(query string) error {
		if query == "COMMIT" {
			return full
		}
		return nil
	})
	if err := o.desk.Flush(context.Background(), &o.screen); !errors.Is(err, full) {
		t.Errorf("error %v", err)
	}
	o.db.Interpose(nil)
	o.flush()
	o.restart()
	o.flush()
	o.wantShown("term:owner hi!")
}

func TestUnsentAfterRestart(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw(owner, "card close"), o.raw(staff1, "hi"), o.raw(owner, "edit one"))
	o.restart()
	o.flush()
	o.wantShown("term:owner edit one", "term:staff1 hi!")
	o.restart()
	o.flush()
	o.wantShown()
}

func TestFates(t *testing.T) {
	t.Run("vanished", func(t *testing.T) {
		o := newOffice(t)
		o.say(owner, "card close")
		o.fail = func(out desk.Out) error {
			if out.MessageID == 1 {
				return desk.ErrVanished
			}
			return nil
		}
		o.say(owner, "edit one")
		o.say(owner, "edit two")
		o.wantShown("term:owner card close", "term:owner edit one", "term:owner edit two *2")
	})
	t.Run("refused", func(t *testing.T) {
		o := newOffice(t)
		o.say(owner, "card close")
		o.fail = func(out desk.Out) error {
			if out.Reply.Body[0].Text == "edit one" {
				return desk.ErrRefused
			}
			return nil
		}
		o.say(owner, "edit one")
		o.say(owner, "edit two")
		o.wantShown("term:owner card close", "term:owner edit two *1")
	})
	t.Run("gone", func(t *testing.T) {
		o := newOffice(t)
		o.fail = func(out desk.Out) error {
			if out.Chat == owner {
				return desk.ErrGone
			}
			return nil
		}
		o.take(o.raw(staff1, "tell x"), o.raw(staff1, "tell y"))
		o.flush()
		o.fail = nil
		o.say(staff1, "tell z")
		o.wantShown("term:staff2 person x", "term:staff1 tell x!", "term:staff2 person y",
			"term:staff1 tell y!", "term:staff2 person z", "term:staff1 tell z!")
		o.say(owner, "hi")
		o.say(staff1, "tell again")
		o.wantShown("term:owner hi!", "term:owner managers again", "term:staff2 person again",
			"term:staff1 tell again!")
	})
	t.Run("network", func(t *testing.T) {
		o := newOffice(t)
		cut := errors.New("connection cut")
		o.fail = func(desk.Out) error { return cut }
		o.take(o.raw(owner, "hi"))
		if err := o.desk.Flush(context.Background(), &o.screen); !errors.Is(err, cut) {
			t.Errorf("error %v", err)
		}
		o.fail = nil
		o.flush()
		o.wantShown("term:owner hi!")
	})
}

func TestDeadlines(t *testing.T) {
	o := newOffice(t)
	ctx := context.Background()
	next := func(want string) {
		t.Helper()
		due, ok, err := o.desk.NextDue(ctx)
		got := "none"
		if ok {
			got = due.Format("15:04")
		}
		if err != nil || got != want {
			t.Errorf("next due %s, %v; want %s", got, err, want)
		}
	}
	tick := func(after time.Duration, want ...string) {
		t.Helper()
		o.clock = o.clock.Add(after)
		ok(t, o.desk.Tick(ctx))
		o.flush()
		o.wantShown(want...)
	}
	next("none")
	o.take(o.raw(staff1, "at 30m"))
	o.flush()
	o.shown()
	next("06:30")
	tick(29 * time.Minute)
	tick(time.Minute, "term:owner due call 06:30")
	tick(time.Minute)
	next("none")
	o.take(o.raw(staff1, "at 10m"), o.raw(staff2, "at 20m")) // moved: one name at one machine
	o.flush()
	o.shown()
	next("06:51")
	o.restart()
	tick(3*time.Hour, "term:owner due call 09:31")
	o.take(o.raw(staff1, "at 10m"), o.raw(staff1, "drop"))
	o.flush()
	o.shown()
	next("none")
	tick(time.Hour)
}

// A deadline belongs to the machine: it comes even when nobody can be reached,
// and whatever is done about it then is done.
func TestDeadlineWithoutChat(t *testing.T) {
	o := newOffice(t)
	o.say(staff1, "at 5m")
	o.shown()
	o.exec("DELETE FROM account")
	o.restart()
	o.clock = o.clock.Add(time.Hour)
	ok(t, o.desk.Tick(context.Background()))
	o.flush()
	o.wantShown()
	if n := o.ask("SELECT count(*) FROM inbox WHERE source = 'deadline' AND status = 1"); n != "1" {
		t.Errorf("%s deadlines handled", n)
	}
	if n := o.ask("SELECT count(*) FROM chat WHERE chat LIKE 'machine:%'"); n != "0" {
		t.Errorf("a deadline left a state behind")
	}
}

// After the clock went back, the same deadline comes due once more: it says
// nothing, and what is to follow it is planned again.
func TestDeadlineAgain(t *testing.T) {
	o := newOffice(t)
	tick := func(after time.Duration, want ...string) {
		t.Helper()
		o.clock = o.clock.Add(after)
		ok(t, o.desk.Tick(context.Background()))
		o.flush()
		o.wantShown(want...)
	}
	o.say(staff1, "at 30m")
	o.shown()
	tick(30*time.Minute, "term:owner due call 06:30")
	o.clock = o.clock.Add(-24 * time.Hour)
	o.say(staff1, "at 24h")
	o.shown()
	tick(24 * time.Hour)
	tick(time.Hour, "term:owner due next 07:30")
}

// What came in after the clock went back says so in the file: a stop before the next tick
// does not keep the deadlines from being planned again.
func TestClockWentBackBeforeAStop(t *testing.T) {
	for _, stops := range []bool{false, true} {
		o := newOffice(t)
		o.say(staff1, "at 30m")
		o.clock = o.clock.Add(-24 * time.Hour)
		o.say(owner, "hi")
		o.shown()
		if stops {
			o.restart()
		}
		ok(t, o.desk.Tick(context.Background()))
		o.flush()
		o.wantShown("term:owner due plan-begin 06:00")
	}
}

// A clock far ahead at a start makes nothing happen twice: what comes again is still known.
func TestTakeAgainAfterAClockJump(t *testing.T) {
	o := newOffice(t)
	raws := []desk.Raw{o.raw(staff1, "open"), o.raw(staff1, "add"), o.raw(owner, "hi")}
	o.take(raws...)
	o.flush()
	o.wantShown("term:staff1 open!", "term:staff1 add!", "term:owner hi!")
	o.clock = o.clock.Add(50 * time.Hour)
	o.restart()
	o.take(raws...)
	o.flush()
	o.wantShown()
	o.verify(2)
}

// What was never sent is sent, however old it seems, and also when old rows went before.
func TestUnsentAfterAClockJump(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw(owner, "hi"), o.raw(staff1, "card"))
	o.clock = o.clock.Add(50 * time.Hour)
	o.restart()
	ok(t, o.desk.Prune())
	o.restart()
	o.flush()
	o.wantShown("term:owner hi!", "term:staff1 card ")
}

// What is old goes; a card of a dialog under way stays, since it may be edited yet.
func TestPrune(t *testing.T) {
	o := newOffice(t)
	for range 3 {
		o.say(staff1, "card close")
		o.say(staff1, "hi")
		o.say(staff2, "card close")
	}
	o.say(staff2, "card") // ends the dialog
	o.say("term:nosy", "hi")
	o.clock = o.clock.Add(72 * time.Hour)
	o.restart()
	o.flush()
	ok(t, o.desk.Prune())
	o.shown()
	if n := o.ask("SELECT count(*) FROM inbox"); n != "1" {
		t.Errorf("%s inbox rows", n)
	}
	if n := o.ask("SELECT group_concat(chat || key) FROM outbox"); n != "term:staff1card" {
		t.Errorf("outbox rows: %s", n)
	}
	if n := o.ask("SELECT count(*) FROM chat WHERE chat = 'term:nosy'"); n != "0" {
		t.Error("the stranger is remembered")
	}
	o.say(staff1, "edit it")
	o.wantShown("term:staff1 edit it *7")
}
