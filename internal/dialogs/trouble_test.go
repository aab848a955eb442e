package dialogs_test

import (
	"regexp"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/guides"
)

const openDay = `
	@2026-11-25 06:40
	staff1: open 40 150 200
	staff1: [Confirm]
	staff1: [All done]
	staff1: [With]
`

// Whatever a guide tells people to write leads somewhere: to a guide of its
// own, or to a command.
func TestWhatGuidesTellToWrite(t *testing.T) {
	lib := floor.Guiding(t).Library
	quoted := regexp.MustCompile(`(?i)(?:ask|tell) me "([^"]+)"`)
	n := 0
	for _, id := range lib.IDs() {
		g, _ := lib.Guide(id)
		for _, s := range g.Steps {
			for _, l := range s.Lines {
				for _, m := range quoted.FindAllStringSubmatch(l.Text, -1) {
					n++
					f := newFloor(t)
					f.Play(openDay)
					back := f.Says("staff1", m[1])
					if strings.Contains(back, "nothing close") || strings.Contains(back, "Which of these") {
						t.Errorf("%s, step %s: %q is answered with\n%s", id, s.Name, m[1], back)
					}
					if w := f.States[floor.ChatOf("staff1")].Walk; w != nil && w.Guide == id {
						t.Errorf("%s, step %s: %q leads back to where it stands", id, s.Name, m[1])
					}
				}
			}
		}
	}
	if n < 10 {
		t.Fatalf("found only %d; the pattern no longer fits the guides", n)
	}
}

// Every guide can be walked to an end by its first choices, in the chat.
func TestEveryGuideEnds(t *testing.T) {
	for _, id := range guides.IDs() {
		f := newFloor(t)
		f.Step("staff1", chat.Input{Kind: chat.Press, Tap: "o:guide:ask." + id}, "asks")
		for steps := 0; f.States[floor.ChatOf("staff1")].Walk != nil; steps++ {
			if steps > 20 {
				t.Fatalf("%s does not end\n%s", id, f.Out.String())
			}
			b := f.Live[floor.ChatOf("staff1")][0]
			f.Step("staff1", chat.Input{Kind: chat.Press, Tap: b.Data}, "["+b.Label+"]")
		}
		if n := len(f.Machine.Faults); n != 1 ||
			f.Machine.Faults[0].Topic != id || f.Machine.Faults[0].Ending == "" {
			t.Errorf("%s is on record as %+v", id, f.Machine.Faults)
		}
	}
}

// Words of a robbery win in every dialog, free text and set-up among them, and
// while it lasts nothing is asked.
func TestRobberyWinsOverEverything(t *testing.T) {
	for _, before := range []string{
		"", "staff1: close", "staff1: close 12 60 80", "staff1: test", "staff1: visit\nstaff1: [Announced]",
		"staff1: guides; [Notes are",
		"staff1: earlier",
	} {
		f := newFloor(t)
		f.Play(openDay + before)
		st := f.States[floor.ChatOf("staff1")]
		back := f.Says("staff1", "there is a man with a gun in the shop")
		if !strings.HasPrefix(back, "bot> Robbery or threat\n  Do as told.") || strings.Contains(back, "?") ||
			strings.Count(back, "bot> ") != 1 {
			t.Errorf("after %q:\n%s", before, back)
		}
		if now := f.States[floor.ChatOf("staff1")]; now.Flow != st.Flow || now.Step != st.Step {
			t.Errorf("after %q the dialog is %s/%s, was %s/%s", before, now.Flow, now.Step, st.Flow, st.Step)
		}
	}
}

// A message that is dropped unread because it holds a combination still calls
// for help.
func TestRobberyBehindACombination(t *testing.T) {
	f := newFloor(t)
	for text, want := range map[string]bool{
		"he has a knife, the code of the safe is 12-34-56": true, "we were robbed": true, "HOLD UP": true,
		"gunther says 40 150 200": false, "the begun count": false, "12-34-56": false, "printed 7000": false,
	} {
		if guides.Danger(text) != want {
			t.Errorf("%q: %t", text, !want)
		}
	}
	back := f.Step("staff1", chat.Input{Kind: chat.Secret, Text: chat.Robbery}, "(dropped)")
	if !strings.Contains(back, "Do as told.") {
		t.Errorf("answered with\n%s", back)
	}
}

