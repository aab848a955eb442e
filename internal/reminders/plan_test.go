package reminders_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

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
		if _, twice := planned[d.Name.String()]; twice {
			t.Errorf("%s is planned twice", d.Name)
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
		"due:2026-11-24:closing": "", "due:2026-11-24:unclosed": "", "due:2026-12-03:opening": "3 06:45",
	} {
		if got, ok := planned[name]; !ok || got != want {
			t.Errorf("%s is planned for %q, want %q", name, got, want)
		}
	}
	if want := len(reminders.Tasks()) * (1 + 1 + 8); len(planned) != want { // yesterday, today, eight days
		t.Errorf("%d deadlines, want %d", len(planned), want)
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

// The agenda of any stretch is what all rungs of all days within two months have in it,
// in order of time: whatever the hours, also for a day that begins just after midnight,
// whose nudge comes the day before, and for rungs a day after the task.
func TestAgendaOfAnyStretch(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(rt *rapid.T) {
		s := example(t, func(s *shop.Settings) {
			quarter := rapid.IntRange(0, 95)
			everyDay(15*quarter.Draw(rt, "open"), 15*quarter.Draw(rt, "close"))(s)
			s.Plan.Night = &shop.Hours{} // none
			s.Plan.Ladders.Closing = []shop.Rung{{After: -15, To: shop.List}, {After: 24 * 60, To: shop.Owners}}
		})
		from := time.Date(2026, 3, 20, 0, rapid.IntRange(0, 14*24*60).Draw(rt, "from"), 0, 0, time.UTC)
		until := from.Add(time.Duration(rapid.IntRange(0, 3*24*60).Draw(rt, "long")) * time.Minute)
		var want []string
		for d := shop.Date("2026-03-01"); d < "2026-05-01"; d = d.Add(1) {
			for _, task := range reminders.Tasks() {
				for _, r := range reminders.Rungs(s, d, task) {
					if at := r.At.Unix(); from.Unix() <= at && at < until.Unix() {
						want = append(want, fmt.Sprint(at, d, task, r.No))
					}
				}
			}
		}
		var got []string
		items := reminders.Agenda(s, from, until)
		for i, it := range items {
			got = append(got, fmt.Sprint(it.At.Unix(), it.Date, it.Task, it.No))
			if i > 0 && it.At.Before(items[i-1].At) {
				rt.Fatalf("not in order at %s", it.At)
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			rt.Fatalf("from %s to %s: %q\nwant %q", from, until, got, want)
		}
	})
}

// The nudge for an opening just after midnight comes the evening before.
func TestAgendaOfTomorrowsNudge(t *testing.T) {
	s := example(t, everyDay(5, 12*60))
	from := time.Date(2026, 11, 25, 23, 49, 0, 0, time.UTC)
	items := reminders.Agenda(s, from, from.Add(2*time.Minute))
	late := len(items) == 1 && items[0].Date == "2026-11-26" && items[0].Task == reminders.Opening
	if !late || !items[0].Nudge {
		t.Errorf("%+v, want the nudge of 26 November's opening", items)
	}
}

// A shop that trades for a day less a minute, up to ten to midnight, is asked for the closing
// after midnight of the next day but one, and on a rung a day later, three days on, once more.
func TestAgendaThreeDaysOn(t *testing.T) {
	s := example(t, func(s *shop.Settings) {
		everyDay(23*60+50, 23*60+49)(s)
		s.Plan.Ladders.Closing = []shop.Rung{{After: 24 * 60, To: shop.Owners}}
	})
	from := time.Date(2026, 11, 28, 0, 4, 0, 0, time.UTC)
	items := reminders.Agenda(s, from, from.Add(time.Minute))
	if len(items) != 1 || items[0].Date != "2026-11-25" || items[0].Task != reminders.Closing {
		t.Errorf("%+v, want the closing of 25 November", items)
	}
}

// A name is read back from what it is written as, and from nothing else.
func TestParseName(t *testing.T) {
	for _, n := range []reminders.Name{
		{Date: "2026-11-25", Task: reminders.Closing}, {Date: "2026-11-25", Task: reminders.Opening, Later: 1},
		{Date: "2024-02-29", Task: reminders.Eve, Later: 12},
		{Date: "2026-11-25", Task: reminders.Closing, Later: 2, For: 77},
		{Date: "2026-11-25", Task: reminders.Doubt},
	} {
		if got, ok := reminders.ParseName(n.String()); !ok || got != n {
			t.Errorf("%s is read as %+v, %t", n, got, ok)
		}
	}
	for _, s := range []string{
		"", "due", "due:2026-11-25", "closing", "2026-11-25:closing", "was:2026-11-25:closing",
		"due:2026-11-31:closing", "due:25-11-2026:closing", "due::closing", "due:2026-11-25:", "due:2026-11-25:tea",
		"due:2026-11-25:ticks", "due:2026-11-25:closing:", "due:2026-11-25:closing:0", "due:2026-11-25:closing:-1",
		"due:2026-11-25:closing:01", "due:2026-11-25:closing:+1", "due:2026-11-25:closing:x",
		"due:2026-11-25:closing:1:0", "due:2026-11-25:closing:1:x", "due:2026-11-25:closing:0:2",
		"due:2026-11-25:closing:1:2:3", " due:2026-11-25:closing",
	} {
		if n, ok := reminders.ParseName(s); ok || n.Later != 0 {
			t.Errorf("%q is read as %+v", s, n)
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
