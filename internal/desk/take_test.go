package desk_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/shop"
)

func TestTake(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw(staff1, "open"), o.raw(staff1, "add"), o.raw(owner, "hi"))
	o.flush()
	o.wantShown("term:staff1 open!", "term:staff1 add!", "term:owner hi!")
	if s := o.state(staff1); s.Rev != 2 {
		t.Errorf("staff1 was heard %d times", s.Rev)
	}
	o.verify(2)
	if n := o.ask("SELECT count(*) FROM inbox WHERE body IS NOT NULL OR status <> 1"); n != "0" {
		t.Errorf("%s inbox rows keep their content or wait", n)
	}
	if n := o.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != "0" {
		t.Errorf("%s outbox rows keep their content", n)
	}
}

// The same input again changes nothing and says nothing, also after a restart.
func TestTakeAgain(t *testing.T) {
	o := newOffice(t)
	raw := o.raw(staff1, "open")
	o.take(raw, raw)
	o.take(raw)
	o.restart()
	o.take(raw)
	other := raw
	other.Hash[0]++
	other.Input.Text = "add"
	o.take(other)
	o.flush()
	o.wantShown("term:staff1 open!")
	o.verify(1)
}

func TestNotices(t *testing.T) {
	o := newOffice(t)
	tap := o.raw(staff1, "")
	tap.Input.Kind, tap.Input.Tap = chat.Press, "x"
	quiet := o.raw(staff1, "hi")
	for _, round := range []string{"first", "later"} { // stored before it is handled, and not
		got := o.take(quiet, tap)
		if len(got) != 1 || got[0] != (desk.Notice{Key: tap.Key, Text: "noted x"}) {
			t.Errorf("%s: %v", round, got)
		}
		tap.Key, quiet.Key = tap.Key+round, quiet.Key+round
	}
}

func TestStep(t *testing.T) {
	t.Run("audience", func(t *testing.T) {
		o := newOffice(t)
		o.say(staff1, "tell x")
		o.wantShown("term:owner managers x", "term:staff2 person x", "term:staff1 tell x!")
		o.say(owner, "tell y")
		o.wantShown("term:staff2 person y", "term:owner tell y!")
	})
	t.Run("others", func(t *testing.T) {
		o := newOffice(t)
		o.say(staff1, "card close")
		o.say(staff2, "others")
		o.wantShown("term:staff1 card close", "term:staff2 term:staff1 does close", "term:staff2 others!")
		o.restart()
		o.say(staff2, "others")
		o.wantShown("term:staff2 term:staff1 does close", "term:staff2 others!")
		o.say(staff1, "others")
		o.wantShown("term:staff1 others!")
	})
	t.Run("take over", func(t *testing.T) {
		o := newOffice(t)
		o.say(staff1, "card close")
		rev := o.state(staff1).Rev
		o.say(staff2, "over term:staff1")
		if s := o.state(staff1); s.Flow != "" || s.Rev != rev+1 {
			t.Errorf("the dialog taken over: %+v", s)
		}
		o.shown()
		o.say(owner, "others")
		o.wantShown("term:owner others!")
	})
}

// What fails is tried three times and takes nothing else with it; then the
// person and the managers are told, and the chat goes on.
func TestParking(t *testing.T) {
	for _, word := range []string{"bad", "panic"} {
		for _, careful := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s careful %t", word, careful), func(t *testing.T) {
				o := newOffice(t)
				if !careful {
					o.say(owner, "hi")
					o.shown()
				}
				o.take(o.raw(staff2, "open"), o.raw(staff1, word), o.raw(staff1, "hi"), o.raw(staff2, "add"))
				o.flush()
				got := o.shown()
				all := strings.Join(got, "\n")
				for _, want := range []string{
					"term:staff2 open!", "term:staff2 add!", "term:staff1 Something went wrong here.",
					"term:owner One thing to check.", "term:staff1 hi!",
				} {
					if strings.Count(all, want) != 1 {
						t.Errorf("%q was not said once in\n%s", want, all)
					}
				}
				late := strings.Index(all, "went wrong") > strings.Index(all, "hi!")
				if late || strings.Contains(all, "recorded\n") {
					t.Errorf("said in this order:\n%s", all)
				}
				o.verify(2)
				if n := o.ask("SELECT count(*) FROM inbox WHERE status = 2 AND attempts = 3"); n != "1" {
					t.Errorf("%s rows parked", n)
				}
				if n := o.ask("SELECT count(*) FROM inbox WHERE status = 0"); n != "0" {
					t.Errorf("%s rows wait", n)
				}
			})
		}
	}
}

