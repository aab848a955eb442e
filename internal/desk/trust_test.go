package desk_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// chooses sets a personal code, as people do on their own phone.
func (o *office) chooses(where chat.Chat, code string) {
	o.t.Helper()
	o.say(where, "my code")
	o.say(where, code)
	o.say(where, code)
}

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
	o.chooses(staff1, "83927164")
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
	// the code is taken; the card is of another day by now, so it is shown anew first
	if said := guess("83927164"); !strings.Contains(said, "Opening of ") {
		t.Errorf("with the right clock and the right code: %s", said)
	}
}

// told gives what was sent besides answers to the chat that spoke.
func told(o *office, spoke chat.Chat) (list []string) {
	for _, line := range o.shown() {
		if !strings.HasPrefix(line, string(spoke)+" ") {
			list = append(list, line)
		}
	}
	return list
}

// wantTold says who must have heard what, by the beginning of a line and something in it.
func wantTold(t *testing.T, what string, lines []string, want map[chat.Chat]string) {
	t.Helper()
	for where, part := range want {
		found := false
		for _, line := range lines {
			found = found || strings.HasPrefix(line, string(where)+" ") && strings.Contains(line, part)
		}
		if !found {
			t.Errorf("%s: %s did not hear %q: %q", what, where, part, lines)
		}
	}
}

// Whatever gives a manager power over the name of another is told to that person
// and to the owner, by whatever card it is done.
func TestPowerIsTold(t *testing.T) {
	const manager, cy = staff1, staff2
	o := real(t)
	o.say(owner, "people")
	for _, l := range []string{"Ben", "Change role", "Manager"} {
		o.tap(owner, l)
	}
	pick := func(labels ...string) []string {
		o.say(manager, "people")
		o.tap(manager, "Cleo")
		o.shown()
		for _, l := range labels {
			o.tap(manager, l)
		}
		return told(o, manager)
	}
	wantTold(t, "may sign", pick("May sign here"), map[chat.Chat]string{cy: "you may sign",
		owner: "lets Cleo sign"})
	wantTold(t, "void", pick("Code is void"), map[chat.Chat]string{cy: "your personal code void",
		owner: "code of Cleo void"})
	wantTold(t, "phone", pick("New phone"), map[chat.Chat]string{cy: "made a link", owner: "new phone of Cleo"})
	code := linkIn(t, o)
	wantTold(t, "deputy", pick("Stands in"), map[chat.Chat]string{cy: "stand in", owner: "lets Cleo stand in"})
	wantTold(t, "share", pick("It is the shared"), map[chat.Chat]string{cy: "several people",
		owner: "several people"})
	o.say("term:second", "/start "+code)
	wantTold(t, "takes over", o.shown(), map[chat.Chat]string{cy: "Another phone speaks for Cleo",
		owner: "new phone", manager: "in now"})
}

// Five guesses are told to the person and to who manages, and a new code ends the lock.
func TestGuessingIsTold(t *testing.T) {
	o := real(t)
	o.chooses(staff1, "83927164")
	o.exec("UPDATE account SET shared = 1 WHERE chat = '" + string(staff2) + "'")
	o.restart()
	o.speak()
	guess := func(code string) []string {
		o.say(staff2, "open 40 150 200")
		o.tap(staff2, "Confirm")
		o.tap(staff2, "Ben")
		o.shown()
		o.say(staff2, code)
		return o.shown()
	}
	for n := 1; n <= 12; n++ {
		lines := guess("11223344")
		heard := strings.Contains(strings.Join(lines, "\n"), "five times")
		if heard != (n == 5) {
			t.Errorf("guess %d: %q", n, lines)
		}
		if n == 5 {
			wantTold(t, "lock", lines, map[chat.Chat]string{staff1: "for you", owner: "for Ben"})
		}
	}
	o.chooses(staff1, "27164839")
	if said := strings.Join(guess("27164839"), "\n"); !strings.Contains(said, "Jan recorded") {
		t.Errorf("with a new code: %s", said)
	}
}

// A chat that takes no messages is told to those who manage, once.
func TestBlockedIsToldOnce(t *testing.T) {
	o := real(t)
	o.screen.fail = func(out desk.Out) error {
		if out.Chat == staff1 {
			return desk.ErrGone
		}
		return nil
	}
	o.take(o.raw(staff1, "help"), o.raw(staff1, "status"), o.raw(staff1, "help")) // each is answered
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- o.desk.Run(ctx, &o.screen, desk.Pace{}) }()
	var heard []string
	for end := time.Now().Add(20 * time.Second); len(heard) == 0 && time.Now().Before(end); {
		time.Sleep(10 * time.Millisecond)
		heard = append(heard, o.shown()...)
	}
	stop()
	ok(t, <-ended)
	heard = append(heard, o.shown()...)
	if len(heard) != 1 || !strings.HasPrefix(heard[0], string(owner)+" Messages for Ben do not arrive") {
		t.Errorf("heard %q", heard)
	}
}

// A record in the name of another is not written from a phone that is one's own,
// whatever a dialog orders, and from a frozen account nothing is.
func TestNobodySignsForAnother(t *testing.T) {
	o := newOffice(t)
	as := func(_ chat.State, in chat.Input, f chat.Facts) chat.Result {
		r := books.Record{Kind: books.Opening, Happened: in.At, Figures: []books.Figure{
			{Field: books.Loaded, Box: 1, Face: "50", Notes: 1}, {Field: books.Loaded, Box: 2, Face: "20", Notes: 1},
			{Field: books.Loaded, Box: 3, Face: "10", Notes: 1}}}
		return chat.Result{State: chat.State{V: chat.StateFormat}, Records: []books.Record{r},
			Orders: chat.Orders{As: 3}}
	}
	o.desk = o.deskWith(as)
	for range 3 {
		o.take(o.raw(staff1, "as Cleo"))
	}
	if n := o.ask("SELECT count(*) FROM entry"); n != "0" {
		t.Errorf("%s records in the name of another", n)
	}
	o.exec("UPDATE account SET shared = 1, frozen = 1 WHERE chat = '" + string(staff1) + "'")
	o.restart()
	o.desk = o.deskWith(as)
	o.take(o.raw(staff1, "as Cleo, frozen"))
	if n := o.ask("SELECT count(*) FROM entry"); n != "0" {
		t.Errorf("%s records from a frozen account", n)
	}
	o.exec("UPDATE account SET frozen = 0 WHERE chat = '" + string(staff1) + "'")
	o.restart()
	o.desk = o.deskWith(as)
	o.take(o.raw(staff1, "as Cleo, on the shared phone"))
	if n := o.ask("SELECT count(*) FROM entry WHERE by_person = 3"); n != "1" {
		t.Errorf("%s records on the shared phone: the test tries the wrong thing", n)
	}
}
