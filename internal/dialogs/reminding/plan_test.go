package reminding_test

import (
	"fmt"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Lines of a plan, many at once or one by one, are laid over the plan in force
// and nothing else; a later line wins.
func TestHoursLaidDown(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Plan.Summary, f.Shop.Plan.Duty[6].Closes = "fri", 3
	f.Says("owner", "hours")
	f.Says("owner", "mon-fri 8-20, \n sun closed.\nsat ben opens")
	f.Says("owner", "sat i close\nmon 9-18")
	f.Says("owner", "nudges off")
	f.Says("owner", "night 22-5")
	f.Says("owner", "reminders closing 0 list, 9 owner")
	f.Says("owner", "reminders closing -5 list, 60 managers")
	f.Says("owner", "holidays open")
	said := f.Says("owner", "sat anybody closes")
	f.Expect(said, "Mon      09:00-18:00|Tue-Fri  08:00-20:00|Sat      07:00-21:00  Ben opens|Sun      closed|"+
		"Reminders, closing: -5 list, 60 managers|No reminders of level checks.|Quiet from 22:00 to 05:00.|"+
		"Public holidays: open.|Weekly summary: Fri.", "closes")
	f.Expect(f.Taps("owner", "Confirm"), "Hours recorded, 06:40.|Ada changed the hours.", "")
	s := f.Last.Settings
	want := shop.Example()
	for d := range want.Hours {
		want.Hours[d] = shop.Hours{Open: 8 * 60, Close: 20 * 60}
	}
	want.Hours[0], want.Hours[1] = shop.Hours{}, shop.Hours{Open: 9 * 60, Close: 18 * 60}
	want.Hours[6] = shop.Hours{Open: 7 * 60, Close: 21 * 60}
	if s.Hours != want.Hours {
		t.Errorf("hours %v, want %v", s.Hours, want.Hours)
	}
	if s.Plan.Duty[6] != (shop.Duty{Opens: 2}) || s.Plan.Duty[5] != (shop.Duty{}) {
		t.Errorf("duty %v", s.Plan.Duty)
	}
	ladder := s.Plan.Ladders.Closing
	if len(ladder) != 2 || ladder[0] != (shop.Rung{After: -5, To: shop.List}) || !s.Plan.NoLevels ||
		!s.Plan.TradesOnHolidays || s.Plan.Summary != "fri" ||
		*s.Plan.Night != (shop.Hours{Open: 22 * 60, Close: 5 * 60}) {
		t.Errorf("plan %+v", s.Plan)
	}
	f.LayDown()
	for typed, gone := range map[string]string{
		"reminders closing as usual": "Reminders, closing", "nudges on": "No reminders of level checks.",
		"holidays closed": "Public holidays: open.", "summary off": "Weekly summary",
	} {
		f.Says("owner", "hours")
		f.Expect(f.Says("owner", typed), "[Confirm]", gone)
		f.Says("owner", "cancel")
	}
}

// What was typed is laid over the plan that is in force when it is booked, not
// over the one that was at hand when it was typed.
func TestHoursLaidOverTheNewest(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "hours mon closed")
	f.Shop.Hours[2] = shop.Hours{Open: 10 * 60, Close: 12 * 60} // another manager was quicker
	f.Expect(f.Taps("owner", "Confirm"), "Hours recorded", "")
	if h := f.Last.Settings.Hours; h[1] != (shop.Hours{}) || h[2].Close != 12*60 {
		t.Errorf("hours %v", h)
	}
}

// A line that is not understood is told, and what stood before it is kept; a plan
// that cannot be is dropped as a whole.
func TestHoursRefused(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "hours")
	f.Expect(f.Says("owner", "mon 8-20\ntue perhaps\nwed 9-10"),
		"I don't understand: tue perhaps|Mon      08:00-20:00|Tue-Sun  07:00-21:00", "")
	f.Expect(f.Says("owner", "reminders opening 10 owners, 0 list"), "Reminders, opening: 10 owners, 0 list", "")
	f.Expect(f.Taps("owner", "Confirm"), "That cannot be.|Mon-Sun  07:00-21:00", "08:00")
	if f.Last.Settings != nil {
		t.Error("laid down")
	}
	for _, line := range []string{"summary", "summary someday", "night 25-3", "night", "nudges", "holidays",
		"reminders cleaning 0 list", "reminders closing 0 everybody", "reminders closing zero list",
		"mon zoe opens", "mon ben sweeps", "mon anybody"} {
		f.Expect(f.Says("owner", line), "I don't understand: ", "[Confirm]")
	}
	f.Says("owner", ".")
	f.Expect(f.Says("owner", "people"), "Who works here", "Leave") // nothing was typed
}

