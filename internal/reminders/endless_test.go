package reminders_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// round is a shop that never closes, with figures at a time of day.
func round(figures int) func(*shop.Settings) {
	return func(s *shop.Settings) {
		everyDay(0, 24*60)(s)
		s.Nightly, s.Plan.TradesOnHolidays = false, true
		s.Plan.Figures = &figures
	}
}

func utc(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := time.Parse("2006-01-02 15:04", text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// Which day an instant belongs to: what begins a day, and anything else. Dublin is at UTC
// in winter. By hand along the clock.
func TestDayOfAnInstant(t *testing.T) {
	for _, c := range []struct {
		name            string
		change          func(*shop.Settings)
		at              string
		begins, happens shop.Date
	}{
		{"before the opening", nil, "2026-11-25 06:40", "2026-11-25", "2026-11-25"},
		{"after the close", nil, "2026-11-25 21:30", "2026-11-26", "2026-11-25"},
		{"midnight", nil, "2026-11-26 00:00", "2026-11-26", "2026-11-26"},
		{"a night's trade", everyDay(17*60, 60), "2026-11-26 00:30", "2026-11-25", "2026-11-25"},
		{"its count", everyDay(17*60, 60), "2026-11-26 01:20", "2026-11-26", "2026-11-25"},
		{"long after it", everyDay(17*60, 60), "2026-11-26 03:00", "2026-11-26", "2026-11-26"},
		{"a split day, in its pause", split, "2026-11-25 14:00", "2026-11-25", "2026-11-25"},
		{"a split day, over", split, "2026-11-25 19:05", "2026-11-26", "2026-11-25"},
		{"eight to eight, loaded before eight", everyDay(8*60, 8*60), "2026-11-25 07:55",
			"2026-11-25", "2026-11-24"},
		{"eight to eight, loaded at noon", everyDay(8*60, 8*60), "2026-11-25 12:00", "2026-11-25", "2026-11-25"},
		{"eight to eight, figures after eight", everyDay(8*60, 8*60), "2026-11-25 08:10",
			"2026-11-25", "2026-11-24"},
		{"never closes, figures in the evening", round(22 * 60), "2026-11-25 21:50", "2026-11-26", "2026-11-25"},
		{"never closes, figures are late", round(22 * 60), "2026-11-25 23:50", "2026-11-26", "2026-11-25"},
		{"never closes, late in the night", round(22 * 60), "2026-11-26 01:00", "2026-11-26", "2026-11-26"},
		{"never closes, figures at midnight", round(0), "2026-11-26 00:20", "2026-11-26", "2026-11-25"},
		{"never closes, figures at midnight, early", round(0), "2026-11-25 23:40", "2026-11-26", "2026-11-25"},
		{"never closes, figures in the morning", round(6 * 60), "2026-11-25 05:50", "2026-11-25", "2026-11-24"},
		{"told to close, before it opens", toldClose, "2026-11-24 16:00", "2026-11-25", "2026-11-24"},
		{"told to close, after yesterday's time", toldClose, "2026-11-25 16:00", "2026-11-25", "2026-11-25"},
		{"told to close, loaded in the last hour", toldClose, "2026-11-25 19:30", "2026-11-26", "2026-11-25"},
		{"told to close, its count", toldClose, "2026-11-25 20:40", "2026-11-26", "2026-11-25"},
		{"told to close, long after it", toldClose, "2026-11-25 22:30", "2026-11-26", "2026-11-26"},
		{"told to open, in the evening", toldOpen, "2026-11-25 16:00", "2026-11-25", "2026-11-25"},
		{"told to open, the day after", toldOpen, "2026-11-26 16:00", "2026-11-27", "2026-11-27"},
		{"never closes, the morning after", round(6 * 60), "2026-11-25 08:10", "2026-11-25", "2026-11-25"},
	} {
		s := example(t, c.change)
		at := utc(t, c.at)
		if got := reminders.DayOf(s, at); got != c.begins {
			t.Errorf("%s: what begins at %s is of %s, want %s", c.name, c.at, got, c.begins)
		}
		if got := reminders.Today(s, at); got != c.happens {
			t.Errorf("%s: what happens at %s is of %s, want %s", c.name, c.at, got, c.happens)
		}
	}
}

// toldClose is a shop that never closes, with figures at 13:00, of which somebody said that
// it closes at 20:00 on the 25th: that day goes on until its figures are in.
func toldClose(s *shop.Settings) {
	round(13 * 60)(s)
	s.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Close: new(20 * 60)}}
}

// toldOpen is the same shop where it opens at 10:00 that day, and goes on to midnight.
func toldOpen(s *shop.Settings) {
	round(13 * 60)(s)
	s.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Open: new(10 * 60)}}
}

func split(s *shop.Settings) {
	for d := range s.Hours {
		s.Hours[d] = shop.Hours{Open: 7 * 60, Close: 19 * 60, PauseFrom: 13 * 60, PauseTo: 15 * 60}
	}
}

