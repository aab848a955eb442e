package reminding_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// planOf gives the one-off changes in force, a line each.
func planOf(s *shop.Settings) string {
	var list []string
	for _, ch := range s.Plan.Changes {
		line := string(ch.From) + " " + string(ch.To)
		for _, minutes := range []*int{ch.Open, ch.Close} {
			if minutes != nil {
				line += fmt.Sprintf(" at %d", *minutes)
			}
		}
		for word, is := range map[string]bool{" usual": ch.Usual, " closed": ch.Closed, " off": ch.Off} {
			if is {
				line += word
			}
		}
		if ch.Duty != (shop.Duty{}) || ch.Absent != 0 {
			line += fmt.Sprintf(" %d opens %d closes %d absent", ch.Duty.Opens, ch.Duty.Closes, ch.Absent)
		}
		list = append(list, fmt.Sprintf("%s by %d", line, ch.By))
	}
	return strings.Join(list, "; ")
}

// What a manager says is read back and laid down, and the others are told.
func TestShiftLaidDown(t *testing.T) {
	for said, want := range map[string]string{
		"closed 24 to 27 december":                  "2026-12-24 2026-12-27 closed by 1",
		"closing at 15:30 today":                    "2026-11-25 2026-11-25 at 930 by 1",
		"opening at 9 tomorrow":                     "2026-11-26 2026-11-26 at 540 by 1",
		"open as usual on friday":                   "2026-11-27 2026-11-27 usual by 1",
		"nobody comes on friday, machine stays off": "2026-11-27 2026-11-27 off by 1",
		"ben opens tomorrow":                        "2026-11-26 2026-11-26 2 opens 0 closes 0 absent by 1",
		"I close until friday":                      "2026-11-25 2026-11-27 0 opens 1 closes 0 absent by 1",
		"I'm ill tomorrow":                          "2026-11-26 2026-11-26 0 opens 0 closes 1 absent by 1",
	} {
		f := floor.New(t, dialogs.New)
		f.Says("owner", said)
		f.Expect(f.Taps("owner", "Confirm"), "Noted, 06:40.", "")
		if got := planOf(f.Last.Settings); got != want {
			t.Errorf("%q lays down %s, want %s", said, got, want)
		}
		if got := told(f.Last); strings.Count(got, ": ") < 2 {
			t.Errorf("%q: only told %s", said, got)
		}
	}
}

// Whoever has something to do now is told, managers by way of all managers.
func TestShiftTold(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("owner: ben opens tomorrow\nowner: [Confirm]")
	if got := told(f.Last); !strings.Contains(got, "managers: Ben opens Thu 26 Nov, says Ada.; Ben: Ben opens") {
		t.Errorf("told %s", got)
	}
	f.Shop.People[1].Deputy = true
	f.Play("owner: ben closes tomorrow\nowner: [Confirm]")
	if got := told(f.Last); strings.Contains(got, "; Ben:") {
		t.Errorf("told twice: %s", got)
	}
	f.Play("staff2: I'm ill\nstaff2: [Confirm]")
	r := f.Last.Replies[1]
	if !r.To.Managers || len(r.Buttons) != 2 || r.Buttons[1][1].Data != "o:duty:closes.20261125.2:1" {
		t.Errorf("who stands in: %+v", r)
	}
	f.LayDown()
	f.Shop.Plan.Changes = append(f.Shop.Plan.Changes, shop.Change{From: "2026-11-25", To: "2026-11-25",
		Absent: 2})
	f.Play("staff2: I'm ill\nstaff2: [Confirm]")
	if r := f.Last.Replies[1]; len(r.Buttons) != 1 {
		t.Errorf("somebody who is ill too is asked: %+v", r.Buttons)
	}
}

