package dialogs_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
)

// reminded plays the fault's or a task's deadline of the machine.
func (f *floor) reminded(name string) int {
	in := chat.Input{Kind: chat.Remind, Text: name, At: f.now, Due: f.now.Add(-time.Hour),
		Chat: chat.MachineChat(1)}
	facts := f.facts("staff1")
	facts.Person.ID = 0
	return len(f.engine.Step(chat.State{}, in, facts).Replies)
}

// Managers hear of a robbery at once; the speaker reads nothing of that.
func TestRobberyIsToldToManagers(t *testing.T) {
	f := newFloor(t)
	f.play(openDay)
	back := f.says("staff1", "man with a gun")
	own, told, ok := strings.Cut(back, "bot@others> ")
	if !ok || !strings.HasPrefix(told, "Robbery or threat, says Ben") || !strings.Contains(told, "[It is over]") ||
		!strings.Contains(told, "Ring 112") ||
		strings.Contains(own, "anager") {
		t.Fatalf("got\n%s", back)
	}
	if again := f.says("staff1", "he has a gun"); strings.Contains(again, "others") {
		t.Errorf("told twice:\n%s", again)
	}
}

// While it lasts nothing typed is answered by a question, and no routine
// reminder comes, also the next day; a manager ends that.
func TestRobberyHoldsTheRoutine(t *testing.T) {
	f := newFloor(t)
	f.play(openDay + "staff1: close\n")
	f.says("staff1", "man with a gun")
	for _, text := range []string{"hello", "40"} {
		if back := f.says("staff1", text); strings.Contains(back, "?") || !strings.Contains(back, "Do as told.") {
			t.Errorf("%q is answered with\n%s", text, back)
		}
	}
	f.at("2026-11-25 21:30")
	const closing = "due:2026-11-25:closing"
	if n := f.reminded(closing); n != 0 {
		t.Errorf("%d reminders", n)
	}
	if back := f.says("staff2", "close"); !strings.Contains(back, "A robbery is on record.") {
		t.Errorf("no caution:\n%s", back)
	}
	f.play("staff1: [It is over")
	if back := f.says("staff2", "status"); strings.Contains(back, "[Solved: Robbery") {
		t.Errorf("staff may say that it is over:\n%s", back)
	}
	f.says("owner", "status")
	f.taps("owner", "Solved: Robbery")
	if back := f.says("staff2", "close"); strings.Contains(back, "A robbery is on record.") {
		t.Errorf("still cautioned:\n%s", back)
	}
	if f.reminded(closing) == 0 {
		t.Error("the routine does not come back")
	}
}
