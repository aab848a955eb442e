package reminders_test

import (
	"fmt"
	"testing"
	"time"

	"shopfloat/internal/reminders"
)

// After an outage the highest rung of those who are told first speaks, and the others as long
// after it as by the ladder, before the next rung of all; up all the time the highest does.
func TestOvertaken(t *testing.T) {
	s := example(t, nil)
	at := func(hour, minute int) time.Time {
		return reminders.Instant(s.Location, "2026-11-25", hour*60+minute)
	}
	rungs := reminders.Rungs(s, "2026-11-25", reminders.Opening) // 06:45, 07:00, 07:20, 07:45, 08:30
	for _, x := range []struct {
		due, now time.Time
		want     string
	}{
		{at(6, 45), at(6, 45), "1"}, {at(7, 45), at(7, 45), "4"}, {at(7, 45), at(7, 50), "4"},
		{at(7, 20), at(7, 25), "3"}, {at(7, 1), at(7, 10), ""},
		{at(7, 20), at(7, 46), "3, 4 at 08:08"}, {at(6, 45), at(9, 40), "3, 4 at 10:05, 5 at 10:50"},
		{at(7, 45), at(9, 40), "4, 5 at 10:25"}, {at(7, 20), at(7, 26), "3"},
	} {
		first, later, ok := reminders.Overtaken(rungs, x.due, x.now)
		got := ""
		if ok {
			got = fmt.Sprint(first.No)
		}
		for _, r := range later {
			got += fmt.Sprintf(", %d at %s", r.No, r.At.In(s.Location).Format("15:04"))
		}
		if got != x.want {
			t.Errorf("due %s, at %s: %q, want %q", x.due.Format("15:04"), x.now.Format("15:04"), got, x.want)
		}
	}
	if r, ok := reminders.OfNumber(rungs, 4); !ok || !r.At.Equal(at(7, 45)) {
		t.Errorf("rung 4 is %+v", r)
	}
	if _, ok := reminders.OfNumber(rungs, 6); ok {
		t.Error("there is a rung 6")
	}
}
