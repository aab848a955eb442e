package reminders_test

import (
	"slices"
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// example is the example shop with its plan changed.
func example(t testing.TB, change func(*shop.Settings)) *shop.Shop {
	t.Helper()
	settings := shop.Example()
	if change != nil {
		change(&settings)
	}
	s, err := shop.New(1, 1, settings)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func at(minutes int) *int { return &minutes }

// dayCase is a date of the example shop with its plan changed.
type dayCase struct {
	name   string
	change func(*shop.Settings)
	date   shop.Date
	want   string // hours, or why it is closed
}

func (c dayCase) check(t *testing.T) {
	t.Helper()
	s := example(t, c.change)
	d := reminders.On(s, c.date)
	got := string(d.Closed)
	if d.Closed == reminders.Trading {
		got = d.Open.In(s.Location).Format("15:04") + "-" + d.Close.In(s.Location).Format("15:04")
		if shop.DateOf(d.Close.In(s.Location)) > c.date {
			got += "+1"
		}
	}
	if got != c.want {
		t.Errorf("%s: %s, want %s", c.name, got, c.want)
	}
}

const wednesday = shop.Date("2026-11-25")

func changes(list ...shop.Change) func(*shop.Settings) {
	return func(s *shop.Settings) { s.Plan.Changes = list }
}

// one makes a change one of that Wednesday alone.
func one(c shop.Change) shop.Change { c.From, c.To = wednesday, wednesday; return c }

func TestOn(t *testing.T) {
	for _, c := range []dayCase{
		{"weekly", nil, wednesday, "07:00-21:00"},
		{"closed weekday", func(s *shop.Settings) { s.Hours[time.Wednesday] = shop.Hours{} }, wednesday, "weekly"},
		{"holiday", nil, "2026-12-25", "holiday"},
		{"trades on holidays", func(s *shop.Settings) { s.Plan.TradesOnHolidays = true },
			"2026-12-25", "07:00-21:00"},
		{"closed today", changes(one(shop.Change{Closed: true})), wednesday, "change"},
		{"nobody comes", changes(one(shop.Change{Off: true})), wednesday, "off"},
		{"other days are as always", changes(one(shop.Change{Closed: true})), wednesday.Add(1), "07:00-21:00"},
		{"closing at", changes(one(shop.Change{Close: at(15 * 60)})), wednesday, "07:00-15:00"},
		{"closing past midnight", changes(one(shop.Change{Close: at(30)})), wednesday, "07:00-00:30+1"},
		{"opening at", changes(one(shop.Change{Open: at(9 * 60)})), wednesday, "09:00-21:00"},
		{"the later one wins",
			changes(one(shop.Change{Closed: true}), one(shop.Change{Open: at(600)})), wednesday, "10:00-21:00"},
		{"taken back",
			changes(one(shop.Change{Closed: true}), one(shop.Change{Usual: true})), wednesday, "07:00-21:00"},
		{"usual on a holiday",
			changes(shop.Change{From: "2026-12-25", To: "2026-12-25", Usual: true}), "2026-12-25", "07:00-21:00"},
		{"opens on a closed weekday", func(s *shop.Settings) {
			s.Hours[time.Wednesday] = shop.Hours{}
			s.Plan.Changes = []shop.Change{one(shop.Change{Open: at(600)})}
		}, wednesday, "10:00-21:00"},
		{"ill changes no hours", changes(one(shop.Change{Absent: 2})), wednesday, "07:00-21:00"},
	} {
		c.check(t)
	}
}

// Whole days and nights, shops that never said when they trade, and the ends of a change.
func TestOnAtTheEnds(t *testing.T) {
	day := wednesday
	for _, c := range []dayCase{
		{"all day and all night", changes(one(shop.Change{Close: at(7 * 60)})), day, "07:00-07:00+1"},
		{"a minute short of a day", changes(one(shop.Change{Close: at(7*60 - 1)})), day, "07:00-06:59+1"},
		{"a minute long", changes(one(shop.Change{Close: at(7*60 + 1)})), day, "07:00-07:01"},
		{"closed weekday on a holiday", func(s *shop.Settings) { s.Hours[time.Friday] = shop.Hours{} },
			"2026-12-25", "weekly"},
		{"usual on a closed weekday", func(s *shop.Settings) {
			s.Hours[time.Wednesday] = shop.Hours{}
			s.Plan.Changes = []shop.Change{one(shop.Change{Close: at(900)}), one(shop.Change{Usual: true})}
		}, day, "weekly"},
		{"opens, and never said when it does otherwise", func(s *shop.Settings) {
			s.Hours = [7]shop.Hours{}
			s.Plan.Changes = []shop.Change{one(shop.Change{Close: at(20 * 60)})}
		}, day, "09:00-20:00"},
		{"opens at an hour alone, and never said", func(s *shop.Settings) {
			s.Hours = [7]shop.Hours{}
			s.Plan.Changes = []shop.Change{one(shop.Change{Open: at(10 * 60)})}
		}, day, "10:00-18:00"},
		{"the first day of several", changes(shop.Change{From: day, To: day.Add(2), Closed: true}), day, "change"},
		{"the last day of several", changes(shop.Change{From: day.Add(-2), To: day, Closed: true}), day, "change"},
		{"the day before", changes(shop.Change{From: day.Add(1), To: day.Add(2), Closed: true}),
			day, "07:00-21:00"},
		{"the day after", changes(shop.Change{From: day.Add(-2), To: day.Add(-1), Closed: true}),
			day, "07:00-21:00"},
	} {
		c.check(t)
	}
}

// A shop that trades past midnight: its night belongs to the day before, and an
// opening after the close is for the next day of trading.
func TestPastMidnight(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		for d := range s.Hours {
			s.Hours[d] = shop.Hours{Open: 17 * 60, Close: 30}
		}
		s.Hours[time.Friday] = shop.Hours{}
	})
	for clock, want := range map[string][2]shop.Date{
		"2026-11-25 18:00": {"2026-11-25", "2026-11-25"},
		"2026-11-26 00:20": {"2026-11-25", "2026-11-25"},
		"2026-11-26 00:40": {"2026-11-25", "2026-11-26"}, // within the time to close: loaded again for the next day
		"2026-11-26 00:30": {"2026-11-25", "2026-11-25"}, // at the close
		"2026-11-26 02:29": {"2026-11-25", "2026-11-26"},
		"2026-11-26 02:30": {"2026-11-26", "2026-11-26"}, // two hours after it
		"2026-11-26 03:00": {"2026-11-26", "2026-11-26"},
		"2026-11-27 01:00": {"2026-11-26", "2026-11-28"}, // Friday is closed
	} {
		now := onClock(t, s, clock)
		if got := [2]shop.Date{reminders.Today(s, now), reminders.DayOf(s, now)}; got != want {
			t.Errorf("%s belongs to %s and an opening is for %s, want %s", clock, got[0], got[1], want)
		}
	}
}

