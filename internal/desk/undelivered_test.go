package desk_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// serves sends what waits, as the running program does, until something is said or
// nothing more comes, and gives what was said.
func (o *office) serves(until string) (all string) {
	o.t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- o.desk.Run(ctx, &o.screen, desk.Pace{}) }()
	most := 20 * time.Second
	if until == "" { // nothing is to be said
		most, until = time.Second, "?"
	}
	for end := time.Now().Add(most); !strings.Contains(all, until) && time.Now().Before(end); {
		time.Sleep(10 * time.Millisecond)
		all += strings.Join(o.shown(), "\n") + "\n"
	}
	stop()
	ok(o.t, <-ended)
	return all + strings.Join(o.shown(), "\n")
}

// A message that should have gone and could not is told to whoever wrote it: it can
// still be read there.
func TestNotDeletedIsTold(t *testing.T) {
	o := real(t)
	o.screen.fail = func(out desk.Out) error {
		if out.Reply.Delete != 0 {
			return desk.ErrRefused
		}
		return nil
	}
	raw := o.raw(staff1, "the safe combination is 71-83-95")
	raw.Input.Message = 7
	o.take(raw)
	const word = "I could not take your message away."
	if all := o.serves(word); !strings.Contains(all, string(staff1)+" "+word) || strings.Count(all, word) != 1 {
		t.Errorf("said %q", all)
	}
}

// A card that the chat server does not take is not dropped in silence: the person is
// told once that something was to be seen, and no telling of it goes round for ever.
func TestNotShownIsTold(t *testing.T) {
	o := real(t)
	o.screen.fail = func(out desk.Out) error {
		if len(out.Reply.Body) > 0 && !strings.HasPrefix(out.Reply.Body[0].Text, "One message for you") {
			return desk.ErrRefused
		}
		return nil
	}
	o.take(o.raw(staff1, "status"))
	const word = "One message for you could not be shown here."
	if all := o.serves(word); strings.Count(all, word) != 1 {
		t.Errorf("said %q", all)
	}
	o.screen.fail = func(out desk.Out) error { return desk.ErrRefused }
	o.take(o.raw(staff1, "status"))
	if all := o.serves(""); strings.TrimSpace(all) != "" {
		t.Errorf("said %q", all)
	}
}

// Whose chat takes no messages is shown where people are listed and where it is said
// who does what, until they write again.
func TestBlockedIsShown(t *testing.T) {
	o := real(t)
	tx, err := o.db.Begin(o.clock)
	ok(t, err)
	ok(t, tx.SetGone(staff1, true))
	ok(t, tx.Commit())
	shows := func(word string) string {
		o.shown()
		o.say(owner, word)
		return o.body()
	}
	for word, says := range map[string]string{"people": "messages do not arrive", "agenda": "do not reach Ben"} {
		if all := shows(word); !strings.Contains(all, says) {
			t.Errorf("%s: %s", word, all)
		}
		o.say(owner, "cancel")
	}
	o.say(staff1, "status")
	if all := shows("people"); strings.Contains(all, "do not arrive") {
		t.Errorf("after they wrote: %s", all)
	}
}

// body is the whole of the newest message.
func (o *office) body() string {
	var list []string
	for _, b := range o.outs[len(o.outs)-1].Reply.Body {
		list = append(list, b.Text)
	}
	return strings.Join(list, "\n")
}

// What is called like a command is taken for a name where a name is asked for.
func TestNamesThatAreCommands(t *testing.T) {
	for _, name := range []string{"Day", "Float", "Month", "Will Close", "Undo", "People"} {
		o := real(t)
		o.say(owner, "invite")
		o.say(owner, name)
		if all := o.body(); !strings.Contains(all, name) || len(o.outs[len(o.outs)-1].Reply.Buttons) < 4 {
			t.Errorf("%s: %s", name, all)
			continue
		}
		o.tap(owner, "Staff")
		o.say(chat.Chat("term:new"), "/start "+linkIn(t, o))
		o.say(owner, "people")
		if all := o.body(); !strings.Contains(all, name) {
			t.Errorf("%s is not among the people: %s", name, all)
		}
	}
	o := real(t)
	o.say(owner, "settings")
	o.tap(owner, "Change")
	o.tap(owner, "Machine")
	o.say(owner, "Other shop")
	if all := o.body(); !strings.Contains(all, "Other shop") {
		t.Errorf("a machine called so: %s", all)
	}
}
