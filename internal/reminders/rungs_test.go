package reminders_test

import (
	"testing"
	"time"

	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// The public holidays of the next twelve months, each name once, the doubtful ones too. Those
// of Ireland by the Organisation of Working Time Act 1997, second schedule, and S.I. 50/2022.
func TestComing(t *testing.T) {
	s := example(t, nil)
	var got []string
	for _, h := range reminders.Coming(&s.Settings, "2026-11-25") {
		got = append(got, string(h.Date)+" "+h.Name)
	}
	first, last, kept := "2026-12-25 Christmas Day", "2027-10-25 October Holiday", 10
	if len(got) < kept || got[0] != first {
		t.Fatalf("%q, want %s first", got, first)
	}
	names := map[string]bool{}
	for i, line := range got {
		if i > 0 && line < got[i-1] || names[line[len("2026-11-25 "):]] {
			t.Errorf("%s comes out of turn or twice", line)
		}
		names[line[len("2026-11-25 "):]] = true
	}
	if end := got[len(got)-1]; end[:len("2027-10-25")] != last[:len("2027-10-25")] {
		t.Errorf("the last is %s, want %s", end, last)
	}
	for _, c := range []struct {
		from shop.Date
		in   bool // New Year's Day 2027
	}{{"2026-01-01", true}, {"2026-01-02", true}, {"2027-01-01", true}} {
		list := reminders.Coming(&s.Settings, c.from)
		if list[0].Date == "2027-01-01" != (c.from == "2027-01-01") {
			t.Errorf("from %s on the first is %s", c.from, list[0].Date)
		}
		for _, h := range list {
			if h.Date < c.from || h.Date >= c.from.Add(365) {
				t.Errorf("from %s on: %s", c.from, h.Date)
			}
		}
	}
	nowhere := example(t, func(s *shop.Settings) { s.Country = "XX" })
	for _, h := range reminders.Coming(&nowhere.Settings, "2026-12-26") {
		if h.Sure != holidays.Some {
			t.Errorf("nothing is known of the place, and %s is sure", h.Name)
		}
	}
}

// A holiday that comes within the twelve months to the day, and one a day later.
func TestComingEnds(t *testing.T) {
	s := example(t, func(s *shop.Settings) { s.Country = "XX" })
	has := func(from, date shop.Date) bool {
		for _, h := range reminders.Coming(&s.Settings, from) {
			if h.Date == date {
				return true
			}
		}
		return false
	}
	if !has("2025-12-26", "2026-12-25") { // 364 days on, the last of 365
		t.Error("the last day of twelve months is left out")
	}
	if has("2025-12-25", "2026-12-25") || !has("2025-12-25", "2025-12-25") { // 365 days on: the same name
		t.Error("Christmas Day is listed for the next year, or not for that very day")
	}
}

// Whether a holiday closes a shop by what is laid down of holidays alone.
func TestKeeps(t *testing.T) {
	kept := holidays.Holiday{Date: "2026-12-25", Name: "Christmas Day"}
	some := holidays.Holiday{Date: "2026-12-24", Name: "Christmas Eve", Sure: holidays.Some}
	moon := holidays.Holiday{Date: "2027-03-09", Name: "Eid al-Fitr", Sure: holidays.Moon}
	choose := func(name string, trades bool) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Plan = s.Plan.Choose(shop.HolidayChoice{Name: name, Trades: trades}) }
	}
	all := func(s *shop.Settings) { s.Plan.TradesOnHolidays = true }
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		day    holidays.Holiday
		want   bool
	}{
		{"by law", nil, kept, true},
		{"by law, trades on all", all, kept, false},
		{"by law, trades on that one", choose("Christmas Day", true), kept, false},
		{"by law, trades on another", choose("Easter Monday", true), kept, true},
		{"by some, nobody said", nil, some, false},
		{"by some, closed by choice", choose("Christmas Eve", false), some, true},
		{"by some, open by choice", choose("Christmas Eve", true), some, false},
		{"by the moon, nobody said", nil, moon, false},
		{"by the moon, closed by choice", choose("Eid al-Fitr", false), moon, true},
	} {
		s := example(t, c.change)
		if got := reminders.Keeps(&s.Settings, c.day); got != c.want {
			t.Errorf("%s: keeps it %t, want %t", c.name, got, c.want)
		}
	}
}

