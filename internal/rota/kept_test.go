package rota_test

import (
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What is said of hours and confirmed is what the shop keeps: on Tuesday 30 December 2025, in an
// Irish shop that is open from 9 to 18 but on Sundays and holidays.
func TestWhatIsSaidIsKept(t *testing.T) {
	type days map[shop.Date]string
	for _, c := range []struct {
		said string
		kept days
	}{
		{"closed for lunch 1-2 today", days{"2025-12-30": "09:00 18:00", "2025-12-31": "09:00 18:00"}},
		{"closed for easter", days{"2026-04-02": "09:00 18:00", "2026-04-03": "closed",
			"2026-04-06": "closed", "2026-04-07": "09:00 18:00"}},
		{"tonight until 10", days{"2025-12-30": "09:00 22:00", "2025-12-31": "09:00 18:00"}},
		{"sunday 11-4", days{"2026-01-04": "11:00 16:00", "2026-01-11": "11:00 16:00"}},
		{"sunday 11 january open 12 to 5", days{"2026-01-11": "12:00 17:00", "2026-01-04": "closed"}},
		{"from monday we close at 7", days{"2026-01-03": "09:00 18:00", "2026-01-05": "09:00 19:00"}},
		{"friday till 2am", days{"2026-01-02": "09:00 02:00", "2026-01-03": "09:00 18:00"}},
		{"closed from 24 to 27 december", days{"2026-12-23": "09:00 18:00", "2026-12-24": "closed",
			"2026-12-28": "09:00 18:00"}},
		{"hours june to august 8-22", days{"2026-05-30": "09:00 18:00", "2026-06-02": "08:00 22:00",
			"2026-08-31": "08:00 22:00", "2026-09-01": "09:00 18:00", "2027-07-01": "08:00 22:00"}},
		{"on bank holidays 10-16", days{"2026-03-17": "10:00 16:00", "2026-03-18": "09:00 18:00"}},
		{"hours good friday 9-13", days{"2026-04-03": "09:00 13:00", "2027-03-26": "09:00 13:00"}},
		{"hours holidays open except christmas day", days{"2026-03-17": "09:00 18:00",
			"2026-12-25": "closed"}},
		{"closing for good on 31 march", days{"2026-03-31": "09:00 18:00", "2026-04-01": "closed",
			"2029-04-04": "closed"}},
		{"closed on mondays from now on", days{"2026-01-05": "closed", "2026-01-06": "09:00 18:00"}},
	} {
		f := floor.New(t, dialogs.New)
		day := shop.Hours{Open: 9 * 60, Close: 18 * 60}
		f.Shop.Hours = [7]shop.Hours{{}, day, day, day, day, day, day}
		f.At("2025-12-30 08:00")
		said := f.Says("owner", c.said)
		if _, ok := f.Button("owner", "Confirm"); !ok {
			t.Errorf("%q: nothing to confirm in\n%s", c.said, said)
			continue
		}
		f.Taps("owner", "Confirm")
		f.LayDown()
		for date, want := range c.kept {
			d, got := reminders.On(f.Shop, date), "closed"
			if d.Closed == reminders.Trading {
				got = d.Open.In(f.Shop.Location).Format("15:04 ") + d.Close.In(f.Shop.Location).Format("15:04")
			}
			if got != want {
				t.Errorf("%q: %s is %s, want %s", c.said, date, got, want)
			}
		}
	}
}
