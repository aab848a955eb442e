package desk_test

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/store"
)

// When the file is gone in the middle of a count, nothing more is booked, and
// everybody hears what to do, out of memory alone; what waited and may be lost
// is not said any more.
func TestWithoutItsFile(t *testing.T) {
	o := real(t)
	o.say(staff1, "open 40 150 200")
	o.tap(staff1, "Confirm")
	o.clock = o.clock.Add(12 * time.Hour)
	o.say(staff1, "close")
	o.say(staff1, "12")
	o.take(o.raw(staff1, "60")) // the next question is durable, and not sent yet
	o.shown()
	ok(t, os.Remove(o.path))
	raw := o.raw(staff1, "80")
	notices, err := o.desk.Take(context.Background(), []desk.Raw{raw})
	var doubt *store.Doubt
	if !errors.As(err, &doubt) || len(notices) != 0 {
		t.Fatalf("%v, %v", notices, err)
	}
	_ = o.desk.Flush(context.Background(), &o.screen)
	o.wantShown(
		"term:owner I cannot write just now.\nshop.db was removed. What I confirmed before stands. "+
			"People write on paper; somebody must look at the computer.",
		"term:staff1 I cannot write just now.\nWrite on paper: close, 12, 60, 80, as you typed; Ben; 18:00.\n"+
			"Lock the safe. I tell you when I am back.",
	)
	// The chat server hands it in again, with a tap of somebody else and a stranger's words.
	tap := o.raw(staff2, "")
	tap.Input.Kind, tap.Input.Tap = chat.Press, "d:1:yes"
	notices, err = o.desk.Take(context.Background(), []desk.Raw{raw, tap, o.raw("term:stranger", "hello")})
	if err == nil || len(notices) != 1 || notices[0].Text != "I cannot write just now." {
		t.Errorf("%v, %v", notices, err)
	}
	_ = o.desk.Flush(context.Background(), &o.screen)
	if got := o.shown(); len(got) != 1 || !strings.HasPrefix(got[0], "term:staff2 I cannot write") {
		t.Errorf("said %q", got)
	}
	if told := o.desk.OnPaper(); len(told) != 3 {
		t.Errorf("to be told when it is over: %v", told)
	}
	name, err := o.db.Rescue(context.Background(), o.clock)
	ok(t, err)
	r, err := store.OpenReader(context.Background(), name)
	ok(t, err)
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(context.Background())
	ok(t, err)
	if len(reports) != 1 || reports[0].Entries != 1 || len(reports[0].Faults) > 0 {
		t.Errorf("rescued %+v", reports)
	}
}

// A full disk: people are told once, with what they typed, taps too; when there
// is room again they are told so and what they sent is handled.
func TestFullDisk(t *testing.T) {
	o := real(t)
	o.say(staff1, "open")
	o.shown()
	full := true
	fault := diskFull(t)
	o.db.Interpose(func(query string) error {
		if full && strings.HasPrefix(query, "INSERT") {
			return fault
		}
		return nil
	})
	typed := o.raw(staff1, "12")
	for range 3 { // the chat server hands it in until it is taken
		if _, err := o.desk.Take(context.Background(), []desk.Raw{typed}); err == nil {
			t.Fatal("it was taken")
		}
	}
	_ = o.desk.Flush(context.Background(), &o.screen)
	got := o.shown()
	if len(got) != 2 || !strings.Contains(got[0], "The disk is full") ||
		!strings.Contains(got[1], "open, 12, as you typed; Ben; 06:00") {
		t.Errorf("said %q", got)
	}
	full = false
	o.take(typed)
	o.flush()
	got = o.shown()
	if len(got) != 3 || !strings.HasPrefix(got[0], "term:staff1 Opening") ||
		!strings.Contains(got[1], "owner I am back") || !strings.Contains(got[2], "staff1 I am back") {
		t.Errorf("said %q", got)
	}
	if told := o.desk.OnPaper(); told != nil {
		t.Errorf("still on paper: %v", told)
	}
}

// diskFull is what SQLite says of a disk without room.
func diskFull(t *testing.T) error {
	t.Helper()
	db := plain(t, t.TempDir()+"/full.db")
	db.SetMaxOpenConns(1)
	_, err := db.Exec("CREATE TABLE t (a); PRAGMA max_page_count = 2; INSERT INTO t VALUES (zeroblob(100000))")
	if !store.DiskFault(err) {
		t.Fatalf("no fault of the disk: %v", err)
	}
	return err
}

// A personal code that is typed while nothing can be written is not said back.
func TestNoCodeOnPaper(t *testing.T) {
	o := newOffice(t)
	d := o.deskWith(func(s chat.State, in chat.Input, f chat.Facts) chat.Result {
		r := step(s, in, f)
		r.State.Flow, r.State.Code = "code", true
		return r
	})
	_, err := d.Take(context.Background(), []desk.Raw{o.raw(staff1, "new code")})
	ok(t, err)
	ok(t, os.Remove(o.path))
	_, err = d.Take(context.Background(), []desk.Raw{o.raw(staff1, "7391")})
	if err == nil {
		t.Fatal("it was taken")
	}
	_ = d.Flush(context.Background(), &o.screen)
	got := strings.Join(o.shown(), "\n")
	if strings.Contains(got, "7391") || !strings.Contains(got, "Write on paper") {
		t.Errorf("said %q", got)
	}
}