// A day that is closed only since that very day, by the clock of the shop, may have been
// begun: its closing may be missing on the next one.
func TestSudden(t *testing.T) {
	day := shop.Date("2026-11-25")
	told := func(at string) time.Time {
		when, err := time.Parse(time.RFC3339, at)
		if err != nil {
			t.Fatal(err)
		}
		return when
	}
	closed := func(at string) shop.Change {
		return shop.Change{From: day, To: day.Add(1), Closed: true, At: told(at)}
	}
	off := closed("2026-11-25T12:00:00Z")
	off.Closed, off.Off = false, true
	later := shop.Change{From: day, To: day, Open: at(600), At: told("2026-11-25T13:00:00Z")}
	for _, c := range []struct {
		name     string
		zone     string
		changes  []shop.Change
		sudden   bool
		unclosed bool // a closing of that day may still be asked for
	}{
		{"told that day", "Europe/Dublin", []shop.Change{closed("2026-11-25T12:00:00Z")}, true, true},
		{"nobody comes any more", "Europe/Dublin", []shop.Change{off}, true, true},
		{"told the day before", "Europe/Dublin", []shop.Change{closed("2026-11-24T23:59:00Z")}, false, false},
		{"told at midnight", "Europe/Dublin", []shop.Change{closed("2026-11-25T00:00:00Z")}, true, true},
		{"midnight is elsewhere", "America/New_York", []shop.Change{closed("2026-11-25T00:00:00Z")}, false, false},
		{"told that day in New York", "America/New_York",
			[]shop.Change{closed("2026-11-26T04:00:00Z")}, true, true},
		{"told before, open after all", "Europe/Dublin", []shop.Change{closed("2026-11-24T12:00:00Z"), later},
			false, true},
		{"other hours, told that day", "Europe/Dublin", []shop.Change{later}, false, true},
		{"nothing told", "Europe/Dublin", nil, false, true},
	} {
		s := example(t, func(s *shop.Settings) { s.Zone, s.Plan.Changes = c.zone, c.changes })
		if got := reminders.On(s, day).Sudden; got != c.sudden {
			t.Errorf("%s: sudden %t, want %t", c.name, got, c.sudden)
		}
		at, ok := reminders.Due(s, day, reminders.Unclosed)
		if ok != c.unclosed || ok && shop.DateOf(at.In(s.Location)) != day.Add(1) {
			t.Errorf("%s: unclosed is due %t (%s), want %t", c.name, ok, at, c.unclosed)
		}
		if d := reminders.On(s, day.Add(1)); d.Sudden {
			t.Errorf("%s: the day after is sudden as well", c.name)
		}
	}
}

// The day an opening is for is looked for ten days ahead and no further.
func TestNextTradingDay(t *testing.T) {
	for _, c := range []struct {
		closed int // days after the 25th
		want   shop.Date
	}{{0, "2026-11-26"}, {1, "2026-11-27"}, {9, "2026-12-05"}, {10, "2026-11-26"}} {
		s := example(t, func(s *shop.Settings) {
			if c.closed > 0 {
				s.Plan.Changes = []shop.Change{
					{From: "2026-11-26", To: shop.Date("2026-11-25").Add(c.closed), Closed: true}}
			}
		})
		if got := reminders.After(s, "2026-11-25"); got != c.want {
			t.Errorf("%d days closed: the next is %s, want %s", c.closed, got, c.want)
		}
	}
}

