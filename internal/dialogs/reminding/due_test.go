package reminding_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// clock is an instant on the shop's clock.
func clock(f *floor.Floor, local string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", local, f.Shop.Location)
	if err != nil {
		f.T.Fatal(err)
	}
	return at
}

// remind lets a deadline come due now that was asked for at an instant.
func remind(f *floor.Floor, name string, due time.Time) chat.Result {
	facts := f.Facts("owner") // who writes nothing in these tests
	facts.Person = shop.Person{}
	return f.Engine.Step(chat.State{}, chat.Input{Kind: chat.Remind, Text: name, At: f.Now, Due: due,
		Chat: chat.MachineChat(1)}, facts)
}

// named is the deadline of a task of a day.
func named(date shop.Date, task reminders.Task) string {
	return reminders.Name{Date: date, Task: task}.String()
}

// told lists who is told and the first line of it, in order.
func told(res chat.Result) string {
	var list []string
	for _, r := range res.Replies {
		who := map[shop.PersonID]string{1: "Ada", 2: "Ben", 3: "Cleo"}[r.To.Person]
		if r.To.Managers {
			who = "managers"
		}
		if r.To.Told != "" {
			who = r.To.Told
		}
		list = append(list, who+": "+strings.Split(r.Body[0].Text, "\n")[0])
	}
	return strings.Join(list, "; ")
}

// labels are those of a reply's buttons.
func labels(r chat.Reply) string {
	var list []string
	for _, row := range r.Buttons {
		for _, b := range row {
			list = append(list, b.Label)
		}
	}
	return strings.Join(list, ", ")
}

// planned gives when a deadline of a task is asked for, on the shop's clock;
// empty for not at all, "dropped" for never again.
func planned(f *floor.Floor, res chat.Result, name string) string {
	for _, d := range res.Deadlines {
		switch {
		case d.Name != name:
		case d.At.IsZero():
			return "dropped"
		default:
			return d.At.In(f.Shop.Location).Format("2006-01-02 15:04")
		}
	}
	return ""
}

const wednesday shop.Date = "2026-11-25"

// The ladder of an opening that is due at 07:00: the list before, at and after it,
// then the owner, who stands in for managers that there are none of. The highest
// rung that came due speaks, once, and the next one is planned.
func TestLadderOfAnOpening(t *testing.T) {
	soon, due := "Opening is due soon, 07:00.", "Opening is not recorded yet."
	for _, x := range []struct{ from, now, told, next string }{
		{"06:45", "06:45", "Ben: " + soon + "; Cleo: " + soon, "07:00"},
		{"06:45", "06:59", "Ben: " + soon + "; Cleo: " + soon, "07:00"},
		{"07:00", "07:00", "Ben: " + due + "; Cleo: " + due, "07:20"},
		{"07:20", "07:20", "Ben: " + due + "; Cleo: " + due, "07:45"},
		{"07:45", "07:45", "Ada: " + due, "08:30"},
		{"06:45", "07:50", "Ben: " + due + "; Cleo: " + due, "08:30"}, // down past the owner's turn
		{"07:45", "09:50", "Ada: " + due, ""},
		{"07:21", "07:30", "", "07:45"},
		{"08:30", "08:30", "Ada: " + due, ""},
	} {
		f := floor.New(t, dialogs.New)
		f.At("2026-11-25 " + x.now)
		res := remind(f, named(wednesday, reminders.Opening), clock(f, "2026-11-25 "+x.from))
		if got := told(res); got != x.told {
			t.Errorf("due %s, at %s: told %q, want %q", x.from, x.now, got, x.told)
		}
		if x.next != "" {
			x.next = "2026-11-25 " + x.next
		}
		got := planned(f, res, named(wednesday, reminders.Opening))
		if got != x.next && !(x.next == "" && got == "dropped") {
			t.Errorf("due %s, at %s: next %q, want %q", x.from, x.now, got, x.next)
		}
	}
}