// A day whose hours are told in the chat is not asked about any more, an hour of its own is
// enough; what is told of another day, or of a person, answers nothing.
func TestDoubtedAnswered(t *testing.T) {
	const eve = shop.Date("2026-12-24") // doubtful in Austria, see TestDoubtful
	day := func(from, to shop.Date, c shop.Change) shop.Change { c.From, c.To = from, to; return c }
	for _, c := range []struct {
		name   string
		change shop.Change
		asked  bool
	}{
		{"opens later", day(eve, eve, shop.Change{Open: at(600)}), false},
		{"closes earlier", day(eve, eve, shop.Change{Close: at(840)}), false},
		{"nobody comes", day(eve, eve, shop.Change{Off: true}), false},
		{"the last day of several", day(eve.Add(-2), eve, shop.Change{Closed: true}), false},
		{"the first day of several", day(eve, eve.Add(2), shop.Change{Closed: true}), false},
		{"up to the day before", day(eve.Add(-2), eve.Add(-1), shop.Change{Closed: true}), true},
		{"from the day after", day(eve.Add(1), eve.Add(2), shop.Change{Closed: true}), true},
		{"somebody is ill", day(eve, eve, shop.Change{Absent: 2}), true},
		{"another's duty", day(eve, eve, shop.Change{Duty: shop.Duty{Opens: 2}}), true},
	} {
		s := example(t, func(s *shop.Settings) {
			s.Country, s.Zone, s.Plan.Changes = "AT", "Europe/Vienna", []shop.Change{c.change}
		})
		if got := reminders.Doubted(s, eve) != ""; got != c.asked {
			t.Errorf("%s: asked %t, want %t", c.name, got, c.asked)
		}
	}
	never := example(t, func(s *shop.Settings) {
		round(22 * 60)(s)
		s.Country, s.Zone, s.Plan.TradesOnHolidays = "AT", "Europe/Vienna", false
	})
	if got := reminders.Doubted(never, eve); got != "" {
		t.Errorf("a shop that never closes is asked about %q", got)
	}
}

// A shop that never closes trades on holidays until it says of one that it does not, and the
// day it has other hours on is one with an end.
func TestEndlessHolidays(t *testing.T) {
	never := func(change func(*shop.Settings)) func(*shop.Settings) {
		return func(s *shop.Settings) {
			round(22 * 60)(s)
			s.Plan.TradesOnHolidays = false
			if change != nil {
				change(s)
			}
		}
	}
	closed := func(s *shop.Settings) { s.Plan.Holidays = []shop.HolidayChoice{{Name: "Christmas Day"}} }
	for _, c := range []struct {
		name    string
		change  func(*shop.Settings)
		closed  reminders.Reason
		endless bool
	}{
		{"says nothing", nil, reminders.Trading, true},
		{"closes on that one", closed, reminders.Public, false},
		{"has hours of its own that day", func(s *shop.Settings) {
			s.Plan.Changes = []shop.Change{{From: "2026-12-25", To: "2026-12-25", Close: at(14 * 60)}}
		}, reminders.Trading, false},
	} {
		s := example(t, never(c.change))
		if d := reminders.On(s, "2026-12-25"); d.Closed != c.closed || d.Endless != c.endless {
			t.Errorf("%s: closed by %q, endless %t", c.name, d.Closed, d.Endless)
		}
	}
}

// The figures of a shop that never closes: an opening is due in its filling window, the
// closing at the figures, a missing one six hours later, and they are spoken of until then.
func TestEndlessDue(t *testing.T) {
	s := example(t, round(22*60))
	fill, _ := reminders.Due(s, wednesday, reminders.Filling)
	for _, c := range []struct {
		task       reminders.Task
		due, until string
	}{
		{reminders.Opening, fill.Format("2 15:04"), "25 22:00"},
		{reminders.Filling, fill.Format("2 15:04"), fill.Add(12 * time.Hour).Format("2 15:04")},
		{reminders.Closing, "25 22:00", "26 04:00"},
		{reminders.Unclosed, "26 04:00", "26 22:00"},
	} {
		due, ok := reminders.Due(s, wednesday, c.task)
		until := reminders.Until(s, wednesday, c.task)
		if !ok || due.Format("2 15:04") != c.due || until.Format("2 15:04") != c.until {
			t.Errorf("%s: due %t at %s, until %s; want %s, %s", c.task, ok, due, until, c.due, c.until)
		}
	}
}

