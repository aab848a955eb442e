package reminders_test

import (
	"fmt"
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
	want := "1 25 17:30 list, 2 25 20:30 list, 3 25 22:00 managers, 4 26 06:00 owners"
	if got := show(s, reminders.Climb(s, began, reminders.Ticks)); got != want {
		t.Errorf("%s\nwant %s", got, want)
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

// The plan names the next rung of every task from yesterday to the horizon, and
// nothing that is past.
func TestPlan(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		s.Plan.Changes = []shop.Change{{From: "2026-11-27", To: "2026-11-27", Off: true}}
	})
	now := time.Date(2026, 11, 25, 21, 20, 0, 0, time.UTC)
	planned := map[string]string{}
	for _, d := range reminders.Plan(s, now) {
		if !d.At.IsZero() && !d.At.After(now) {
			t.Errorf("%s is planned for %s, which is past", d.Name, d.At)
		}
		planned[d.Name.String()] = ""
		if !d.At.IsZero() {
			planned[d.Name.String()] = d.At.Format("2 15:04")
		}
	}
	for name, want := range map[string]string{
		"due:2026-11-25:opening": "", "due:2026-11-25:closing": "25 21:45", "due:2026-11-25:unclosed": "26 08:00",
		"due:2026-11-26:opening": "26 06:45", "due:2026-11-27:opening": "", "due:2026-11-27:closing": "",
		"due:2026-11-30:summary": "30 09:30", "due:2026-12-03:closing": "3 21:00",
	} {
		if got, ok := planned[name]; !ok || got != want {
			t.Errorf("%s is planned for %q, want %q", name, got, want)
		}
	}
}

// Two shops with the same hours in different zones are due at different instants.
func TestZonesOfShops(t *testing.T) {
	for zone, want := range map[string]string{
		"Europe/Dublin": "06:45", "America/New_York": "11:45", "Australia/Lord_Howe": "19:45", "Asia/Kolkata": "01:15",
	} {
		s := example(t, func(s *shop.Settings) { s.Zone = zone })
		if got := reminders.Rungs(s, "2026-11-25", reminders.Opening)[0].At.UTC().Format("15:04"); got != want {
			t.Errorf("%s: %s UTC, want %s", zone, got, want)
		}
	}
}

// Over both change-over days every rung keeps its time on the shop's clock.
func TestAgendaKeepsTheClock(t *testing.T) {
	for _, zone := range zones {
		s := example(t, func(s *shop.Settings) { s.Zone, s.Country, s.Plan.Summary = zone, "XX", "off" })
		from := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
		items := reminders.Agenda(s, from, from.AddDate(1, 0, 0))
		for i, it := range items {
			if i > 0 && it.At.Before(items[i-1].At) {
				t.Fatalf("%s: not in order at %s", zone, it.At)
			}
			if it.Task == reminders.Opening && it.No == 2 && it.At.In(s.Location).Format("15:04") != "07:00" {
				t.Errorf("%s: opening at %s", zone, it.At.In(s.Location))
			}
		}
		if len(items) < 365*13-13 || len(items) > 365*13+13 {
			t.Errorf("%s: %d reminders in a year of 13 a day", zone, len(items))
		}
	}
}

func FuzzParseName(f *testing.F) {
	for _, s := range []string{
		"due:2026-11-25:closing", "due:2026-11-25:opening:3", "due:2026-13-25:closing", "plan", "due:::",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if n, ok := reminders.ParseName(s); ok && n.String() != s {
			t.Errorf("%q is read as %q", s, n)
		}
	})
}