// A statement that ends the whole transaction takes nothing with it either:
// everything is done again, one by one.
func TestTransactionLost(t *testing.T) {
	for _, table := range []string{"chat", "outbox"} {
		for _, careful := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s careful %t", table, careful), func(t *testing.T) {
				o := newOffice(t)
				if !careful {
					o.say(owner, "hi")
				}
				o.exec(fmt.Sprintf(`CREATE TRIGGER lost BEFORE INSERT ON %s WHEN NEW.chat = '%s'
					BEGIN SELECT RAISE(ROLLBACK, 'the transaction is gone'); END`, table, staff1))
				o.take(o.raw(staff2, "open"), o.raw(staff1, "add"), o.raw(staff2, "add"))
				o.exec("DROP TRIGGER lost")
				o.say(owner, "hi")
				o.verify(2)
				if s := o.state(staff2); s.Rev != 2 {
					t.Errorf("staff2 was heard %d times", s.Rev)
				}
			})
		}
	}
}

// Whoever works in no shop learns nothing and leaves a key and a time.
func TestStranger(t *testing.T) {
	o := newOffice(t)
	const stranger = chat.Chat("term:nosy")
	o.say(stranger, "secret words")
	o.say(stranger, "again")
	o.wantShown("term:nosy private")
	o.clock = o.clock.Add(25 * time.Hour)
	o.say(stranger, "next day")
	o.wantShown("term:nosy private")
	o.verify(0)
	n := o.ask("SELECT count(*) FROM inbox WHERE hash IS NOT NULL OR chat IS NOT NULL OR body IS NOT NULL")
	if n != "0" {
		t.Errorf("%s rows tell more than a key and a time", n)
	}
	if n := o.ask("SELECT count(*) FROM chat WHERE state IS NOT NULL"); n != "0" {
		t.Errorf("%s states of strangers", n)
	}
}

func TestNowhere(t *testing.T) {
	o := newOffice(t)
	o.take(o.raw("", "group chat"), o.raw(owner, "hi"))
	o.flush()
	o.wantShown("term:owner hi!")
	o.take(o.raw("", "group chat"))
	if n := o.ask("SELECT count(*) FROM inbox WHERE status = 2 AND body IS NULL AND hash IS NULL"); n != "2" {
		t.Errorf("%s rows are parked as a key only", n)
	}
}

func TestTakeCancelled(t *testing.T) {
	o := newOffice(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := o.desk.Take(ctx, []desk.Raw{o.raw(owner, "hi")}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	o.flush()
	o.wantShown()
}

func TestZoneAndLatest(t *testing.T) {
	o := newOffice(t)
	if z := o.desk.Zone(owner).String(); z != shop.Example().Zone {
		t.Errorf("zone %s", z)
	}
	if z := o.desk.Zone("term:nosy"); z != time.UTC {
		t.Errorf("a stranger's zone is %s", z)
	}
	at, err := o.desk.Latest(context.Background())
	if err != nil || !at.IsZero() {
		t.Errorf("a new file tells of %s, %v", at, err)
	}
	o.say(owner, "hi")
	if at, err = o.desk.Latest(context.Background()); err != nil || !at.Equal(o.clock) {
		t.Errorf("latest %s, %v", at, err)
	}
}
