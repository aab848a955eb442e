package desk_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
	"shopfloat/internal/workbook"
)

// real makes an office with the program's own dialogs.
func real(t *testing.T) *office {
	t.Helper()
	o := newOffice(t)
	o.speak()
	return o
}

// speak puts the program's dialogs behind the desk, as after a start.
func (o *office) speak() {
	o.t.Helper()
	cat, err := texts.Load()
	ok(o.t, err)
	rooms := dialogs.New(cat).Guide(floor.Guiding(o.t))
	rooms.Book = workbook.Write
	o.desk = desk.New(
		desk.Options{Store: o.db, Step: rooms.Step,
			Random: rand.NewChaCha8([32]byte{7, byte(o.keys), byte(o.keys >> 8)}),
			Now:    func() time.Time { return o.clock }, Event: trust.Teller{Texts: cat}.Event},
	)
}

// tap taps the newest button of a chat whose label begins so.
func (o *office) tap(where chat.Chat, label string) {
	o.t.Helper()
	for i := len(o.outs) - 1; i >= 0; i-- {
		for _, row := range o.outs[i].Reply.Buttons {
			for _, b := range row {
				if o.outs[i].Chat == where && strings.HasPrefix(b.Label, label) {
					raw := o.raw(where, "")
					raw.Input.Kind, raw.Input.Tap = chat.Press, b.Data
					o.take(raw)
					o.flush()
					return
				}
			}
		}
	}
	o.t.Fatalf("%s has no button %q", where, label)
}

// holds says whether any file of the store holds a text.
func (o *office) holds(secret string) bool {
	for _, name := range []string{o.path, o.path + "-wal", o.path + "-journal"} {
		if data, err := os.ReadFile(name); err == nil && bytes.Contains(data, []byte(secret)) {
			return true
		}
	}
	return false
}

// A version of the settings names who laid it down, whatever it is about.
func TestWhoLaidItDown(t *testing.T) {
	const by = "SELECT coalesce(json_extract(body, '$.by'), 0) FROM settings ORDER BY version DESC LIMIT 1"
	o := real(t)
	if who := o.ask(by); who != "0" {
		t.Fatalf("the example is laid down by %s, not by the program", who)
	}
	o.say(owner, "hours mon-fri 8:00-18:00")
	o.flush()
	o.tap(owner, "Confirm")
	who, want := o.ask(by), o.ask("SELECT person FROM account WHERE chat = '"+string(owner)+"'")
	if who != want {
		t.Errorf("hours laid down by %s, want %s", who, want)
	}
}

// What must never reach the file does not, not even on its way through the
// inbox: before anything else after a start, behind a message that fails, and
// on the usual way.
func TestSecretsStayOut(t *testing.T) {
	o := real(t)
	o.take(
		o.raw(owner, "the safe combination is 71-83-95"),
		o.raw(staff1, "open 40 150 200"),
		o.raw(staff1, "my pin is 90817263"),
	)
	o.say(owner, "alarm code 55667788, please note")
	o.say("term:stranger", "/start Zm9vYmFyZm9vYmFyZm9vYg")
	o.say(owner, "/start cXV4cXV4cXV4cXV4cXV4cQ")
	o.chooses(staff2, "83927164")
	photo := o.raw(owner, "combination 31-41-59")
	photo.Input.Kind = chat.Picture
	o.take(photo)
	for _, secret := range []string{
		"71-83-95", "90817263", "55667788", "Zm9vYmFyZm9vYmFyZm9vYg", "cXV4cXV4cXV4cXV4cXV4cQ", "83927164",
		"31-41-59",
	} {
		if o.holds(secret) {
			t.Errorf("the file holds %q", secret)
		}
	}
	if n := o.ask("SELECT count(*) FROM person WHERE pin IS NOT NULL"); n != "1" {
		t.Errorf("%s personal codes are kept, want 1", n)
	}
	if n := o.ask("SELECT count(*) FROM inbox WHERE hash IS NOT NULL"); n != "2" { // "open", "my code"
		t.Errorf("%s of the messages left a hash; of a short secret it would tell", n)
	}
	found := false
	for _, line := range o.shown() {
		found = found || strings.HasPrefix(line, "term:owner That looked like a safe combination")
	}
	if !found {
		t.Error("nobody was told")
	}
}

