package reminding_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
)

// A reminder can be put off, three times a day; meanwhile the list is left alone,
// a manager's turn is not.
func TestPutOff(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 07:00")
	opening := reminders.Name{Date: wednesday, Task: reminders.Opening}
	later := func(minutes string) chat.Button {
		return chat.Button{Data: "o:later:opening.20261125.1." + minutes}
	}
	f.Expect(f.Press("staff1", later("15")), "I ask again at 07:15.|[Start opening]", "[In 15 minutes]")
	first := opening
	first.Later, first.For = 1, 2
	if got := planned(f, f.Last, first.String()) + ", " + planned(f, f.Last, opening.String()); got !=
		"2026-11-25 07:15, 2026-11-25 07:20" {
		t.Errorf("planned %s", got)
	}
	f.Press("staff1", later("60")) // beyond the list's rung at 07:20 and the owner's at 07:45
	first.Later = 2
	if got := planned(f, f.Last, first.String()) + ", " + planned(f, f.Last, opening.String()); got !=
		"2026-11-25 08:00, 2026-11-25 07:45" {
		t.Errorf("planned %s", got)
	}
	f.Press("staff1", later("30"))
	f.Expect(f.Press("staff1", later("15")), "Put off 3 times already.", "I ask again")
	f.Expect(f.Press("staff2", later("15")), "I ask again at 07:15.", "")
	f.At("2026-11-25 07:15")
	if got := told(remind(f, first.String(), f.Now)); got != "Ben: Opening is not recorded yet." {
		t.Errorf("told %q", got) // Cleo did not put it off
	}
	first.For = 9 // who does not work here any more
	if got := told(remind(f, first.String(), f.Now)); got !=
		"Ben: Opening is not recorded yet.; Cleo: Opening is not recorded yet." {
		t.Errorf("told %q", got)
	}
	first.For = 2
	f.At("2026-11-25 07:30") // it waited while the program was down, and the rung of 07:20 came due
	if res := remind(f, first.String(), clock(f, "2026-11-25 07:15")); len(res.Replies) != 0 {
		t.Errorf("late: %s", told(res))
	}
	f.At("2026-11-25 07:21") // only just late
	if res := remind(f, first.String(), clock(f, "2026-11-25 07:18")); len(res.Replies) != 1 {
		t.Errorf("told %s", told(res))
	}
	f.At("2026-11-27 07:00")
	f.Press("staff1", chat.Button{Data: "o:later:opening.20261127.1.15"})
	if left := f.State("staff1").Snoozed; len(left) != 2 || left["due-2026-11-27-opening-1"] != 1 {
		t.Errorf("counted %v", left) // two days back are still kept
	}
	f.At("2026-11-28 07:00")
	f.Press("staff1", chat.Button{Data: "o:later:opening.20261128.1.15"})
	if left := f.State("staff1").Snoozed; len(left) != 2 {
		t.Errorf("counted %v", left)
	}
}

// What is rarer than starting, half an hour and not today stands behind More; only
// managers are offered there to say that the shop is closed.
func TestRarer(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 07:00")
	more := chat.Button{Data: "o:rarer:opening.20261125.1"}
	f.Expect(f.Press("staff1", more),
		"Opening is not recorded yet.|[Start opening]|[In 15 minutes]|[In 60 minutes]", "Closed today")
	f.Expect(f.Press("owner", more), "[In 15 minutes]|[Closed today]", "[More]")
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.Expect(f.Press("owner", more), "This is done already.|By Ben, 07:00.", "[")
	f.Expect(f.Press("owner", chat.Button{Data: "o:rarer:tea.20261125.1"}), "That button does not work", "")
}

// What is done, or a button that was not made so, is not put off; where no rung of
// the list is left, none is skipped.
func TestNotPutOff(t *testing.T) {
	f := floor.New(t, dialogs.New)
	for _, ref := range []string{"opening.20261125.1", "opening.20261125.1.20", "opening.20261125.1.15.15"} {
		f.Expect(f.Press("staff1", chat.Button{Data: "o:later:" + ref}), "That button does not work any more.", "")
		if len(f.State("staff1").Snoozed) != 0 {
			t.Errorf("%s is counted", ref)
		}
	}
	f.At("2026-11-25 20:00")
	f.Press("staff1", chat.Button{Data: "o:later:opening.20261125.1.15"})
	if got := planned(f, f.Last, named(wednesday, reminders.Opening)); got != "dropped" {
		t.Errorf("next rung at %q", got)
	}
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.Expect(f.Press("staff2", chat.Button{Data: "o:later:opening.20261125.1.15"}),
		"This is done already.|By Ben, 20:00.", "I ask again")
}