// Days go on with the clock, none is left out but closed ones, and the ways to ask agree,
// whatever the hours.
func TestDaysInOrder(t *testing.T) {
	plans := map[string]func(*shop.Settings){"usual": nil, "night": everyDay(17*60, 60), "split": split,
		"eight to eight": everyDay(8*60, 8*60)}
	for _, f := range []int{0, 6 * 60, 12 * 60, 12*60 + 1, 22 * 60} {
		plans["figures at "+time.Time{}.Add(time.Duration(f)*time.Minute).Format("15:04")] = round(f)
	}
	plans["told to close"] = func(s *shop.Settings) {
		toldClose(s)
		s.Plan.Changes[0].From, s.Plan.Changes[0].To = "2026-03-25", "2026-03-26"
	}
	step := 24 * time.Hour / time.Duration(checks.Size(t, 80, 288, 1440))
	for name, change := range plans {
		s := example(t, change)
		days := reminders.NewDays(s)
		begins, happens := shop.Date(""), shop.Date("")
		for at := utc(t, "2026-03-20 00:00"); at.Before(utc(t, "2026-04-05 00:00")); at = at.Add(step) {
			b, h := reminders.DayOf(s, at), reminders.Today(s, at)
			if b < begins || h < happens || b < h || begins != "" && h > happens.Add(1) {
				t.Fatalf("%s: at %s begins %s after %s, happens %s after %s", name, at, b, begins, h, happens)
			}
			if days.DayOf(at) != b || days.Today(at) != h {
				t.Fatalf("%s: at %s remembered otherwise", name, at)
			}
			begins, happens = b, h
		}
	}
}

// A shop that never closes is asked for its figures at its time, and to fill within its
// window, each day at another minute. Who manages it is not woken.
func TestEndlessLadders(t *testing.T) {
	s := example(t, round(22*60))
	want := "1 25 21:45 list, 2 25 22:00 list, 3 25 22:30 list, 4 26 06:00 managers, 5 26 06:00 owners"
	if got := show(s, reminders.Rungs(s, wednesday, reminders.Closing)); got != want {
		t.Errorf("figures: %s", got)
	}
	minutes := map[int]bool{}
	for date := shop.Date("2026-11-01"); date < "2026-12-01"; date = date.Add(1) {
		due, ok := reminders.Due(s, date, reminders.Filling)
		again, _ := reminders.Due(s, date, reminders.Filling)
		minute := due.Hour()*60 + due.Minute()
		if !ok || !due.Equal(again) || shop.DateOf(due) != date || minute < 10*60 || minute >= 13*60 {
			t.Errorf("%s: filling is due at %s", date, due)
		}
		minutes[minute] = true
	}
	if len(minutes) < 20 {
		t.Errorf("filling at %d different minutes of 30 days", len(minutes))
	}
	if _, ok := reminders.Due(example(t, nil), wednesday, reminders.Filling); ok {
		t.Error("a shop that closes is asked to fill")
	}
	if d := reminders.On(s, "2026-12-25"); !d.Endless || d.Closed != reminders.Trading {
		t.Errorf("on Christmas Day it is %+v", d)
	}
}

// Seasons, other hours on holidays, single holidays that are kept otherwise, and regions.
func TestHoursOfTheYear(t *testing.T) {
	long, short := shop.Hours{Open: 8 * 60, Close: 22 * 60}, shop.Hours{Open: 10 * 60, Close: 14 * 60}
	seasons := func(s *shop.Settings) {
		s.Plan.Seasons = []shop.Season{
			{From: "06-01", To: "08-31", Hours: [7]*shop.Hours{nil, &long, &long, &long, &long, &long, &long}},
			{From: "12-20", To: "01-06", Hours: [7]*shop.Hours{1: &short}},
		}
	}
	holiday := func(s *shop.Settings) {
		s.Plan.TradesOnHolidays, s.Plan.HolidayHours = true, &short
		s.Plan.Holidays = []shop.HolidayChoice{{Name: "Christmas Day"}}
	}
	for _, c := range []dayCase{
		{"before the season", seasons, "2026-05-31", "07:00-21:00"},
		{"its first day", seasons, "2027-06-01", "08:00-22:00"},
		{"its last day, years on", seasons, "2037-08-31", "08:00-22:00"},
		{"a day of the week that it leaves alone", seasons, "2026-07-05", "07:00-21:00"},
		{"over the turn of the year", seasons, "2027-01-04", "10:00-14:00"},
		{"on a holiday", holiday, "2026-04-06", "10:00-14:00"},
		{"on one that is kept otherwise", holiday, "2026-12-25", "holiday"},
		{"one that it trades on", func(s *shop.Settings) {
			s.Plan.Holidays = []shop.HolidayChoice{{Name: "Easter Monday", Trades: true}}
		}, "2026-04-06", "07:00-21:00"},
		{"of the region", func(s *shop.Settings) { s.Country, s.Region = "GB", "SCT" }, "2027-11-30", "holiday"},
		{"of another region", func(s *shop.Settings) { s.Country, s.Region = "GB", "ENG" },
			"2027-11-30", "07:00-21:00"},
		{"nothing is known", func(s *shop.Settings) { s.Country = "JO" }, "2026-12-25", "07:00-21:00"},
	} {
		c.check(t)
	}
	s := example(t, split)
	if d := reminders.On(s, wednesday); !d.Hours.Split() {
		t.Errorf("the pause is gone: %+v", d)
	}
	s.Plan.Changes = []shop.Change{one(shop.Change{Close: at(12 * 60)})}
	if d := reminders.On(s, wednesday); d.Hours.Split() || d.Hours.Close != 12*60 {
		t.Errorf("closed before its pause it is %+v", d)
	}
}

// A day on which nobody is to be reminded has no rungs, and the next one has.
func TestMute(t *testing.T) {
	s := example(t, changes(one(shop.Change{Mute: true})))
	for _, task := range []reminders.Task{reminders.Opening, reminders.Closing, reminders.Unclosed} {
		if rungs := reminders.Rungs(s, wednesday, task); len(rungs) != 0 {
			t.Errorf("%s: %s", task, show(s, rungs))
		}
	}
	next := show(s, reminders.Rungs(s, wednesday.Add(1), reminders.Opening))
	if !strings.HasPrefix(next, "1 26 06:45") {
		t.Errorf("the next day: %s", next)
	}
	if d := reminders.On(s, wednesday); d.Closed != reminders.Trading {
		t.Errorf("the shop is %s", d.Closed)
	}
}