// A reminder before its time makes no sound; it has four buttons, what is rarer stands
// behind More, and managers are told who was asked before.
func TestReminder(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 06:45")
	r := remind(f, named(wednesday, reminders.Opening), f.Now).Replies[0]
	const four = "Start opening, In 30 minutes, Not today, More"
	if !r.Silent || labels(r) != four || r.Key != "due-2026-11-25-opening-1" {
		t.Errorf("before its time: %+v", r)
	}
	f.At("2026-11-25 07:45")
	f.Told = map[string][]chat.Told{"due-2026-11-25-opening-1": {{Person: 2, Times: 3}, {Person: 3, Times: 2}}}
	r = remind(f, named(wednesday, reminders.Opening), f.Now).Replies[0]
	if r.Silent || labels(r) != four || r.Retire != "due-2026-11-25-opening-1" {
		t.Errorf("to the owner: %+v", r)
	}
	f.Expect(r.Body[0].Text, "Due 07:00.|Reminded before: Ben, Cleo.|Start now, or tell us what happened.",
		"busy")
	f.Told = nil
	r = remind(f, named(wednesday, reminders.Opening), f.Now).Replies[0]
	f.Expect(r.Body[0].Text, "Due 07:00.|Start now", "Reminded before")
	f.Says("staff1", "open 40 150 200")
	f.At("2026-11-25 11:00")
	r = remind(f, named(wednesday, reminders.Opening), clock(f, "2026-11-25 07:45")).Replies[0]
	f.Expect(r.Body[0].Text, "Opening is not recorded yet.", "busy")
}

// While somebody is at it nobody else is reminded; when they stand still they are asked, and
// only then the next one is told.
func TestNobodyWhileSomebodyIsAtIt(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 07:40")
	f.Says("staff1", "open 40 150 200")
	name := named(wednesday, reminders.Opening)
	again := reminders.Name{Date: wednesday, Task: reminders.Opening, Later: 5}.String()
	f.At("2026-11-25 07:45")
	res := remind(f, name, f.Now)
	if told(res) != "" || planned(f, res, again) != "2026-11-25 08:00" {
		t.Errorf("told %s, again at %s", told(res), planned(f, res, again))
	}
	f.At("2026-11-25 08:00")
	res = remind(f, again, f.Now)
	if told(res) != "Ben: Still opening?" || planned(f, res, again) != "2026-11-25 08:20" {
		t.Errorf("told %s, again at %s", told(res), planned(f, res, again))
	}
	f.Told = map[string][]chat.Told{"still-due-2026-11-25-opening-1": {{Person: 2, Times: 1, Last: f.Now}}}
	f.At("2026-11-25 08:10")
	if res = remind(f, name, f.Now); told(res) != "" {
		t.Errorf("asked just now: told %s", told(res))
	}
	f.At("2026-11-25 08:20")
	if res = remind(f, again, f.Now); told(res) != "Ada: Opening is not recorded yet." {
		t.Errorf("no answer: told %s", told(res))
	}
	f.Expect(res.Replies[0].Body[0].Text, "Ben is busy at the machine since 07:40.", "")
	gone := chat.Button{Data: "o:gone:opening.20261125.1"}
	if said := f.Press("staff1", gone); !strings.Contains(said, "I ask the others to go on.") {
		t.Errorf("said %s", said)
	}
	if told(f.Last) != ": All right. I ask the others to go on.; Cleo: Opening is not recorded yet.; "+
		"Ada: Opening is not recorded yet." {
		t.Errorf("after Ben had to go: told %s", told(f.Last))
	}
	for _, back := range []bool{false, true} { // nobody is said to be busy who is gone, until they are back
		if back {
			f.At("2026-11-25 08:22")
			f.Says("staff1", "40")
		}
		if got := len(f.Facts("owner").Others); got != 1 {
			t.Fatalf("%d at work", got)
		}
		if rests := f.Facts("owner").Others[0].Since.Before(f.Now.Add(-12 * time.Hour)); rests == back {
			t.Errorf("back %t: at work since %s", back, f.Facts("owner").Others[0].Since)
		}
	}
}

