package dialogs_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
)

// reminded plays the fault's or a task's deadline of the machine.
func reminded(f *floor.Floor, name string) int {
	in := chat.Input{
		Kind: chat.Remind,
		Text: name,
		At:   f.Now,
		Due:  f.Now.Add(-time.Hour),
		Chat: chat.MachineChat(1),
	}
	facts := f.Facts("staff1")
	facts.Person.ID = 0
	return len(f.Engine.Step(chat.State{}, in, facts).Replies)
}

// Managers hear of a robbery at once; the speaker reads nothing of that.
func TestRobberyIsToldToManagers(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay)
	back := f.Says("staff1", "man with a gun")
	own, told, ok := strings.Cut(back, "bot@others> ")
	if !ok || !strings.HasPrefix(told, "Please look now: Ben wrote at 06:40.\n") ||
		!strings.Contains(told, "[It is over]") ||
		!strings.Contains(told, "Ring 112") ||
		strings.Contains(own, "anager") {
		t.Fatalf("got\n%s", back)
	}
	if again := f.Says("staff1", "he has a gun"); strings.Contains(again, "others") {
		t.Errorf("told twice:\n%s", again)
	}
}

// While it lasts nothing typed is answered by a question, and for an hour no
// routine reminder comes; a manager ends it.
func TestRobberyHoldsTheRoutine(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay + "staff1: close\n")
	f.At("2026-11-25 20:50")
	f.Says("staff1", "man with a gun")
	for _, text := range []string{"hello", "40"} {
		if back := f.Says("staff1", text); strings.Contains(back, "?") || !strings.Contains(back, "Do as told.") {
			t.Errorf("%q is answered with\n%s", text, back)
		}
	}
	f.At("2026-11-25 21:30")
	const closing = "due:2026-11-25:closing"
	if n := reminded(f, closing); n != 0 {
		t.Errorf("%d reminders", n)
	}
	f.At("2026-11-25 21:55")
	if reminded(f, closing) == 0 {
		t.Error("no reminder after an hour, when nobody said that it is over")
	}
	if back := f.Says("staff2", "close"); !strings.Contains(back, "A robbery is on record.") {
		t.Errorf("no caution:\n%s", back)
	}
	f.Play("staff1: [It is over")
	if back := f.Says("staff2", "status"); strings.Contains(back, "[Solved: Robbery") {
		t.Errorf("staff may say that it is over:\n%s", back)
	}
	f.Says("owner", "status")
	f.Taps("owner", "Solved: Robbery")
	if back := f.Says("staff2", "close"); strings.Contains(back, "A robbery is on record.") {
		t.Errorf("still cautioned:\n%s", back)
	}
}

// It ends by saying so, in any words, of whoever spoke of it; and a false alarm is
// one on record, told to those who were told of it.
func TestRobberyEndsByWords(t *testing.T) {
	for _, text := range []string{"we are safe", "it's over", "they left, we are all ok"} {
		f := newFloor(t)
		f.Play(openDay)
		f.Says("staff1", "hello there is a man with a knife")
		if back := f.Says("staff1", text); !strings.Contains(back, "Lock the door") ||
			!strings.Contains(back, "bot@others> Ben says: it is over") {
			t.Errorf("%q:\n%s", text, back)
		}
	}
	f := newFloor(t)
	f.Play(openDay)
	f.Says("staff1", "its a stick up")
	back := f.Says("staff1", "sorry, false alarm")
	if !strings.Contains(back, "a false alarm, nothing happened") || !strings.Contains(back, "mistake") {
		t.Errorf("a false alarm:\n%s", back)
	}
	if f.Machine.Faults[0].Unsolved() {
		t.Error("it stays on the list")
	}
	if back := f.Says("staff1", "its over"); strings.Contains(back, "others") {
		t.Errorf("over without a danger:\n%s", back)
	}
}

// Word of a robbery or of somebody hurt waits behind nothing, in no chat; an
// everyday answer does.
func TestAlarmsAreUrgent(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay)
	for said, urgent := range map[string]bool{"man with a gun": true, "my finger is stuck": true,
		"status": false} {
		res := f.Does("staff1", chat.Input{Kind: chat.Text, Text: said, At: f.Now})
		for _, r := range res.Replies {
			if r.Urgent != urgent {
				t.Errorf("%s: urgent %v: %+v", said, r.Urgent, r.Body)
			}
		}
		if len(res.Replies) == 0 {
			t.Errorf("%s: no answer", said)
		}
	}
}
