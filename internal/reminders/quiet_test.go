package reminders_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

func everyDay(open, end int) func(*shop.Settings) {
	return func(s *shop.Settings) {
		for d := range s.Hours {
			s.Hours[d] = shop.Hours{Open: open, Close: end}
		}
	}
}

// onClock is when a shop's clock shows a day and time.
func onClock(t *testing.T, s *shop.Shop, text string) time.Time {
	t.Helper()
	now, err := time.ParseInLocation("2006-01-02 15:04", text, s.Location)
	if err != nil {
		t.Fatal(err)
	}
	return now
}

// Night is from 23:00 to 06:00 unless the shop says otherwise, and no night while it
// trades, an hour before that and two after: worked out by hand at each of the ends.
func TestQuiet(t *testing.T) {
	day := func(night *shop.Hours, hours func(*shop.Settings)) func(*shop.Settings) {
		return func(s *shop.Settings) {
			s.Plan.Night = night
			if hours != nil {
				hours(s)
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*shop.Settings)
		quiet  []string // on 25 November
		loud   []string
	}{
		{"usual night", day(nil, nil),
			[]string{"23:01", "23:59", "00:00", "05:59"}, []string{"06:00", "06:30", "12:00", "22:59"}},
		{"two hours after the close", day(nil, everyDay(7*60, 22*60+30)),
			[]string{"00:31", "05:59"}, []string{"23:00", "23:59", "00:29", "00:30"}},
		{"an hour before the opening", day(nil, everyDay(4*60+30, 12*60)),
			[]string{"03:29", "23:00"}, []string{"03:30", "05:00", "22:59"}},
		{"past midnight", day(nil, everyDay(17*60, 60)),
			[]string{"03:01", "05:59"}, []string{"23:00", "00:59", "01:00", "03:00"}},
		{"an afternoon's rest", day(&shop.Hours{Open: 13 * 60, Close: 13*60 + 45}, everyDay(0, 0)),
			[]string{"13:00", "13:44"}, []string{"12:59", "13:45", "00:00", "23:30"}},
		{"from the half hour", day(&shop.Hours{Open: 22*60 + 30, Close: 5*60 + 15}, everyDay(9*60, 17*60)),
			[]string{"22:30", "23:00", "05:14"}, []string{"22:29", "05:15"}},
		{"no night", day(&shop.Hours{}, everyDay(9*60, 17*60)), nil, []string{"00:00", "03:00", "23:30"}},
	} {
		s := example(t, c.change)
		for want, clocks := range map[bool][]string{true: c.quiet, false: c.loud} {
			for _, clock := range clocks {
				if got := reminders.Quiet(s, onClock(t, s, "2026-11-25 "+clock)); got != want {
					t.Errorf("%s, %s: quiet %t, want %t", c.name, clock, got, want)
				}
			}
		}
	}
	// A day without trading has no hour before it opens and none after it closes.
	s := example(t, func(s *shop.Settings) {
		everyDay(5*60, 23*60)(s)
		s.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Closed: true}}
	})
	for clock, want := range map[string]bool{"00:30": false, "04:30": true, "23:30": true} {
		if got := reminders.Quiet(s, onClock(t, s, "2026-11-25 "+clock)); got != want {
			t.Errorf("closed that day, %s: quiet %t, want %t", clock, got, want)
		}
	}
}

