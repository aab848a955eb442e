package founding_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/founding"
)

// The hours of a new shop are read as those of one that is there, the pause among them; what lacks
// something is asked back for just that.
func TestHoursOfANewShop(t *testing.T) {
	tell := floor.New(t, dialogs.New).Talk("owner").Teller
	tell.Now = time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	for said, want := range map[string]string{
		"9-6 lunch 1-2":                                "Mon-Sun 09:00-13:00, 14:00-18:00",
		"mon-fri 9-6 closed 1-2, sat 9-1":              "Mon-Fri 09:00-13:00, 14:00-18:00, Sat 09:00-13:00",
		"9-18 with a break from 13 to 14":              "Mon-Sun 09:00-13:00, 14:00-18:00",
		"mon-sat 9-18 closed for lunch 1 to 2":         "Mon-Sat 09:00-13:00, 14:00-18:00, Sun closed",
		"mon-fri 8-20 (closed 12.30-13.30)":            "Mon-Fri 08:00-12:30, 13:30-20:00, Sat-Sun closed",
		"mon-fri 9-13 and 14-18, wed 9-13":             "Mon-Tue 09:00-13:00, 14:00-18:00, Wed 09:00-13:00, Thu",
		"mon-thu 9-18, friday until 2 in the night":    "Mon-Thu 09:00-18:00, Fri 09:00-02:00",
		"mon to fri 9 till 1 and 3 till 7":             "Mon-Fri 09:00-13:00, 15:00-19:00",
		"half day wednesday":                           "? Until when?",
		"from 9 till late":                             "? Until when?",
		"9-18 except wednesday afternoon":              "? Until when?",
		"weekdays 9-6 and first saturday of the month": "? I could not read these hours.",
		"in summer 8-22":                               "? On which days of the year?",
	} {
		var d founding.Answers
		week, problem := d.ReadHours(tell, said)
		got := founding.Hours(tell, week)
		if problem != "" {
			got = "? " + problem
		}
		if !strings.HasPrefix(got, want) {
			t.Errorf("%q: %s, want %s", said, got, want)
		}
	}
}
