package reminders_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

func show(s *shop.Shop, rungs []reminders.Rung) string {
	var out []string
	for _, r := range rungs {
		out = append(out, fmt.Sprintf("%d %s %s", r.No, r.At.In(s.Location).Format("2 15:04"), r.To))
	}
	return strings.Join(out, ", ")
}

func TestRungs(t *testing.T) {
	late := func(open, end int) func(*shop.Settings) {
		return func(s *shop.Settings) {
			for d := range s.Hours {
				s.Hours[d] = shop.Hours{Open: open, Close: end}
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		task   reminders.Task
		want   string
	}{
		{"opening", nil, reminders.Opening,
			"1 25 06:45 list, 2 25 07:00 list, 3 25 07:20 list, 4 25 07:45 managers, 5 25 08:30 owners"},
		{"closing", nil, reminders.Closing,
			"1 25 21:00 list, 2 25 21:15 list, 3 25 21:45 list, 4 25 22:15 managers, 5 25 22:45 owners"},
		{"the next day", nil, reminders.Unclosed, "1 26 08:00 list, 2 26 10:00 managers, 3 26 13:00 owners"},
		{"a baker's morning is no night", late(4*60, 12*60), reminders.Opening,
			"1 25 03:45 list, 2 25 04:00 list, 3 25 04:20 list, 4 25 04:45 managers, 5 25 05:30 owners"},
		{"past midnight", late(17*60, 60), reminders.Closing,
			"1 26 01:00 list, 2 26 01:15 list, 3 26 01:45 list, 4 26 02:15 managers, 5 26 02:45 owners"},
		{"too late at night is left to the morning", func(s *shop.Settings) {
			late(7*60, 22*60+30)(s)
			s.Plan.Ladders.Closing = []shop.Rung{{After: 0, To: shop.List}, {After: 240, To: shop.Owners}}
		}, reminders.Closing, "1 25 22:45 list"},
		{"own ladder", func(s *shop.Settings) {
			s.Plan.Ladders.Opening = []shop.Rung{{After: 5, To: shop.Owners}}
		}, reminders.Opening, "1 25 07:05 owners"},
		{"summary on the day chosen", func(s *shop.Settings) { s.Plan.Summary = "wed" },
			reminders.Summary, "1 25 09:30 owners"},
		{"no summary", func(s *shop.Settings) { s.Plan.Summary = "off" }, reminders.Summary, ""},
		{"no holiday tomorrow", nil, reminders.Eve, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := example(t, c.change)
			if got := show(s, reminders.Rungs(s, "2026-11-25", c.task)); got != c.want {
				t.Errorf("%s\nwant %s", got, c.want)
			}
		})
	}
	s := example(t, nil)
	if got := show(s, reminders.Rungs(s, "2026-12-24", reminders.Eve)); got != "1 24 09:30 managers" {
		t.Errorf("before Christmas: %q", got)
	}
}

// What stays open climbs from its beginning on; a rung in the night waits for
// its end.
func TestClimb(t *testing.T) {
	s := example(t, nil)
	began := time.Date(2026, 11, 25, 17, 0, 0, 0, time.UTC)
	for task, want := range map[reminders.Task]string{
		reminders.Ticks: "1 25 17:30 list, 2 25 20:30 list, 3 25 22:00 managers",
		reminders.Fault: "1 25 18:00 list, 2 25 21:00 managers, 3 26 17:00 owners",
		reminders.Owed:  "1 25 17:00 managers",
	} {
		if got := show(s, reminders.Climb(s, began, task)); got != want {
			t.Errorf("%s: %s\nwant %s", task, got, want)
		}
	}
}

// Only what comes before a task is due is a nudge.
func TestNudge(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		s.Plan.Ladders.Opening = []shop.Rung{
			{After: -30, To: shop.List}, {After: -1, To: shop.List},
			{After: 0, To: shop.List}, {After: 1, To: shop.Owners}}
	})
	var got []bool
	for _, r := range reminders.Rungs(s, "2026-11-25", reminders.Opening) {
		got = append(got, r.Nudge)
	}
	if want := []bool{true, true, false, false}; !slices.Equal(got, want) {
		t.Errorf("nudges %v, want %v", got, want)
	}
}