// What waits for the end of a night comes at the first minute that is not quiet:
// looked for minute by minute, whatever the hours, the night and the zone.
func TestAwake(t *testing.T) {
	checks.Rapid(t, 50, 200, 5_000, func(rt *rapid.T) {
		quarter := rapid.Custom(func(t *rapid.T) int { return 15 * rapid.IntRange(0, 95).Draw(t, "quarter") })
		s := example(t, func(s *shop.Settings) {
			s.Zone = rapid.SampledFrom([]string{"Asia/Kolkata", "Europe/Dublin", "America/New_York"}).Draw(rt, "zone")
			for d := range s.Hours {
				s.Hours[d] = shop.Hours{}
				if rapid.IntRange(0, 3).Draw(rt, "trades") > 0 {
					opens := rapid.OneOf(quarter, rapid.Just(4*60+15)).Draw(rt, "open")
					s.Hours[d] = shop.Hours{Open: opens, Close: quarter.Draw(rt, "close")}
				}
			}
			if rapid.Bool().Draw(rt, "own night") {
				s.Plan.Night = &shop.Hours{Open: quarter.Draw(rt, "from"), Close: quarter.Draw(rt, "until")}
			}
		})
		months := []time.Month{time.March, time.July, time.October, time.November}
		month := rapid.SampledFrom(months).Draw(rt, "month")
		now := time.Date(2026, month, 1, 0, rapid.IntRange(0, 31*24*60).Draw(rt, "minute"), 0, 0, time.UTC)
		want := now
		for reminders.Quiet(s, want) {
			want = want.Add(time.Minute)
		}
		if got := reminders.Awake(s, now); !got.Equal(want) {
			rt.Fatalf("at %s: awake at %s, want %s", now.In(s.Location), got.In(s.Location), want.In(s.Location))
		}
	})
}

// Whoever waits at night is told when it ends, or an hour before the shop opens where that
// comes first, today or tomorrow; who does not wait, at once.
func TestAwakeByHand(t *testing.T) {
	baker := example(t, func(s *shop.Settings) {
		everyDay(3*60+30, 11*60)(s)
		s.Hours[time.Thursday] = shop.Hours{}
	})
	for now, want := range map[string]string{
		"2026-11-25 01:00": "2026-11-25 02:30", "2026-11-25 02:29": "2026-11-25 02:30",
		"2026-11-25 02:45": "2026-11-25 02:45", "2026-11-24 23:30": "2026-11-25 02:30",
		"2026-11-25 23:30": "2026-11-26 06:00", // on Thursday nobody bakes
		"2026-11-26 01:00": "2026-11-26 06:00", "2026-11-26 23:00": "2026-11-27 02:30",
		"2026-11-25 12:00": "2026-11-25 12:00",
	} {
		if got := reminders.Awake(baker, onClock(t, baker, now)); !got.Equal(onClock(t, baker, want)) {
			t.Errorf("at %s: awake at %s, want %s", now, got, want)
		}
	}
}

// A night that begins in the hour that is shown twice (1 November 2026 in New York, 02:00 back to
// 01:00; 15 U.S.C. 260a) ends when that hour is shown again: before its first minute, or, where it
// lasts nearly all day, at its last one.
func TestAwakeBeforeTheHourShownAgain(t *testing.T) {
	for night, want := range map[shop.Hours]string{
		{Open: 75, Close: 0}: "06:00", {Open: 105, Close: 75}: "06:15",
	} {
		s := example(t, func(s *shop.Settings) {
			s.Zone, s.Plan.Night = "America/New_York", &night
			everyDay(12*60, 13*60)(s)
		})
		at := time.Date(2026, 11, 1, 5, 50, 0, 0, time.UTC) // 01:50 in summer time
		if got := reminders.Awake(s, at).UTC().Format(time.TimeOnly); got != want+":00" {
			t.Errorf("night %v: awake at %s, want %s", night, got, want)
		}
	}
}

// A night that ends in the hour that is shown twice (25 October 2026 in Ireland, 02:00 back
// to 01:00; Directive 2000/84/EC, article 3) ends both times.
func TestAwakeInTheHourShownTwice(t *testing.T) {
	s := example(t, func(s *shop.Settings) { s.Plan.Night = &shop.Hours{Open: 22 * 60, Close: 90} })
	for now, want := range map[string]string{
		"00:10:20": "00:30:00", // 01:10 in summer time
		"00:40:00": "00:40:00",
		"01:10:20": "01:30:00", // 01:10 once again
		"01:40:00": "01:40:00",
	} {
		at, err := time.Parse(time.DateTime, "2026-10-25 "+now)
		if err != nil {
			t.Fatal(err)
		}
		if got := reminders.Awake(s, at).UTC().Format(time.TimeOnly); got != want {
			t.Errorf("at %s UTC: awake at %s, want %s", now, got, want)
		}
	}
}