// A shop that never closes: staff on duty at night are told of a fault at once, whoever
// manages or owns it when its night ends, today or tomorrow.
func TestClimbEndless(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		round(22 * 60)(s)
		s.Plan.Ladders.Fault = []shop.Rung{{After: 0, To: shop.List}, {After: 30, To: shop.Managers},
			{After: 60, To: shop.Owners}}
	})
	for began, want := range map[string]string{
		"2026-11-25 02:00": "1 25 02:00 list, 2 25 06:00 managers, 3 25 06:00 owners",
		"2026-11-25 22:20": "1 25 22:20 list, 2 25 22:50 managers, 3 26 06:00 owners",
		"2026-11-25 22:30": "1 25 22:30 list, 2 26 06:00 managers, 3 26 06:00 owners", // at 23:00 it is night
		"2026-11-25 05:30": "1 25 05:30 list, 2 25 06:00 managers, 3 25 06:30 owners", // at 06:00 no longer
		"2026-11-25 12:00": "1 25 12:00 list, 2 25 12:30 managers, 3 25 13:00 owners",
	} {
		if got := show(s, reminders.Climb(s, utc(t, began), reminders.Fault)); got != want {
			t.Errorf("from %s: %s\nwant %s", began, got, want)
		}
	}
}

// A rung is never before the one below it: where the managers sleep, what is for the list
// after them waits as well.
func TestClimbInOrder(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		round(22 * 60)(s)
		s.Plan.Ladders.Fault = []shop.Rung{{After: 0, To: shop.Managers}, {After: 30, To: shop.List},
			{After: 5 * 60, To: shop.List}}
	})
	for began, want := range map[string]string{
		"2026-11-25 02:00": "1 25 06:00 managers, 2 25 06:00 list, 3 25 07:00 list",
		"2026-11-25 05:30": "1 25 06:00 managers, 2 25 06:00 list, 3 25 10:30 list",
	} {
		if got := show(s, reminders.Climb(s, utc(t, began), reminders.Fault)); got != want {
			t.Errorf("from %s: %s\nwant %s", began, got, want)
		}
	}
}

// What comes due in the night of a shop that closes waits for its end, and an hour before an
// early opening is no night any more.
func TestClimbOverNight(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*shop.Settings)
		want   string
	}{
		"usual": {nil, "1 26 06:00 list, 2 26 06:00 managers, 3 26 22:50 owners"},
		"baker": {everyDay(4*60+30, 12*60), "1 26 03:30 list, 2 26 03:30 managers, 3 26 22:50 owners"},
	} {
		s := example(t, c.change)
		if got := show(s, reminders.Climb(s, utc(t, "2026-11-25 22:50"), reminders.Fault)); got != c.want {
			t.Errorf("%s: %s\nwant %s", name, got, c.want)
		}
	}
}

// The rung that begins the ladder proper is the first that is no nudge.
func TestFirstDue(t *testing.T) {
	nudge, due := reminders.Rung{No: 1, Nudge: true}, reminders.Rung{No: 3}
	for _, c := range []struct {
		rungs []reminders.Rung
		want  int
	}{
		{nil, 0}, {[]reminders.Rung{nudge}, 0}, {[]reminders.Rung{nudge, due, {No: 4}}, 3},
		{[]reminders.Rung{due, nudge}, 3},
	} {
		if got := reminders.FirstDue(c.rungs); got != c.want {
			t.Errorf("%v: %d, want %d", c.rungs, got, c.want)
		}
	}
}

// A rung of before the night is said when the night ends, unless a higher one came due by
// then, or the ladder is another and that rung is still to come.
func TestWaiting(t *testing.T) {
	clock := func(h int) time.Time { return time.Date(2026, 11, 26, h, 0, 0, 0, time.UTC) }
	rungs := []reminders.Rung{{No: 1, At: clock(2), To: shop.List}, {No: 2, At: clock(9), To: shop.Owners}}
	for _, c := range []struct {
		name     string
		number   string
		due, now time.Time
		want     bool
	}{
		{"waited", "1", clock(6), clock(6), true},
		{"late, and nothing came since", "1", clock(6), clock(8), true},
		{"a higher one came at that minute", "1", clock(6), clock(9), false},
		{"the higher one is due itself", "1", clock(9), clock(10), false},
		{"begun anew: still to come", "2", clock(6), clock(7), false},
		{"is due at that minute", "1", clock(2), clock(3), false},
		{"no such rung", "3", clock(6), clock(7), false},
		{"no number", "", clock(6), clock(7), false},
	} {
		got := reminders.Waiting(rungs, c.number, c.due, c.now)
		if !c.want {
			if got != nil {
				t.Errorf("%s: %v", c.name, got)
			}
			continue
		}
		if len(got) != 1 || got[0].No != 1 || got[0].To != shop.List || !got[0].At.Equal(c.due) {
			t.Errorf("%s: %v, want rung 1 at %s", c.name, got, c.due)
		}
	}
}