// A closed day ends the reminders that were sent about it, of yesterday and today.
func TestShiftEndsReminders(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("owner: closed today\nowner: [Confirm]")
	got := told(f.Last)
	for _, key := range []string{"due-2026-11-25-opening-1: Closed today, says Ada.",
		"due-2026-11-25-closing-1: Closed"} {
		if !strings.Contains(got, key) || strings.Contains(got, "due-2026-11-24") {
			t.Errorf("told %s", got)
		}
	}
	f.Play("owner: closed 2026-11-24 to 2026-11-26\nowner: [Confirm]")
	if got := told(f.Last); !strings.Contains(got, "due-2026-11-24-closing-1: Closed") ||
		!strings.Contains(got, "due-2026-11-25-opening-1: Closed") || strings.Contains(got, "due-2026-11-26") {
		t.Errorf("told %s", got)
	}
	f.Play("owner: closing at 15:00\nowner: [Confirm]")
	if got := told(f.Last); strings.Contains(got, "due-") {
		t.Errorf("an earlier closing ends %s", got)
	}
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.Expect(f.Says("owner", "closed today"), "The machine is open. Its closing is still to be recorded.", "")
	f.Chooses("owner", "cancel")
	f.Expect(f.Says("owner", "closed tomorrow"), "Closed Thu 26 Nov.", "still to be recorded")
}

// What only a manager may say is put to the managers, and lies down once one taps;
// whoever may not, or a button that was not made so, changes nothing.
func TestStaffAsk(t *testing.T) {
	for said, arg := range map[string]string{
		"closed 24 to 27 december":     "closed.20261224.20261227",
		"closing at 0:00 tomorrow":     "close-0.20261126.20261126",
		"opening at 9 tomorrow":        "open-540.20261126.20261126",
		"open as usual on friday":      "usual.20261127.20261127",
		"nobody comes, machine is off": "off.20261125.20261125",
	} {
		f := floor.New(t, dialogs.New)
		f.Expect(f.Says("staff1", said), "Only a manager can say this. I ask them for you.", "")
		f.Expect(f.Taps("staff1", "Confirm"), "I have asked your manager.", "Noted")
		r := f.Last.Replies[0]
		if f.Last.Settings != nil || !r.To.Managers || r.Buttons[0][0].Data != "o:say:"+arg+":1" ||
			r.Key != "say-"+arg {
			t.Errorf("%q asks %+v", said, r)
			continue
		}
		f.Press("staff1", r.Buttons[0][0])
		if f.Last.Settings != nil {
			t.Errorf("%q: staff lay it down by the managers' button", said)
		}
		f.Press("owner", r.Buttons[0][0])
		if f.Last.Settings == nil || !strings.Contains(told(f.Last), "say-"+arg+": ") {
			t.Errorf("%q by a manager: %s", said, told(f.Last))
		}
	}
	f := floor.New(t, dialogs.New)
	for _, data := range []string{"say:closed.20261224", "say:closed.2026122x.20261227",
		"say:closed.20261227.20261224",
		"say:closed.20261224.x", "say:party.20261224.20261224", "say:open-1440.20261126.20261126",
		"say:open-x.20261126.20261126", "say:close-1441.20261126.20261126", "say:close--1.20261126.20261126",
		"usual:tomorrow", "duty:opens.20261125", "duty:sweeps.20261125.2", "duty:opens.x.2",
		"duty:opens.20261125.77",
		"duty:opens.20261125.x", "closed:closing.20261125"} {
		f.Expect(f.Press("owner", chat.Button{Data: "o:" + data}), "That button does not work any more.", "")
		if f.Last.Settings != nil {
			t.Errorf("%q lays down %s", data, planOf(f.Last.Settings))
		}
	}
	f.Press("owner", chat.Button{Data: "o:say:close-1440.20261126.20261126"})
	if got := planOf(f.Last.Settings); got != "2026-11-26 2026-11-26 at 1440 by 1" {
		t.Errorf("midnight at the end of a day: %s", got)
	}
}