// Somebody is removed while a message waits for them and a dialog is open:
// nothing more goes out than that they are, also after a restart, and their
// links are void.
func TestRemovedIsCutOff(t *testing.T) {
	o := real(t)
	o.say(owner, "people")
	o.tap(owner, "Ben")
	o.tap(owner, "Change role")
	o.tap(owner, "Manager")
	o.say(staff1, "invite Max")
	o.tap(staff1, "Staff")
	code := linkIn(t, o)
	o.say(staff1, "open 40 150 200")
	o.say(owner, "people")
	o.tap(owner, "Ben")
	o.tap(owner, "No longer")
	o.take(o.raw(staff1, "status"), o.raw(staff1, "help")) // the answers wait
	o.shown()
	o.tap(owner, "Yes, remove")
	for _, line := range o.shown() {
		if strings.HasPrefix(line, string(staff1)) && !strings.Contains(line, "You are no longer part of") {
			t.Errorf("sent after the removal: %q", line)
		}
	}
	ok(t, o.db.Close())
	o.start()
	o.speak()
	o.flush()
	o.wantShown()
	o.say(staff1, "status")
	o.wantShown("term:staff1 Sorry, I can't help here.")
	o.say("term:max", "/start "+code)
	o.wantShown("term:max Sorry, I can't help here.")
	if s := o.state(staff1); s.Flow != "" {
		t.Errorf("a dialog is still open: %+v", s)
	}
}

// What somebody was answered in the commit that cuts them off does not go out;
// what others were answered before and after does.
func TestCutOffInTheSameCommit(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "good morning") // what comes first after a start is handled chat by chat
	o.shown()
	o.take(o.raw(owner, "hi"), o.raw(staff1, "hi"), o.raw(owner, "freeze"), o.raw(owner, "hello"))
	o.flush()
	o.wantShown("term:owner hi!", "term:owner freeze!", "term:owner hello!")
}

func linkIn(t *testing.T, o *office) string {
	t.Helper()
	for i := len(o.outs) - 1; i >= 0; i-- {
		for _, b := range o.outs[i].Reply.Body {
			if code, found := strings.CutPrefix(b.Text, "start="); found {
				return code
			}
		}
	}
	t.Fatal("no link was sent")
	return ""
}

// A link works until it expires and not a moment longer, and however many bad
// ones were opened before: they are not found by guessing.
func TestLinksExpire(t *testing.T) {
	o := real(t)
	o.say(owner, "invite Max")
	o.tap(owner, "Staff")
	code := linkIn(t, o)
	for i := range 12 {
		o.say("term:newcomer", fmt.Sprintf("/start AAAAAAAAAAAAAAAAAAAA%02d", i))
	}
	o.shown()
	o.say("term:newcomer", "/start "+code)
	if lines := o.shown(); len(lines) == 0 || !strings.HasPrefix(lines[0], "term:newcomer Welcome, Max.") {
		t.Errorf("after twelve bad links a good one: %q", lines)
	}
	for _, c := range []struct {
		name, begins string
		early        time.Duration
	}{{"Mia", "Welcome, Mia.", time.Millisecond}, {"Moe", "This link is too old, or was taken back.", 0}} {
		o.say(owner, "invite "+c.name)
		o.tap(owner, "Staff")
		code = linkIn(t, o)
		o.clock = o.clock.Add(48*time.Hour - c.early)
		o.shown()
		where := chat.Chat("term:" + c.name)
		o.say(where, "/start "+code)
		if lines := o.shown(); len(lines) == 0 || !strings.HasPrefix(lines[0], string(where)+" "+c.begins) {
			t.Errorf("%s earlier: %q", c.early, lines)
		}
	}
	o.verify(0)
}

// Two chats open one link at the same time: one gets in.
func TestOneLinkTwoChats(t *testing.T) {
	o := real(t)
	o.say(owner, "invite Max")
	o.tap(owner, "Staff")
	code := linkIn(t, o)
	_, err := o.desk.Take(
		context.Background(),
		[]desk.Raw{o.raw("term:a", "/start "+code), o.raw("term:b", "/start "+code)},
	)
	ok(t, err)
	o.shown()
	o.flush()
	welcome := 0
	for _, line := range o.shown() {
		if strings.Contains(line, "Welcome, Max.") {
			welcome++
		}
	}
	if welcome != 1 {
		t.Errorf("%d got in", welcome)
	}
}