// Who puts a reminder off puts off those for the list alone, and only up to then.
// The closing of the example: 21:00, 21:15, 21:45 list, 22:15 managers, 22:45 owners.
func TestSkip(t *testing.T) {
	usual := func(*shop.Settings) {}
	alone := func(s *shop.Settings) { s.Plan.Ladders.Closing = []shop.Rung{{After: 0, To: shop.List}} }
	for _, c := range []struct {
		name             string
		change           func(*shop.Settings)
		now, until, want string // empty: none
	}{
		{"for half an hour", usual, "21:00", "21:30", "21:45"},
		{"to the minute of one", usual, "21:00", "21:45", "22:15"},
		{"a minute less", usual, "21:00", "21:44", "21:45"},
		{"for hours: the managers are told all the same", usual, "21:15", "23:30", "22:15"},
		{"at the minute of theirs: the owners", usual, "22:15", "23:30", "22:45"},
		{"after the last", usual, "22:45", "23:30", ""},
		{"a ladder of the list alone", alone, "21:00", "21:30", ""},
		{"which comes later than that", alone, "21:00", "21:14", "21:15"},
	} {
		s := example(t, c.change)
		n := reminders.Name{Date: wednesday, Task: reminders.Closing}
		clock := func(hm string) time.Time { return utc(t, "2026-11-25 "+hm) }
		got := reminders.Skip(s, n, clock(c.now), clock(c.until))
		if c.want == "" && !got.IsZero() || c.want != "" && !got.Equal(clock(c.want)) {
			t.Errorf("%s: the next is at %s, want %q", c.name, got, c.want)
		}
	}
}

// Whether a shop was to trade on any of the days up to one, both ends included.
func TestTraded(t *testing.T) {
	s := example(t, changes(shop.Change{From: "2026-11-10", To: "2026-11-20", Closed: true}))
	for _, c := range []struct {
		until shop.Date
		days  int
		want  bool
	}{
		{"2026-11-20", 10, false}, {"2026-11-20", 11, true}, // the 9th
		{"2026-11-21", 10, true}, {"2026-11-21", 0, true}, {"2026-11-20", 0, false}, {"2026-11-15", 3, false},
	} {
		if got := reminders.Traded(s, c.until, c.days); got != c.want {
			t.Errorf("%d days up to %s: traded %t, want %t", c.days, c.until, got, c.want)
		}
	}
}

// A slip is of the day it was printed on, of the one before while that night lasts, and
// never before the period it is told under. Where a day is closed it begins at noon.
func TestSlipDay(t *testing.T) {
	closed := changes(one(shop.Change{Closed: true}))
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		period shop.Date
		at     string
		want   shop.Date
	}{
		{"the day itself", nil, "2026-11-24", "2026-11-24 21:10", "2026-11-24"},
		{"the night after", nil, "2026-11-24", "2026-11-25 06:59", "2026-11-24"},
		{"when the next day opens", nil, "2026-11-24", "2026-11-25 07:00", "2026-11-25"},
		{"before that of a later period", nil, "2026-11-25", "2026-11-25 06:00", "2026-11-25"},
		{"printed before the period", nil, "2026-11-25", "2026-11-24 20:00", "2026-11-25"},
		{"two days on", nil, "2026-11-23", "2026-11-25 12:00", "2026-11-25"},
		{"two days on, at night", nil, "2026-11-23", "2026-11-25 03:00", "2026-11-24"},
		{"a closed day's morning", closed, "2026-11-24", "2026-11-25 11:59", "2026-11-24"},
		{"a closed day's noon", closed, "2026-11-24", "2026-11-25 12:00", "2026-11-25"},
		{"after a closed day", closed, "2026-11-24", "2026-11-26 06:00", "2026-11-25"},
		{"past midnight", everyDay(17*60, 60), "2026-11-24", "2026-11-25 01:30", "2026-11-24"},
		{"past midnight, in the afternoon", everyDay(17*60, 60), "2026-11-24", "2026-11-25 17:00", "2026-11-25"},
	} {
		s := example(t, c.change)
		if got := reminders.SlipDay(s, c.period, utc(t, c.at)); got != c.want {
			t.Errorf("%s: %s is of %s, want %s", c.name, c.at, got, c.want)
		}
	}
}