// Buttons of reminders and of who is ill lay a change down for a manager only.
func TestPlanTaps(t *testing.T) {
	for data, want := range map[string]string{
		"closed:closing.20261125.1": "2026-11-25 2026-11-25 closed by 1",
		"usual:20261225":            "2026-12-25 2026-12-25 usual by 1",
		"duty:opens.20261125.2":     "2026-11-25 2026-11-25 2 opens 0 closes 0 absent by 1",
		"duty:closes.20261125.3":    "2026-11-25 2026-11-25 0 opens 3 closes 0 absent by 1",
	} {
		f := floor.New(t, dialogs.New)
		f.Expect(f.Press("staff1", chat.Button{Data: "o:" + data}), "Only a manager can do this.", "")
		if f.Last.Settings != nil {
			t.Errorf("%s by staff", data)
		}
		f.Press("owner", chat.Button{Data: "o:" + data})
		if got := planOf(f.Last.Settings); got != want {
			t.Errorf("%s lays down %s, want %s", data, got, want)
		}
		eve := "due-2026-12-24-holiday-1: Open as usual Fri 25 Dec, says Ada."
		if strings.Contains(told(f.Last), eve) != strings.HasPrefix(data, "usual") {
			t.Errorf("%s: told %s", data, told(f.Last))
		}
	}
}

// A change that waits for a yes gives way to a new one with a word, also to one
// that is not understood; other dialogs are not begun over it.
func TestShiftInstead(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "closed today")
	f.Expect(f.Says("owner", "closed tomorrow"),
		"Not noted, because you wrote a new one: Closed today.|Closed Thu 26 Nov.", "")
	f.Expect(f.Says("owner", "hours"), "Leave", "Mon-Sun")
	f.Taps("owner", "Go on")
	f.Expect(f.Says("owner", "closed 31 february"),
		"did not keep the one before: Closed Thu 26 Nov.|On which days?", "[Confirm]")
	if f.State("owner").Flow != "" {
		t.Errorf("still waits in %q", f.State("owner").Flow)
	}
	f.Expect(f.Says("owner", "closing at 25"), "When, and on which day?", "the one before")
	f.Expect(f.Says("owner", "closed 2026-11-24"), "That day is over.", "[Confirm]")
	f.Expect(f.Says("owner", "zoe opens today"), "", "[Confirm]")
	f.Expect(f.Says("owner", "closed 2026-11-25"), "[Confirm]", "over")
}

// Two months and a day are asked back once, two months are not.
func TestLongShift(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("owner", "closed 1 december to 31 january"), "[Confirm]", "days, until") // 31 + 31 days
	f.Chooses("owner", "cancel")
	f.Expect(f.Says("owner", "closed 1 december to 1 february"),
		"These are 63 days, until Mon 1 Feb 2027.", "[Confirm]")
	f.Chooses("owner", "confirm")
	if f.Last.Settings != nil {
		t.Error("laid down without a look")
	}
	f.Taps("owner", "Yes, 63 days")
	if f.Taps("owner", "Confirm"); planOf(f.Last.Settings) != "2026-12-01 2027-02-01 closed by 1" {
		t.Errorf("laid down %s", planOf(f.Last.Settings))
	}
}

// Of two people whose names begin alike the longer name is meant.
func TestLongerName(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.People = append(f.Shop.People, shop.Person{ID: 4, Name: "Ben Two", Role: shop.Staff})
	f.Expect(f.Says("owner", "ben two opens tomorrow"), "Ben Two opens Thu 26 Nov.", "")
	f.Chooses("owner", "cancel")
	f.Expect(f.Says("owner", "BEN opens tomorrow"), "Ben opens Thu 26 Nov.", "Two")
	f.Chooses("owner", "cancel")
	f.Expect(f.Says("staff1", "I opened tomorrow"), "", "[Confirm]")
}