// A holiday is one tap; staff only look, and so do those who were managers when
// they began.
func TestHoursByTap(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "hours")
	f.Expect(f.Taps("owner", "Open on public holidays"), "Public holidays: open.|[Confirm]", "[Closed on")
	f.Taps("owner", "Confirm")
	f.LayDown()
	f.Says("owner", "hours")
	f.Expect(f.Taps("owner", "Closed on public holidays"), "Public holidays: closed.|[Confirm]", "")
	f.Shop.People[0].Role = shop.Staff
	f.Expect(f.Taps("owner", "Confirm"), "Only a manager can change the hours.", "recorded")
	f.Expect(f.Says("staff1", "hours mon closed"),
		"Public holidays: open.", "To change it|[Confirm]|Mon      closed")
	f.Expect(f.Says("staff1", "reminders"),
		"opening: -15 list, 0 list, 20 list, 45 managers, 90 owners|fault:", "[")
}

// The plan shows what is different in days to come, and forgets what is over.
func TestHoursShowChanges(t *testing.T) {
	f := floor.New(t, dialogs.New)
	nine, ten := 9*60, 22*60
	f.Shop.Plan.Changes = []shop.Change{
		{From: "2026-11-24", To: "2026-11-24", Closed: true}, {From: "2026-11-24", To: "2026-11-25", Closed: true},
		{From: "2026-11-26", To: "2026-11-26", Open: &nine}, {From: "2026-11-27", To: "2026-11-27", Close: &ten},
		{From: "2026-11-28", To: "2026-11-28", Usual: true}, {From: "2026-11-29", To: "2026-11-29", Off: true},
		{From: "2026-11-30", To: "2026-11-30", Absent: 2},
		{From: "2026-12-01", To: "2026-12-01", Duty: shop.Duty{Opens: 2}},
		{From: "2026-12-02", To: "2026-12-02", Duty: shop.Duty{Closes: 3}},
	}
	f.Expect(f.Says("owner", "hours"), "- Tue 24 Nov to today: closed|- Thu 26 Nov: opening at 09:00|"+
		"- Fri 27 Nov: closing at 22:00|- Sat 28 Nov: open as usual|- Sun 29 Nov: nobody comes|"+
		"- Mon 30 Nov: Ben cannot come|- Tue 1 Dec: Ben opens|- Wed 2 Dec: Cleo closes", "- Tue 24 Nov: closed")
}

// What is due in the next days, by whom, late or not; closed days and why.
func TestAgenda(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Plan.Duty[4].Opens = 2 // Thursday
	f.Shop.Hours[6] = shop.Hours{}
	f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-27", To: "2026-11-27", Off: true}}
	f.Expect(f.Says("owner", "agenda"), "- 07:00: opening, Ben, Cleo|- Thu 26 Nov, 07:00: opening, Ben\n|"+
		"- Fri 27 Nov: closed (nobody comes)|- Sat 28 Nov: closed (as every week)", "finish|late")
	f.At("2026-11-25 07:30")
	f.Expect(f.Says("owner", "agenda"), "- late since 07:00: opening, Ben, Cleo", "- 07:00")
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.Expect(f.Says("owner", "agenda"), "- 21:15: closing, Ben, Cleo", "late")
	f.Says("staff1", "cancel")
	f.At("2026-11-26 06:00")
	f.Expect(f.Says("owner", "agenda"), "- 07:00: finish the closing of Wed 25 Nov, Ben, Cleo", "late")
	f.At("2026-11-26 07:30")
	f.Expect(f.Says("owner", "agenda"),
		"- late: finish the closing of Wed 25 Nov, Ben, Cleo", "late since 21:15")
	f.Play("@2026-11-26 06:50\nstaff1: finish\n@2026-12-24 09:00")
	f.Says("staff1", "cancel")
	f.Expect(f.Says("owner", "agenda"), "- Fri 25 Dec: closed (Christmas Day)", "")
	f = floor.New(t, dialogs.New)
	f.Shop.Plan.Hold = &shop.Hold{By: 1}
	f.Expect(f.Says("owner", "agenda"),
		"Nothing is due in the next days.\n  Do not load the machine.", "opening")
	f.Shop.Plan.Hold = nil
	f.Play("@2026-11-24 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-24 14:00")
	f.Play("staff1: close 12 60 80\nstaff1: [I looked: nothing there]")
	f.Says("staff1", "cancel")
	f.Expect(f.Says("owner", "agenda"), "- Wed 25 Nov, 07:00: opening", "- 21:15: closing")
}

