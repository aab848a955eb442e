package desk_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// unsure is a sender that delivers, and says so only after some tries.
type unsure struct {
	*screen
	fail int
}

func (s *unsure) Send(ctx context.Context, out desk.Out) (int64, error) {
	id, err := s.screen.Send(ctx, out)
	if s.fail--; s.fail >= 0 {
		return 0, errors.New("no answer")
	}
	return id, err
}

// The code of a link is in no file, not while the message waits, not when it was
// tried and nobody knows whether it arrived, and not afterwards. Of two that went
// out the later one counts.
func TestCodesOfLinksStayOut(t *testing.T) {
	o := real(t)
	o.say(owner, "invite Max")
	tap := o.raw(owner, "")
	for _, row := range o.outs[len(o.outs)-1].Reply.Buttons {
		if strings.HasPrefix(row[0].Label, "Staff") {
			tap.Input.Kind, tap.Input.Tap = chat.Press, row[0].Data
		}
	}
	o.take(tap)
	sends := &unsure{&o.screen, 1}
	if err := o.desk.Flush(context.Background(), sends); err == nil {
		t.Fatal("the first try was not to be answered")
	}
	first := linkIn(t, o)
	if o.holds(first) {
		t.Error("the file holds a code that may have gone out")
	}
	o.restart()
	o.speak()
	o.flush()
	second := linkIn(t, o)
	if first == second || o.holds(first) || o.holds(second) {
		t.Errorf("codes %q and %q: one of them is in the file, or they are one", first, second)
	}
	o.shown()
	o.say("term:old", "/start "+first)
	o.say("term:max", "/start "+second)
	o.flush()
	if all := strings.Join(o.shown(), "\n"); strings.Contains(all, "term:old Welcome") ||
		!strings.Contains(all, "term:max Welcome, Max.") {
		t.Errorf("shown: %s", all)
	}
}

// A link that was taken back before its message went out is not sent.
func TestTakenBackBeforeSent(t *testing.T) {
	o := real(t)
	o.say(owner, "invite Max")
	tap := o.raw(owner, "")
	tap.Input.Kind, tap.Input.Tap = chat.Press, o.outs[len(o.outs)-1].Reply.Buttons[0][0].Data
	o.take(tap)
	o.exec("UPDATE code SET used = -1")
	o.shown()
	o.flush()
	if all := strings.Join(o.shown(), "\n"); strings.Contains(all, "start=") {
		t.Errorf("sent: %s", all)
	}
}

// Guesses of a personal code that were made while the clock was wrong do not
// lock it for longer than others do.
func TestLockAfterAWrongClock(t *testing.T) {
	o := real(t)
	o.say(staff1, "my code")
	o.say(staff1, "83927164")
	o.exec("UPDATE account SET shared = 1 WHERE chat = '" + string(staff2) + "'")
	o.restart()
	o.speak()
	o.clock = o.clock.Add(365 * 24 * time.Hour)
	guess := func(code string) string {
		o.say(staff2, "open 40 150 200")
		o.tap(staff2, "Confirm")
		o.tap(staff2, "Ben")
		o.shown()
		o.say(staff2, code)
		return strings.Join(o.shown(), "\n")
	}
	for range 6 {
		guess("11223344")
	}
	o.clock = o.clock.Add(-365 * 24 * time.Hour)
	if said := guess("83927164"); !strings.Contains(said, "Opening recorded") {
		t.Errorf("with the right clock and the right code: %s", said)
	}
}