// A manager says that the machine must not be loaded; nobody loads it, everybody
// is told, and a manager lifts it.
func TestHold(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("staff1", "do not load"), "Only a manager can do this.", "[Confirm]")
	f.Expect(f.Says("owner", "do not load until friday, "+strings.Repeat("x", 121)), "fewer words", "[Confirm]")
	f.Expect(f.Says("owner", "do not load"), "Do not load the machine.\n  Said by Ada.", "Why:")
	f.Expect(f.Says("owner", "hours"), "Leave", "Mon-Sun")
	f.Taps("owner", "Leave")
	f.Expect(f.Says("owner", "do not load police, warning."),
		"Do not load the machine.\n  Why: “police, warning”", "")
	f.Chooses("owner", "cancel")
	f.Expect(f.Says("owner", "do not load until friday, "+strings.Repeat("x", 120)),
		"Do not load the machine until Fri 27 Nov.|Why: “x", "")
	f.Expect(f.Taps("owner", "Confirm"), "Recorded, 06:40. Everybody is told.", "")
	if h := f.Last.Settings.Plan.Hold; h == nil || h.Until != "2026-11-27" || h.By != 1 || !h.At.Equal(f.Now) {
		t.Fatalf("laid down %+v", h)
	}
	if got := told(f.Last); strings.Count(got, "Do not load") != 2 || strings.Contains(got, "Ada: ") {
		t.Errorf("told %s", got)
	}
	f.LayDown()
	f.Expect(f.Says("staff1", "open 40 150 200"), "Do not load the machine until Fri 27 Nov.", "[Confirm]")
	f.Expect(f.Says("owner", "hours"), "Do not load the machine until Fri 27 Nov.", "")
	f.Says("owner", "cancel")
	f.Expect(f.Says("owner", "lift"), "Lift it, so that the machine may be loaded again?|[Lift it]", "")
	f.Expect(f.Press("staff1", chat.Button{Data: "o:lift:hold"}), "", "Lifted")
	f.Expect(f.Taps("owner", "Lift it"), "Lifted. The machine may be loaded again.", "")
	if f.Last.Settings == nil || f.Last.Settings.Plan.Hold != nil ||
		strings.Count(told(f.Last), "says Ada") != 2 {
		t.Errorf("told %s", told(f.Last))
	}
	f.LayDown()
	f.Taps("owner", "Lift it")
	if f.Last.Settings != nil || len(f.Last.Replies) != 1 {
		t.Errorf("lifted twice: %s", told(f.Last))
	}
	f.Expect(f.Says("owner", "lift"), "There is nothing to lift.", "")
	f.Says("owner", "do not load")
	f.Shop.People[0].Role = shop.Staff
	f.Expect(f.Taps("owner", "Confirm"), "Only a manager can do this.", "Recorded")
}

// While the machine must not be loaded its opening is not asked for: once a day the
// list is told why, and on the last day the managers are asked whether to lift it.
func TestHoldReminds(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Plan.Hold = &shop.Hold{Until: "2026-11-26", By: 1}
	for _, x := range []struct{ now, told string }{
		{"2026-11-25 06:45", ""},
		{"2026-11-25 07:00",
			"Ben: Do not load the machine until Thu 26 Nov.; Cleo: Do not load the machine until Thu 26 Nov."},
		{"2026-11-25 07:20", ""},
		{"2026-11-25 07:45", ""},
		{"2026-11-26 06:45", "Ada: Do not load the machine until Thu 26 Nov."},
	} {
		f.At(x.now)
		res := remind(f, named(shop.DateOf(f.Now), "opening"), f.Now)
		if got := told(res); got != x.told {
			t.Errorf("at %s: told %q, want %q", x.now, got, x.told)
		}
		if strings.HasPrefix(x.told, "Ada") {
			f.Expect(res.Replies[0].Body[0].Text, "Its last day has come.", "Leave the notes")
		}
	}
	if f.State("staff1").Flow == engine.DoOpen {
		t.Error("begun")
	}
}
