package demand

import (
	"testing"
	"time"
)

// Easter Monday by the UK government's bank holiday data (2026, 2027), and by the open
// data's own calendar: the dips of 1996 and 1997 lie on 7 April and 30 March.
func TestEaster(t *testing.T) {
	for _, want := range []Day{
		DayOf(1996, time.April, 7), DayOf(1997, time.March, 30),
		DayOf(2026, time.April, 5), DayOf(2027, time.March, 28),
	} {
		year, _, _ := want.Date()
		if got := easter(year); got != want {
			t.Errorf("Easter of %d is %s, want %s", year, got, want)
		}
	}
}

// The earliest and latest possible dates of the rule, 22 March and 25 April, and a Sunday always.
func TestEasterStaysInItsSeason(t *testing.T) {
	for year := 1583; year <= 4099; year++ {
		got := easter(year)
		if got < DayOf(year, time.March, 22) || got > DayOf(year, time.April, 25) || got.Weekday() != time.Sunday {
			t.Errorf("Easter of %d is %s, a %s", year, got, got.Weekday())
		}
	}
}