// When a task is due, and until when it is spoken of: until the close, the next morning,
// the one after that, and for half a day. A Friday closed by the week and a Wednesday.
func TestDueAndUntil(t *testing.T) {
	s := example(t, func(s *shop.Settings) { s.Hours[time.Friday] = shop.Hours{} })
	for _, c := range []struct {
		date       shop.Date
		task       reminders.Task
		due, until string // empty: not due
	}{
		{"2026-11-25", reminders.Opening, "25 07:00", "25 21:00"},
		{"2026-11-25", reminders.Closing, "25 21:15", "26 07:00"},
		{"2026-11-25", reminders.Unclosed, "26 07:00", "27 09:00"}, // Friday begins at nine all the same
		{"2026-11-26", reminders.Closing, "26 21:15", "27 09:00"},
		{"2026-11-26", reminders.Unclosed, "27 09:00", "28 07:00"},
		{"2026-11-27", reminders.Opening, "", ""},
		{"2026-11-27", reminders.Closing, "", ""},
		{"2026-11-27", reminders.Unclosed, "", ""},
		{"2026-11-25", reminders.Summary, "", ""},
		{"2026-11-30", reminders.Summary, "30 09:30", "30 21:30"}, // Monday, unless told otherwise
		{"2026-12-23", reminders.Eve, "", ""},
		{"2026-12-24", reminders.Eve, "", ""},                 // Christmas Day 2026 is a Friday, closed anyway
		{"2027-03-16", reminders.Eve, "16 09:30", "16 21:30"}, // St Patrick's Day is a Wednesday
		{"2026-11-25", reminders.Owed, "", ""},                // of no day
	} {
		at, ok := reminders.Due(s, c.date, c.task)
		if !ok && c.due == "" {
			continue
		}
		due := at.In(s.Location).Format("2 15:04")
		until := reminders.Until(s, c.date, c.task).In(s.Location).Format("2 15:04")
		if !ok || due != c.due || until != c.until {
			t.Errorf("%s of %s: due %t at %s, until %s; want %q, until %q",
				c.task, c.date, ok, due, until, c.due, c.until)
		}
	}
	if got := reminders.Notice(s, "2026-11-27").In(s.Location).Format("2 15:04"); got != "27 09:30" {
		t.Errorf("notices at %s, want 09:30", got)
	}
}

func TestHighest(t *testing.T) {
	s := example(t, nil)
	rungs := reminders.Rungs(s, "2026-11-25", reminders.Closing)
	clock := func(h, m int) time.Time { return time.Date(2026, 11, 25, h, m, 0, 0, time.UTC) }
	for _, c := range []struct {
		from, to time.Time
		want     int // 0: none
		next     int
	}{
		{clock(21, 0), clock(21, 0), 1, 2},
		{clock(21, 0), clock(21, 14), 1, 2},
		{clock(21, 0), clock(23, 59), 5, 0},  // down for three hours: one, not five
		{clock(21, 45), clock(22, 20), 4, 5}, // the first two were said before
		{clock(21, 16), clock(21, 44), 0, 3}, // moved meanwhile
	} {
		got, ok := reminders.Highest(rungs, c.from, c.to)
		if ok != (c.want > 0) || got.No != c.want {
			t.Errorf("from %s to %s: rung %d, want %d", c.from.Format("15:04"), c.to.Format("15:04"), got.No, c.want)
		}
		if next, _ := reminders.Next(rungs, c.to); next.No != c.next {
			t.Errorf("after %s comes rung %d, want %d", c.to.Format("15:04"), next.No, c.next)
		}
	}
}

// Two shops with the same hours in different zones are due at different instants.
func TestZonesOfShops(t *testing.T) {
	for zone, want := range map[string]string{
		"Europe/Dublin": "06:45", "America/New_York": "11:45", "Australia/Lord_Howe": "19:45",
		"Asia/Kolkata": "01:15",
	} {
		s := example(t, func(s *shop.Settings) { s.Zone = zone })
		if got := reminders.Rungs(s, "2026-11-25", reminders.Opening)[0].At.UTC().Format("15:04"); got != want {
			t.Errorf("%s: %s UTC, want %s", zone, got, want)
		}
	}
}
