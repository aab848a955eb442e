package reminders_test

import (
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

func TestOn(t *testing.T) {
	changes := func(list ...shop.Change) func(*shop.Settings) {
		return func(s *shop.Settings) { s.Plan.Changes = list }
	}
	day := shop.Date("2026-11-25") // a Wednesday
	one := func(c shop.Change) shop.Change { c.From, c.To = day, day; return c }
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		date   shop.Date
		want   string // hours, or why it is closed
	}{
		{"weekly", nil, day, "07:00-21:00"},
		{"closed weekday", func(s *shop.Settings) { s.Hours[time.Wednesday] = shop.Hours{} }, day, "weekly"},
		{"holiday", nil, "2026-12-25", "holiday"},
		{"trades on holidays", func(s *shop.Settings) { s.Plan.TradesOnHolidays = true }, "2026-12-25", "07:00-21:00"},
		{"closed today", changes(one(shop.Change{Closed: true})), day, "change"},
		{"nobody comes", changes(one(shop.Change{Off: true})), day, "off"},
		{"other days are as always", changes(one(shop.Change{Closed: true})), day.Add(1), "07:00-21:00"},
		{"closing at", changes(one(shop.Change{Close: at(15 * 60)})), day, "07:00-15:00"},
		{"closing past midnight", changes(one(shop.Change{Close: at(30)})), day, "07:00-00:30+1"},
		{"opening at", changes(one(shop.Change{Open: at(9 * 60)})), day, "09:00-21:00"},
		{"the later one wins",
			changes(one(shop.Change{Closed: true}), one(shop.Change{Open: at(600)})), day, "10:00-21:00"},
		{"taken back", changes(one(shop.Change{Closed: true}), one(shop.Change{Usual: true})), day, "07:00-21:00"},
		{"usual on a holiday",
			changes(shop.Change{From: "2026-12-25", To: "2026-12-25", Usual: true}), "2026-12-25", "07:00-21:00"},
		{"opens on a closed weekday", func(s *shop.Settings) {
			s.Hours[time.Wednesday] = shop.Hours{}
			s.Plan.Changes = []shop.Change{one(shop.Change{Open: at(600)})}
		}, day, "10:00-21:00"},
		{"ill changes no hours", changes(one(shop.Change{Absent: 2})), day, "07:00-21:00"},
	} {
		t.Run(c.name, func(t *testing.T) {
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
				t.Errorf("%s, want %s", got, c.want)
			}
		})
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
		"2026-11-26 03:00": {"2026-11-26", "2026-11-26"},
		"2026-11-27 01:00": {"2026-11-26", "2026-11-28"}, // Friday is closed
	} {
		now, err := time.ParseInLocation("2006-01-02 15:04", clock, s.Location)
		if err != nil {
			t.Fatal(err)
		}
		if got := [2]shop.Date{reminders.Today(s, now), reminders.DayOf(s, now)}; got != want {
			t.Errorf("%s belongs to %s and an opening is for %s, want %s", clock, got[0], got[1], want)
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
			{From: day.Add(7), To: day.Add(7), Absent: 2}, {From: day.Add(7), To: day.Add(7), Absent: 4},
			{From: day.Add(8), To: day.Add(8), Absent: 1},
		}
	})
	for _, c := range []struct {
		date shop.Date
		task reminders.Task
		to   shop.Group
		want []shop.PersonID
	}{
		{day, reminders.Opening, shop.List, []shop.PersonID{2}},
		{day, reminders.Closing, shop.List, []shop.PersonID{2, 3}}, // 77 works there no longer
		{day.Add(1), reminders.Opening, shop.List, []shop.PersonID{3}},
		{day.Add(7), reminders.Opening, shop.List, []shop.PersonID{3}}, // 2 is ill
		{day, reminders.Opening, shop.Managers, []shop.PersonID{4}},
		{day.Add(7), reminders.Opening, shop.Managers, []shop.PersonID{1}}, // 4 is ill: the owner
		{day, reminders.Opening, shop.Owners, []shop.PersonID{1}},
		{day.Add(8), reminders.Opening, shop.Owners, []shop.PersonID{1}}, // somebody must be told
	} {
		got := reminders.People(s, c.date, c.task, c.to)
		if len(got) != len(c.want) || got[0] != c.want[0] {
			t.Errorf("%s %s for %s: %v, want %v", c.date, c.task, c.to, got, c.want)
		}
	}
}