// The managers hear the day before that a public holiday comes, in good time or
// not at all.
func TestEve(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-12-24 12:00")
	name := named("2026-12-24", reminders.Eve)
	res := remind(f, name, f.Now)
	if told(res) != "Ada: Tomorrow is a public holiday: Christmas Day." || !res.Replies[0].Silent ||
		res.Replies[0].Buttons[0][0].Data != "o:usual:20261225:1" {
		t.Errorf("told %s", told(res))
	}
	f.At("2026-12-25 12:00")
	if res := remind(f, name, clock(f, "2026-12-24 12:00")); len(res.Replies) != 0 {
		t.Errorf("a day late: %s", told(res))
	}
	facts, in := f.Facts("owner"), chat.Input{Kind: chat.Remind, Text: name, Again: true, At: clock(f,
		"2026-12-24 12:00")}
	in.Due = in.At
	if res := f.Engine.Step(chat.State{}, in, facts); len(res.Replies) != 0 {
		t.Errorf("a second time: %s", told(res))
	}
}

// Reminders are planned from the moment somebody writes, for a week; they go on
// while the machine is in use, and end with a word to the owner when it is not.
func TestPlanning(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "status")
	if got := planned(f, f.Last, chat.PlanAgain); got != "2026-11-25 06:40" {
		t.Errorf("planning begins at %q", got)
	}
	f.Now = f.Now.Add(7 * 24 * time.Hour)
	f.Says("owner", "status")
	if got := planned(f, f.Last, chat.PlanAgain); got != f.Now.Format("2006-01-02 15:04") {
		t.Errorf("a week later planning begins at %q", got)
	}
	f.Now = f.Now.Add(7*24*time.Hour - time.Minute)
	if f.Says("owner", "status"); planned(f, f.Last, chat.PlanAgain) != "" {
		t.Error("planned again before the week is over")
	}
	f.At("2026-11-25 06:40")
	res := remind(f, chat.PlanAgain, f.Now)
	if got := planned(f, res, named(wednesday, reminders.Opening)); got != "2026-11-25 06:45" {
		t.Errorf("the opening is asked for at %q", got)
	}
	if got := planned(f, res, "plan"); got != "2026-12-02 06:40" {
		t.Errorf("planned on at %q", got)
	}
	res = remind(f, "plan", f.Now)
	if told(res) != "Ada: Nothing was recorded for a week." || planned(f, res, "plan") == "" ||
		!res.Replies[0].Silent {
		t.Errorf("told %s", told(res))
	}
	for _, d := range res.Deadlines { // the plan reached a day further
		if got := planned(f, res, d.Name); d.Name != "plan" && got != "dropped" {
			t.Errorf("I stop reminding, and %s comes at %s", d.Name, got)
		}
	}
	if got := planned(f, res, named("2026-11-26", reminders.Opening)); got != "dropped" {
		t.Errorf("the opening of tomorrow is planned: %q", got)
	}
	f.Told = map[string][]chat.Told{"idle-1": {{Person: 1, Times: 1, Last: f.Now}}}
	if res = remind(f, "plan", f.Now); len(res.Replies) != 0 || planned(f, res, "plan") == "" {
		t.Errorf("a second week: told %s", told(res))
	}
	for d := range f.Shop.Hours {
		f.Shop.Hours[d] = shop.Hours{}
	}
	if res = remind(f, "plan", f.Now); len(res.Replies) != 0 || planned(f, res, "plan") == "" {
		t.Errorf("a shop that was to be closed all week: %s", told(res))
	}
	f = floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.At("2026-12-02 06:40")
	if res = remind(f, "plan", f.Now); len(res.Replies) != 0 || planned(f, res, "plan") == "" {
		t.Errorf("a machine in use: %s", told(res))
	}
}