// What is remembered of a year is what is worked out day by day, asked in any order.
func TestDays(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		s.Hours[time.Saturday] = shop.Hours{Open: 20 * 60, Close: 3 * 60}
		s.Plan.Changes = []shop.Change{{From: "2026-03-02", To: "2026-03-06", Off: true}}
	})
	days := reminders.NewDays(s)
	for i := range 2 * 365 {
		date := shop.Date("2026-01-01").Add(i * 7 % 365)
		if got, want := days.On(date), reminders.On(s, date); got != want {
			t.Fatalf("%s: %+v, want %+v", date, got, want)
		}
		at := date.Time().Add(time.Duration(i*37%1440) * time.Minute)
		if got, want := days.Today(at), reminders.Today(s, at); got != want {
			t.Fatalf("%s belongs to %s, want %s", at, got, want)
		}
		if got, want := days.DayOf(at), reminders.DayOf(s, at); got != want {
			t.Fatalf("an opening at %s is for %s, want %s", at, got, want)
		}
	}
}

func TestPeople(t *testing.T) {
	day := shop.Date("2026-11-25")
	s := example(t, func(s *shop.Settings) {
		s.People = append(s.People, shop.Person{ID: 4, Name: "Dee", Role: shop.Manager},
			shop.Person{ID: 5, Name: "Eli", Role: shop.Bookkeeper})
		s.Plan.Duty[time.Wednesday] = shop.Duty{Opens: 2, Closes: 77}
		s.Plan.Changes = []shop.Change{
			{From: day.Add(1), To: day.Add(1), Duty: shop.Duty{Opens: 3}},
			{From: day.Add(2), To: day.Add(2), Duty: shop.Duty{Closes: 2}},
			{From: day.Add(2), To: day.Add(2), Close: at(900)}, // changes no duty
			{From: day.Add(7), To: day.Add(7), Absent: 2}, {From: day.Add(7), To: day.Add(7), Absent: 4},
			{From: day.Add(8), To: day.Add(8), Absent: 1},
			{From: day.Add(9), To: day.Add(9), Absent: 2}, {From: day.Add(9), To: day.Add(9), Absent: 3},
			{From: day.Add(14), To: day.Add(14), Duty: shop.Duty{Opens: 3, Closes: 3}},
			{From: day.Add(14), To: day.Add(14), Usual: true},
		}
	})
	for _, c := range []struct {
		date shop.Date
		task reminders.Task
		to   shop.Group
		want []shop.PersonID
	}{
		{day, reminders.Opening, shop.List, []shop.PersonID{2}},
		{day, reminders.Ticks, shop.List, []shop.PersonID{2}},      // a checklist is the opening's
		{day, reminders.Closing, shop.List, []shop.PersonID{2, 3}}, // 77 works there no longer
		{day.Add(1), reminders.Opening, shop.List, []shop.PersonID{3}},
		{day.Add(1), reminders.Closing, shop.List, []shop.PersonID{2, 3}},
		{day.Add(2), reminders.Opening, shop.List, []shop.PersonID{2, 3}},
		{day.Add(2), reminders.Closing, shop.List, []shop.PersonID{2}},
		{day.Add(7), reminders.Opening, shop.List, []shop.PersonID{3}},  // 2 is ill
		{day.Add(9), reminders.Opening, shop.List, []shop.PersonID{4}},  // all staff are: the manager
		{day.Add(14), reminders.Opening, shop.List, []shop.PersonID{2}}, // as every Wednesday again
		{day, reminders.Opening, shop.Managers, []shop.PersonID{4}},
		{day.Add(7), reminders.Opening, shop.Managers, []shop.PersonID{1}}, // 4 is ill: the owner
		{day, reminders.Opening, shop.Owners, []shop.PersonID{1}},
		{day.Add(8), reminders.Opening, shop.Owners, []shop.PersonID{1}}, // somebody must be told
	} {
		if got := reminders.People(s, c.date, c.task, c.to); !slices.Equal(got, c.want) {
			t.Errorf("%s %s for %s: %v, want %v", c.date, c.task, c.to, got, c.want)
		}
	}
}

// Who stands in for the managers is told as one of them and as staff, once each.
func TestDeputy(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		s.People[2].Deputy = true
		s.People = append(s.People, shop.Person{ID: 4, Name: "Dee", Role: shop.Owner, Deputy: true})
	})
	for to, want := range map[shop.Group][]shop.PersonID{
		shop.List: {2, 3}, shop.Managers: {3}, shop.Owners: {1, 4},
	} {
		if got := reminders.People(s, "2026-11-25", reminders.Closing, to); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", to, got, want)
		}
	}
}
