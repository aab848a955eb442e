package reminding_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What is done before a deadline comes due.
const (
	opened = "staff1: open 40 150 200\nstaff1: [Confirm]"
	closed = opened + "\n@2026-11-25 21:05\nstaff2: close 12 60 80\nstaff2: none\nstaff2: none\n" +
		"staff2: [Confirm]\nstaff2: 50x28 20x90 10x120\nstaff2: none\nstaff2: [Confirm]"
	waits = opened + "\n@2026-11-25 21:05\nstaff2: close 12 60 80\nstaff2: none\nstaff2: none\nstaff2: [Confirm]"
	both  = "Ben: Opening is not recorded yet.; Cleo: Opening is not recorded yet."
)

// on is a change of that day.
func on(x shop.Change) func(*floor.Floor) {
	return func(f *floor.Floor) {
		x.From, x.To = wednesday, wednesday
		f.Shop.Plan.Changes = []shop.Change{x}
	}
}

// out has the machine out of service since the evening before.
func out(f *floor.Floor) {
	since := time.Date(2026, 11, 24, 20, 30, 0, 0, time.UTC)
	f.Machine.Faults = []books.Fault{{Seq: 9, Topic: "note-jam", By: 2, Began: since, Out: since}}
}

var threeTimes = map[string][]chat.Told{
	"due-2026-11-25-opening-1": {{Person: 2, Times: 3}, {Person: 3, Times: 3}}}

// toldCase is what was done, which deadline comes due and when, who hears of it, and what
// must stand in the message, or after a ! must not.
type toldCase struct {
	play  string
	shop  func(*floor.Floor)
	due   string
	at    string
	who   string
	words string
}