// Nobody is reached who is away, whatever group they are in; the owner at the end of all.
func TestReached(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		s.People = append(s.People, shop.Person{ID: 4, Name: "Dee", Role: shop.Manager})
		s.Plan.Duty[time.Wednesday] = shop.Duty{Opens: 2, Closes: 3}
	})
	for _, c := range []struct {
		task reminders.Task
		to   shop.Group
		away []shop.PersonID
		want shop.PersonID // alone
	}{
		{reminders.Opening, shop.List, nil, 2},
		{reminders.Closing, shop.List, nil, 3},
		{reminders.Fault, shop.List, nil, 3}, // who closes has the machine
		{reminders.Opening, shop.List, []shop.PersonID{2}, 3},
		{reminders.Opening, shop.List, []shop.PersonID{2, 3}, 4},
		{reminders.Opening, shop.List, []shop.PersonID{2, 3, 4}, 1},
		{reminders.Opening, shop.List, []shop.PersonID{1, 2, 3, 4}, 1},
		{reminders.Opening, shop.Managers, []shop.PersonID{4}, 1},
		{reminders.Opening, shop.Owners, []shop.PersonID{1}, 1},
	} {
		away := func(id shop.PersonID) bool {
			for _, a := range c.away {
				if a == id {
					return true
				}
			}
			return false
		}
		got := reminders.Reached(s, wednesday, c.task, c.to, away)
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%s for %s without %v: %v, want %d", c.task, c.to, c.away, got, c.want)
		}
	}
}

// What begins on a day that was called off is for that day while its usual hours last, and for
// the next one after them; a day of the week without hours has none to go by.
func TestTradesAllTheSame(t *testing.T) {
	off := changes(one(shop.Change{Closed: true}))
	never := func(s *shop.Settings) { s.Hours[time.Wednesday] = shop.Hours{} }
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		at     string
		want   shop.Date
	}{
		{"called off, opened all the same", off, "2026-11-25 10:00", "2026-11-25"},
		{"a minute before it would close", off, "2026-11-25 20:59", "2026-11-25"},
		{"when it would close", off, "2026-11-25 21:00", "2026-11-26"},
		{"nobody comes, and somebody did", changes(one(shop.Change{Off: true})), "2026-11-25 10:00", "2026-11-25"},
		{"a holiday", nil, "2026-12-25 10:00", "2026-12-25"},
		{"no hours that weekday", never, "2026-11-25 10:00", "2026-11-26"},
		{"no hours that weekday, and called off", func(s *shop.Settings) { never(s); off(s) },
			"2026-11-25 10:00", "2026-11-26"},
	} {
		s := example(t, c.change)
		if got := reminders.DayOf(s, utc(t, c.at)); got != c.want {
			t.Errorf("%s: what begins at %s is of %s, want %s", c.name, c.at, got, c.want)
		}
	}
}

// A shop that never closes, with figures about noon: the day is the date on which most of it
// lies, at noon sharp the one it begins on, and figures may be two hours late.
func TestEndlessAboutNoon(t *testing.T) {
	for figures, want := range map[int]string{
		12*60 - 1: "25 11:59", 12 * 60: "25 12:00", 12*60 + 1: "24 12:01",
	} {
		s := example(t, round(figures))
		if got := reminders.On(s, wednesday).Open.Format("2 15:04"); got != want {
			t.Errorf("figures at minute %d: the day begins %s, want %s", figures, got, want)
		}
	}
	s := example(t, round(13*60))
	for clock, want := range map[string]shop.Date{
		"12:59": wednesday, "14:59": wednesday, "15:00": wednesday.Add(1), "23:00": wednesday.Add(1),
	} {
		if got := reminders.Today(s, utc(t, "2026-11-25 "+clock)); got != want {
			t.Errorf("at %s it is %s, want %s", clock, got, want)
		}
	}
}

// Twelve months reach 364 days on: Easter Monday is 29 March 2027 and 17 April 2028 (Butcher's
// computus as the US Naval Observatory gives it).
func TestComingOfAMovingDay(t *testing.T) {
	s := example(t, nil)
	for from, want := range map[shop.Date]bool{"2027-04-18": false, "2027-04-19": true} {
		got := false
		for _, h := range reminders.Coming(&s.Settings, from) {
			got = got || h.Name == "Easter Monday"
		}
		if got != want {
			t.Errorf("from %s on Easter Monday is listed: %t", from, got)
		}
	}
}