// A reminder that was put off into the night waits for its end.
func TestPutOffIntoTheNight(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 23:30")
	n := reminders.Name{Date: wednesday, Task: reminders.Closing, Later: 1}
	res := remind(f, n.String(), f.Now)
	n.Later = 4
	if len(res.Replies) != 0 || planned(f, res, n.String()) != "2026-11-26 06:00" {
		t.Errorf("told %s; planned %+v", told(res), res.Deadlines)
	}
}

// The button of a reminder begins its task, tells that it is done already, and by
// whom; one of another machine turns to that first.
func TestStart(t *testing.T) {
	f := floor.New(t, dialogs.New)
	start := func(who, ref string) string { return f.Press(who, chat.Button{Data: "o:start:" + ref}) }
	start("staff1", "opening.20261125.1")
	if f.State("staff1").Flow != engine.DoOpen {
		t.Errorf("begun %q", f.State("staff1").Flow)
	}
	f.Play("staff1: 40 150 200\nstaff1: [Confirm]")
	f.Expect(start("staff2", "opening.20261125.1"),
		"This is done already.|Opening is recorded.|By Ben, 06:40.", "")
	for _, ref := range []string{"opening.20261125", "opening.2026112x.1", "sweeping.20261125.1",
		"opening.20261125.7",
		"opening.20261125.x"} {
		f.Expect(start("staff2", ref), "That button does not work any more.", "recorded")
	}
	f.At("2026-11-25 21:15")
	start("staff2", "closing.20261125.1")
	if f.State("staff2").Flow != engine.DoClose {
		t.Errorf("begun %q", f.State("staff2").Flow)
	}
	f.Play("staff2: 12 60 80\nstaff2: [I looked: nothing there]")
	f.Says("staff2", "cancel")
	f.Expect(start("staff1", "closing.20261125.1"),
		"Closing: the count is in, the printed figures are missing.|By Cleo, 21:15.", "")
	start("staff1", "unclosed.20261125.1")
	if f.State("staff1").Flow != engine.DoFinish {
		t.Errorf("begun %q", f.State("staff1").Flow)
	}
	f.Play("staff1: 50x28 20x90 10x120\nstaff1: none\nstaff1: [Confirm]")
	f.Expect(start("staff2", "unclosed.20261125.1"), "The closing is finished.|By Ben, 21:15.", "")
}

// A reminder of another machine than the chat is at begins its task there, also
// for somebody who never said at which of several they work. A button from before
// buttons named a machine turns to it first, unless a dialog is under way.
func TestStartAtAnotherMachine(t *testing.T) {
	f := floor.New(t, dialogs.New)
	hall := f.Shop.Machines[0]
	hall.ID, hall.Name = 2, "Hall"
	f.Shop.Machines = append(f.Shop.Machines, hall)
	start := chat.Button{Data: "o:start:opening.20261125.2"}
	f.Expect(f.Press("staff1", start), "You are at Hall now. Please tap again.", "Opening")
	if st := f.State("staff1"); st.Machine != 2 || st.Flow != "" {
		t.Errorf("at %d, begun %q", st.Machine, st.Flow)
	}
	first := f.Machine
	f.Machine = books.New(2) // as whoever runs the steps reads from the button
	start.Data += ":2"
	f.Press("staff2", start)
	if st := f.State("staff2"); st.Machine != 2 || st.Flow != engine.DoOpen {
		t.Errorf("at %d, begun %q", st.Machine, st.Flow)
	}
	f.Machine = first
	f.States[floor.ChatOf("owner")] = chat.State{V: chat.StateFormat, Machine: 1}
	f.Says("owner", "hours")
	f.Expect(f.Press("owner", chat.Button{Data: "o:start:opening.20261125.2"}),
		"That button does not work any more.", "Hall")
}