var toldCases = map[string]toldCase{
	"nobody opened": {"", nil, "2026-11-25 opening", "2026-11-25 07:00", both, "Due 07:00.!Reminded"},
	"before it is due": {"", nil, "2026-11-25 opening", "2026-11-25 06:45",
		"Ben: Opening is due soon, 07:00.; Cleo: Opening is due soon, 07:00.", "!recorded"},
	"the owner, when it climbs": {"", nil, "2026-11-25 opening", "2026-11-25 07:45",
		"Ada: Opening is not recorded yet.", "!Reminded"},
	"who was truly told": {"", func(f *floor.Floor) { f.Told = threeTimes }, "2026-11-25 opening",
		"2026-11-25 07:45", "Ada: Opening is not recorded yet.", "Reminded before: Ben, Cleo.!Ada"},
	"out of service, the first time of a day": {"", out, "2026-11-25 opening", "2026-11-25 07:00",
		"Ben: Out of service: Notes are stuck in the machine, since Tue 24 Nov, 20:30.; " +
			"Cleo: Out of service: Notes are stuck in the machine, since Tue 24 Nov, 20:30.",
		"Nothing is to be loaded until it works.!not recorded"},
	"out of service, before it is due": {"", out, "2026-11-25 opening", "2026-11-25 06:45", "", ""},
	"out of service, when it climbs":   {"", out, "2026-11-25 opening", "2026-11-25 07:45", "", ""},
	"out of service after a robbery": {"", func(f *floor.Floor) {
		out(f)
		f.Machine.Faults[0].Topic = chat.Robbery
	}, "2026-11-25 opening", "2026-11-25 07:00",
		"Ben: Out of service: Robbery or threat, since Tue 24 Nov, 20:30.; " +
			"Cleo: Out of service: Robbery or threat, since Tue 24 Nov, 20:30.", "until a manager says!Works again"},
	"it works again": {"", func(f *floor.Floor) {
		out(f)
		f.Machine.Faults[0].Back, f.Machine.Faults[0].Ending = f.Now, books.Solved
	}, "2026-11-25 opening", "2026-11-25 07:45", "Ada: Opening is not recorded yet.", "!Out of service"},
	"out of service and loaded, the closing": {opened, out, "2026-11-25 closing", "2026-11-25 21:15",
		"Ben: Closing is not recorded yet.; Cleo: Closing is not recorded yet.", "!Out of service"},
	"opened": {opened, nil, "2026-11-25 opening", "2026-11-25 07:00", "", ""},
	"ben is ill": {"", on(shop.Change{Absent: 2}), "2026-11-25 opening", "2026-11-25 07:00",
		"Cleo: Opening is not recorded yet.", ""},
	"cleo is down for it": {"", on(shop.Change{Duty: shop.Duty{Opens: 3}}), "2026-11-25 opening",
		"2026-11-25 07:00", "Cleo: Opening is not recorded yet.", ""},
	"closed that day": {"", on(shop.Change{Closed: true}), "2026-11-25 opening", "2026-11-25 07:00", "", ""},
	"nobody comes":    {"", on(shop.Change{Off: true}), "2026-11-25 opening", "2026-11-25 07:00", "", ""},
	"not today":       {"", on(shop.Change{Mute: true}), "2026-11-25 opening", "2026-11-25 07:00", "", ""},
	"nobody closed": {opened, nil, "2026-11-25 closing", "2026-11-25 21:15",
		"Ben: Closing is not recorded yet.; Cleo: Closing is not recorded yet.", "Due 21:15."},
	"closed":              {closed, nil, "2026-11-25 closing", "2026-11-25 21:15", "", ""},
	"figures are missing": {waits, nil, "2026-11-25 closing", "2026-11-25 21:15", "", ""},
	"the next day, the day of the period": {opened, nil, "2026-11-25 unclosed", "2026-11-26 08:00",
		"Ben: The closing of Wed 25 Nov is not finished.; Cleo: The closing of Wed 25 Nov is not finished.",
		"Nobody has counted yet.!26 Nov"},
	"the next day, figures missing": {waits, nil, "2026-11-25 unclosed", "2026-11-26 08:00",
		"Ben: The closing of Wed 25 Nov is not finished.; Cleo: The closing of Wed 25 Nov is not finished.",
		"It is counted. Only the machine's printed figures are missing."},
	"two days on, an older period": {opened, nil, "2026-11-26 closing", "2026-11-26 21:15", "", ""},
	"three days on": {opened, toldThen("2026-11-25 21:15"), "2026-11-26 unclosed",
		"2026-11-27 08:00", "", ""},
	"three days on, and it was only said that it is due soon": {opened, toldThen("2026-11-25 21:00"),
		"2026-11-26 unclosed", "2026-11-27 08:00",
		"Ben: The closing of Wed 25 Nov is not finished.; Cleo: The closing of Wed 25 Nov is not finished.", ""},
	"three days on, and nobody is reminded of that day": {opened, on(shop.Change{Mute: true}),
		"2026-11-26 unclosed", "2026-11-27 08:00", "", ""},
	"ten days on, nobody knows any more who was told": {opened, nil, "2026-12-04 unclosed", "2026-12-05 08:00",
		"", ""},
	"too late to speak": {"", nil, "2026-11-25 opening", "2026-11-25 21:30", "", ""},
	"a hold stands for the opening": {"", func(f *floor.Floor) {
		f.Shop.Plan.Hold = &shop.Hold{Why: "police warning", By: 1}
	}, "2026-11-25 opening", "2026-11-25 07:00",
		"Ben: Do not load the machine.; Cleo: Do not load the machine.", "police warning!not recorded"},
	"tomorrow is a holiday": {"", nil, "2026-12-24 holiday", "2026-12-24 09:30",
		"Ada: Tomorrow is a public holiday: Christmas Day.", ""},
	"a week before one that may be none": {"", func(f *floor.Floor) { f.Shop.Country = "AT" },
		"2026-12-17 doubt", "2026-12-17 09:30", "Ada: Thu 24 Dec is Christmas Eve: closed?",
		"Without an answer it is a day like others"},
	"asked and answered": {"", func(f *floor.Floor) {
		f.Shop.Country = "AT"
		f.Shop.Plan.Holidays = []shop.HolidayChoice{{Name: "Christmas Eve"}}
	}, "2026-12-17 doubt", "2026-12-17 09:30", "", ""},
}