// On the phone on the counter nobody is asked who they are before a guide helps.
func TestGuideOnTheSharedPhone(t *testing.T) {
	f := newFloor(t)
	facts := f.Facts("staff1")
	facts.Shared = true
	in := chat.Input{Kind: chat.Text, Text: "notes are stuck", Chat: floor.ChatOf("staff1"), At: f.Now}
	res := f.Engine.Step(chat.State{}, in, facts)
	if in.Text = "stopped"; res.State.Walk == nil || len(res.Records) != 0 {
		t.Errorf("words alone gave %+v", res)
	}
	res = f.Engine.Step(res.State, in, facts)
	if res.State.Walk == nil || res.State.Held != nil || len(res.Records) == 0 ||
		!res.Records[0].Has(books.SharedPhone) {
		t.Errorf("got %+v", res)
	}
}

// Another person's count is not overtaken by somebody's guide.
func TestGuideDoesNotOvertake(t *testing.T) {
	f := newFloor(t)
	f.Play(openDay + `
		staff1: close 12 60 80
		staff1: none
		staff2: guides; [The machine has
		staff2: [No lights]
	`)
	if back := f.Play("staff1: [Confirm]"); !strings.Contains(back, "Count in") {
		t.Errorf("the count was held up:\n%s", back)
	}
}

// Counts and commands are what they were before there were guides.
func TestCommandsAreNoQuestions(t *testing.T) {
	for text, flow := range map[string]string{
		"test": "test", "test 1 1 1": "test", "close": "close", "top up 20x50": "topup", "move from bank": "move",
		"found 2x20": "found",
		"level":      "level",
	} {
		f := newFloor(t)
		f.Play(openDay)
		f.Says("staff1", text)
		if st := f.States[floor.ChatOf("staff1")]; st.Flow != flow || st.Walk != nil {
			t.Errorf("%q leads to %q, guide %+v", text, st.Flow, st.Walk)
		}
	}
	for text, guide := range map[string]string{
		"test failed": "test-failed", "open the safe wont open": "safe-lock",
	} {
		f := newFloor(t)
		f.Says("staff1", text)
		if w := f.States[floor.ChatOf("staff1")].Walk; w == nil || w.Guide != guide {
			t.Errorf("%q leads to %+v, want %s", text, w, guide)
		}
	}
	back := newFloor(t).Says("staff1", "stop the machine is smoking")
	if !strings.HasPrefix(back, "bot> Fire, smoke or gas") {
		t.Errorf("smoke:\n%s", back)
	}
}

// Whoever goes on to another guide does not close a fault that somebody else is
// at, or one that is known to need help.
func TestLeavingAGuideLeavesTheFault(t *testing.T) {
	f := newFloor(t)
	f.Play(`
		staff1: guides; [Notes are
		staff2: guides; [Notes are
		staff2: guides; [The machine has
	`)
	if len(f.Machine.Faults) != 2 || !f.Machine.Faults[0].Unsolved() {
		t.Fatalf("got %+v", f.Machine.Faults)
	}
	f = newFloor(t)
	f.Play(`
		staff1: guides; [Notes are
		staff1: [Smoke]
		staff1: guides; [Notes are
		staff1: guides; [The machine has
	`)
	if len(f.Machine.Faults) != 2 || f.Machine.Faults[0].Ending != books.OutOfService ||
		f.Machine.Faults[0].Out.IsZero() {
		t.Fatalf("got %+v", f.Machine.Faults)
	}
}

// What is asked for in other words than a command's own is shown at once where it
// only tells; where it records, or is not clear, it is offered.
func TestPlainSentencesAreUnderstood(t *testing.T) {
	for _, c := range []struct{ who, says, want string }{
		{"staff1", "ok what do i do now", "[All done]"},
		{"owner", "what does the bank owe us", "bank"},
		{"owner", "sorry to bother you but how did we do last friday", "20 Nov"},
		{"staff1", "added another 50 twenties", "50 notes  €1,000"},
	} {
		f := newFloor(t)
		f.Play(openDay)
		n := len(f.Entries)
		if back := f.Says(c.who, c.says); !strings.Contains(back, c.want) || len(f.Entries) != n {
			t.Errorf("%q: want %q in\n%s", c.says, c.want, back)
		}
	}
}

// A text with numbers starts no guide while a count is open.
func TestNumbersStartNoGuide(t *testing.T) {
	for _, text := range []string{"150 then 200", "about 150 and 200", "wait one of the 50s was 13"} {
		f := newFloor(t)
		f.Says("staff1", "open")
		n := len(f.Entries)
		back := f.Says("staff1", text)
		if w := f.States[floor.ChatOf("staff1")].Walk; w != nil || len(f.Entries) != n {
			t.Errorf("%q leads to %+v:\n%s", text, w, back)
		}
	}
}
