package dialogs_test

import (
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/shop"
)

var weekdays = [7]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

func hours(open, end int) shop.Hours { return shop.Hours{Open: open * 60, Close: end * 60} }

func TestParseHours(t *testing.T) {
	all := func(h shop.Hours) (week [7]shop.Hours) {
		for d := range week {
			week[d] = h
		}
		return week
	}
	for text, want := range map[string][7]shop.Hours{
		"7-21":                               all(hours(7, 21)),
		"07:00-21:00":                        all(hours(7, 21)),
		"7–21":                               all(hours(7, 21)),
		"18-2":                               all(hours(18, 2)), // until the next day
		"0-24":                               all(hours(0, 24)),
		"Mon-Fri 7-21, Sat 8-20, Sun closed": {{}, hours(7, 21), hours(7, 21), hours(7, 21), hours(7, 21), hours(7, 21), hours(8, 20)},
		"monday-tuesday 7:30-12":             {{}, {Open: 450, Close: 720}, {Open: 450, Close: 720}},
		"sat-mon 9-12":                       {hours(9, 12), hours(9, 12), {}, {}, {}, {}, hours(9, 12)},
	} {
		got, ok := dialogs.ParseHours(text, weekdays, "closed")
		if !ok || got != want {
			t.Errorf("%q: %v %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{
		"", "7", "7-7", "25-26", "7:61-9", "closed", "mon 7-9, mon 8-10", "xyz 7-9", "mon tue 7-9", "mon-xyz 7-9", "7-21,", "-", "24-25", "a-b",
	} {
		if got, ok := dialogs.ParseHours(text, weekdays, "closed"); ok {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func FuzzParseHours(f *testing.F) {
	f.Add("mon-fri 7-21, sat 8-20, sun closed")
	f.Add("7–21")
	f.Fuzz(func(t *testing.T, text string) {
		week, ok := dialogs.ParseHours(text, weekdays, "closed")
		for _, h := range week {
			if ok && (h.Open < 0 || h.Close < 0 || h.Open >= 24*60 || h.Close > 24*60) {
				t.Errorf("%q gives %v", text, week)
			}
		}
	})
}