// toldThen has Ben told of the closing of the 25th.
func toldThen(clock string) func(*floor.Floor) {
	return func(f *floor.Floor) {
		at, _ := time.Parse("2006-01-02 15:04", clock)
		f.Told = map[string][]chat.Told{"due-2026-11-25-closing-1": {{Person: 2, Times: 1, Last: at}}}
	}
}

// Who is told what, case by case.
func TestWhoIsToldWhat(t *testing.T) {
	for name, x := range toldCases {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			if x.shop != nil {
				x.shop(f)
			}
			f.Play(x.play)
			f.At(x.at)
			date, task, _ := strings.Cut(x.due, " ")
			res := remind(f, named(shop.Date(date), reminders.Task(task)), f.Now)
			if got := toldIn(res); got != x.who {
				t.Errorf("told %q\nwant %q", got, x.who)
			}
			want, not, _ := strings.Cut(x.words, "!")
			for _, r := range res.Replies {
				if r.To.Person != 0 {
					f.Expect(r.Body[0].Text, want, not)
				}
			}
		})
	}
}

// toldIn is what people are told of a deadline, apart from messages that change.
func toldIn(res chat.Result) string {
	var kept []chat.Reply
	for _, r := range res.Replies {
		if r.To.Told == "" {
			kept = append(kept, r)
		}
	}
	res.Replies = kept
	return told(res)
}

// Single public holidays are tapped or typed, and lie in the plan under their name.
func TestSingleHolidays(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Says("owner", "hours")
	f.Expect(f.Says("owner", "christmas day 9-13"), "Christmas Day: 09:00-13:00", "understand")
	f.Expect(f.Says("owner", "new year's day open"), "New Year's Day: open", "understand")
	f.Expect(f.Says("owner", "christmas day closed"), "Christmas Day: closed", "09:00")
	f.Expect(f.Says("owner", "christmas island closed"), "I don't understand: christmas island closed", "")
	f.Expect(f.Says("owner", "notes on"), "Owners get a note of each closing.", "understand")
	f.Taps("owner", "Confirm")
	f.LayDown()
	if d := reminders.On(f.Shop, "2027-01-01"); d.Closed != reminders.Trading {
		t.Errorf("New Year's Day is %q", d.Closed)
	}
	if d := reminders.On(f.Shop, "2026-12-25"); d.Closed != reminders.Public {
		t.Errorf("Christmas Day is %q", d.Closed)
	}
	f.Says("owner", "hours")
	f.Taps("owner", "Single holidays")
	f.Expect(f.Taps("owner", "Fri 25 Dec"), "Fri 25 Dec Christmas Day: open", "Christmas Day: closed")
	f.Expect(f.Taps("owner", "Fri 25 Dec"), "Fri 25 Dec Christmas Day: closed", "")
}

// An owner answers about a doubtful holiday with one tap; staff cannot.
func TestDoubtIsAnswered(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Country = "AT"
	f.At("2026-12-17 10:00")
	f.Expect(f.Press("staff1", chat.Button{Data: "o:feast:closed.20261224"}), "", "closed, says")
	f.Expect(f.Press("owner", chat.Button{Data: "o:feast:closed.20261224"}),
		"Thu 24 Dec, Christmas Eve: closed, says Ada.", "")
	f.LayDown()
	if d := reminders.On(f.Shop, "2026-12-24"); d.Closed != reminders.Public {
		t.Errorf("Christmas Eve is %q", d.Closed)
	}
	for _, ref := range []string{"closed.20261223", "sometimes.20261224", "closed", "closed.2026122x"} {
		f.Expect(f.Press("owner", chat.Button{Data: "o:feast:" + ref}), "That button does not work", "says")
	}
	f.Expect(f.Press("owner", chat.Button{Data: "o:feast:hours.20261224"}),
		"Type it like this: christmas eve 9-13", "")
}