// New settings plan anew, for every machine, by the new hours.
func TestSettingsPlanAnew(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("owner: hours wed 9-20\nowner: [Confirm]")
	if got := planned(f, f.Last, named(wednesday, reminders.Opening)); got != "2026-11-25 08:45" {
		t.Errorf("the opening is asked for at %q", got)
	}
	f.Shop.Machines = append(f.Shop.Machines, shop.Machine{Name: "Hall"}) // one that has no number yet
	f.States[floor.ChatOf("owner")] = chat.State{V: chat.StateFormat, Machine: 1}
	f.Play("owner: reminders opening 0 list\nowner: [Confirm]")
	if got := planned(f, f.Last, named(wednesday, reminders.Opening)); got != "2026-11-25 07:00" {
		t.Errorf("the opening is asked for at %q", got)
	}
	for _, d := range f.Last.Deadlines {
		if d.Machine != 1 {
			t.Errorf("planned for %+v", d)
		}
	}
}

// A level check is asked for three quarters of an hour before the first kind of
// note may run out: after 8 hours 120 of 150 twenties are gone, 30 last 2 more.
func TestLevelNudge(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-25 07:00\nstaff1: open 40 150 200\nstaff1: [Confirm]")
	if got := planned(f, f.Last, "level:1"); got != "" {
		t.Errorf("planned at %q without any pace", got)
	}
	f.Play("@2026-11-25 15:00\nstaff1: level 40 30 200\nstaff1: [Confirm]")
	if got := planned(f, f.Last, "level:1"); got != "2026-11-25 16:15" {
		t.Errorf("planned at %q", got)
	}
	f.At("2026-11-25 16:15")
	res := remind(f, "level:1", f.Now)
	if told(res) != "Ben: Level check, please.; Cleo: Level check, please." || !res.Replies[0].Silent {
		t.Errorf("told %s", told(res))
	}
	for name, now := range map[string]string{"level:2": "2026-11-25 16:15", "level:1": "2026-11-25 17:46"} {
		f.At(now)
		if res := remind(f, name, clock(f, "2026-11-25 16:15")); len(res.Replies) != 0 {
			t.Errorf("%s at %s: told %s", name, now, told(res))
		}
	}
	again := chat.Input{Kind: chat.Remind, Text: "level:1", Again: true, At: clock(f, "2026-11-25 16:15")}
	if res := f.Engine.Step(chat.State{}, again, f.Facts("owner")); len(res.Replies) != 0 {
		t.Errorf("a second time: told %s", told(res))
	}
	f.Play("@2026-11-25 16:15\nstaff1: level 40 30 200\nstaff1: [Confirm]")
	if res := remind(f, "level:1", f.Now); len(res.Replies) != 0 {
		t.Errorf("levels that were typed in this very minute are asked for: %s", told(res))
	}
	f.Play("@2026-11-25 16:20\nstaff1: top up 20x100\nstaff1: [Confirm]")
	// 130 of them last 520 minutes from 15:00 on: until 23:40, when the shop is closed
	if got := planned(f, f.Last, "level:1"); got != "dropped" {
		t.Errorf("after a top-up at %q", got)
	}
	f.Shop.Plan.NoLevels = true
	f.Play("@2026-11-25 17:00\nstaff1: level 40 20 200\nstaff1: [Confirm]")
	if got := planned(f, f.Last, "level:1"); got != "" {
		t.Errorf("planned at %q though nobody wants it", got)
	}
}

// Before the first level check of a day the pace is that of the day before.
func TestLevelByTheDayBefore(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(`
		@2026-11-24 07:00
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-24 21:00
		staff1: close 12 60 80
		staff1: [I looked: nothing there]
		staff1: 50x28 20x90 10x120
		staff1: none
		staff1: [Confirm]
		@2026-11-25 07:00
		staff1: open 40 60 200
		staff1: [Confirm]
	`)
	// 60 twenties last 60/90 of 14 hours, 9 h 20 min: until 16:20
	if got := planned(f, f.Last, fmt.Sprintf("level:%d", f.Machine.Current().No)); got != "2026-11-25 15:35" {
		t.Errorf("planned at %q\n%s", got, f.Out.String())
	}
}