// Somebody who has the message already, by another way or three times, sees it change; who
// cannot be written to is passed over.
func TestFewAndTheRightPerson(t *testing.T) {
	f := floor.New(t, dialogs.New)
	key, name := "due-2026-11-25-opening-1", named(wednesday, reminders.Opening)
	for _, x := range []struct {
		at    string
		told  []chat.Told
		phone []chat.Phone
		want  string
	}{
		{"07:20", []chat.Told{{Person: 2, Times: 2}}, nil, "new 2, new 3"},
		{"07:20", []chat.Told{{Person: 2, Times: 3}}, nil, "edit 2, new 3"},
		{"08:30", []chat.Told{{Person: 1, Times: 1}}, nil, "edit 1"},
		{"07:20", nil, []chat.Phone{{Person: 1}, {Person: 2, Gone: true}, {Person: 3}}, "new 3"},
		{"07:20", nil, []chat.Phone{{Person: 1}, {Person: 2, Frozen: true}}, "new 1"},
	} {
		f.At("2026-11-25 " + x.at)
		f.Told = map[string][]chat.Told{key: x.told}
		f.Knows = func(facts *chat.Facts) {
			if x.phone != nil {
				facts.Ask.Phones = func() []chat.Phone { return x.phone }
			}
		}
		var got []string
		for _, r := range remind(f, name, f.Now).Replies {
			how := "new "
			if r.Edit == key {
				how = "edit "
			}
			got = append(got, how+strconv.Itoa(int(r.To.Person)))
		}
		if list := strings.Join(got, ", "); list != x.want {
			t.Errorf("%s: %s, want %s", x.at, list, x.want)
		}
	}
}

// What is done, late in the day, or answered before the clock went back, is not
// asked for.
func TestNotReminded(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	f.At("2026-11-25 07:00")
	if res := remind(f, named(wednesday, reminders.Opening), f.Now); len(res.Replies)+len(res.Deadlines) != 0 {
		t.Errorf("of an opening that is recorded: %s", told(res))
	}
	f.At("2026-11-25 21:15")
	if res := remind(f, named(wednesday, reminders.Closing), f.Now); told(res) !=
		"Ben: Closing is not recorded yet.; Cleo: Closing is not recorded yet." {
		t.Errorf("of a closing: %s", told(res))
	}
	f.At("2026-11-26 21:16")
	closing := named(wednesday, reminders.Closing)
	if res := remind(f, closing, clock(f, "2026-11-25 21:15")); len(res.Replies) != 0 {
		t.Errorf("a day late: %s", told(res))
	}
	f.At("2026-11-26 08:00")
	unclosed := named(wednesday, reminders.Unclosed)
	res := remind(f, unclosed, f.Now)
	what := "The closing of Wed 25 Nov is not finished."
	if told(res) != "Ben: "+what+"; Cleo: "+what {
		t.Errorf("of a closing that is not finished: %s", told(res))
	}
	f.Expect(res.Replies[0].Body[0].Text, "Nobody has counted yet.", "")
	thursday := named("2026-11-26", reminders.Opening)
	res = remind(f, thursday, clock(f, "2026-11-26 07:20"))
	f.Expect(res.Replies[0].Body[0].Text, "Wed 25 Nov is not closed. You can open all the same", "")
}

// What is loaded in the evening stands for the next day's opening, unless it was
// counted again before that day.
func TestLoadedAhead(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-24 22:00\nstaff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 07:00")
	opening := named(wednesday, reminders.Opening)
	if res := remind(f, opening, f.Now); len(res.Replies) != 0 {
		t.Errorf("loaded ahead: told %s", told(res))
	}
	f.At("2026-11-24 22:30")
	f.Play("staff1: close 40 150 200\nstaff1: [I looked: nothing there]")
	f.At("2026-11-25 07:00")
	if res := remind(f, opening, f.Now); len(res.Replies) != 2 {
		t.Errorf("counted again: told %s", told(res))
	}
}

// Where notes stay in overnight, a machine that is open needs no opening, and the
// printed figures of the day stand for the closing.
func TestNotesStayIn(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Nightly = false
	f.Play("@2026-11-24 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 07:00")
	if res := remind(f, named(wednesday, reminders.Opening), f.Now); len(res.Replies) != 0 {
		t.Errorf("of an opening: %s", told(res))
	}
	f.At("2026-11-25 21:15")
	closing := named(wednesday, reminders.Closing)
	if res := remind(f, closing, f.Now); !strings.HasPrefix(told(res),
		"Ben: The printed figures of today are not") {
		t.Errorf("of the figures: %s", told(res))
	}
	f.Says("staff1", "cancel")
	f.Press("staff1", chat.Button{Data: "o:start:closing.20261125.1"})
	if f.State("staff1").Flow != engine.DoSettle {
		t.Errorf("begun %q", f.State("staff1").Flow)
	}
	f.Play("staff1: 50x3 20x10 10x5\nstaff1: none\nstaff1: [Confirm]")
	if res := remind(f, closing, f.Now); len(res.Replies) != 0 {
		t.Errorf("of figures that are in: %s", told(res))
	}
	f.At("2026-11-26 08:00")
	if res := remind(f, named(wednesday, reminders.Unclosed), f.Now); len(res.Replies) != 0 {
		t.Errorf("of what stays open: %s", told(res))
	}
}

// A rung that comes due in a quiet night is said in the morning.
func TestQuietNight(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 23:10")
	closing := reminders.Name{Date: wednesday, Task: reminders.Closing}
	res := remind(f, closing.String(), clock(f, "2026-11-25 22:45"))
	closing.Later = 4
	if len(res.Replies) != 0 || planned(f, res, closing.String()) != "2026-11-26 06:00" {
		t.Errorf("told %s; planned %+v", told(res), res.Deadlines)
	}
}

// The owner hears of the week before, once, and not days later.
func TestWeek(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-30 08:00")
	name := named("2026-11-30", reminders.Summary)
	if res := remind(f, name, f.Now); !strings.HasPrefix(told(res), "Ada: ") {
		t.Errorf("told %s", told(res))
	}
	f.At("2026-12-02 08:00")
	if res := remind(f, name, clock(f, "2026-11-30 08:00")); len(res.Replies) != 0 {
		t.Errorf("two days late: %s", told(res))
	}
}

// What is recorded ends the reminders that were sent, everywhere, by name.
func TestRecordsEndReminders(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.At("2026-11-25 07:10")
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
	if got := told(f.Last); !strings.Contains(got, "due-2026-11-25-opening-1: Opening is recorded.") {
		t.Errorf("told %s", got)
	}
	f.Play("staff1: undo\nstaff1: [Confirm]")
	if got := planned(f, f.Last, named(wednesday, reminders.Opening)); got != "2026-11-25 07:20" {
		t.Errorf("after it was undone the next rung is at %q", got)
	}
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 21:20\nstaff2: close 12 60 80")
	f.Play("staff2: [I looked: nothing there]")
	if got := told(f.Last); !strings.Contains(got, "due-2026-11-25-closing-1: Closing: the count is in") {
		t.Errorf("told %s", got)
	}
	f.At("2026-11-26 08:30")
	f.Play("staff2: 50x28 20x90 10x120\nstaff2: none\nstaff2: [Confirm]")
	if got := told(f.Last); !strings.Contains(got, "due-2026-11-25-unclosed-1: The closing is finished.") {
		t.Errorf("told %s", got)
	}
}
