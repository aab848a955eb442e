package rota_test

import (
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// Who comes later, or for somebody else, changes nothing by that: what may be done about it is
// offered, and a tap lays it down. It is said on Tuesday 30 December 2025.
func TestInstead(t *testing.T) {
	for said, want := range map[string]string{
		"ben is 20 minutes late":             "Ben comes later: nothing is changed|08:00 today|[Cleo opens]",
		"i'm running late":                   "Ada comes later|opening at 08:00 today|[Ben opens]",
		"ben can't come before 11":           "Ben comes later|opening at 11:00 today",
		"i will be in at 10 tomorrow":        "Ada comes later|opening at 10:00 Wed 31 Dec",
		"cleo covers for ben tomorrow":       "Cleo instead of Ben, Wed 31 Dec|[Cleo opens]|[Cleo closes]",
		"cleo works instead of ben today":    "Cleo instead of Ben, today",
		"closed from 1 january to 30 june":   "Closed Thu 1 Jan 2026|These are 181 days|[Yes, 181 days]",
		"we are closed until further notice": "Closed today to Fri 27 Feb 2026.|[Confirm]",
		"no more saturdays":                  "Mon-Fri  07:00-21:00|Sat      closed|[Confirm]",
		"pause until 3":                      "Until when?",
	} {
		f := floor.New(t, dialogs.New)
		f.At("2025-12-30 08:00")
		f.Expect(f.Says("owner", said), want, "recorded")
	}
	f := floor.New(t, dialogs.New)
	f.At("2025-12-30 08:00")
	f.Says("owner", "cleo covers for ben tomorrow")
	f.Taps("owner", "Cleo opens")
	if _, ok := f.Button("owner", "Confirm"); ok {
		f.Taps("owner", "Confirm")
	}
	f.LayDown()
	f.Expect(f.Says("owner", "who opens tomorrow"), "Wed 31 Dec, 07:00: opening, Cleo", "opening, Ben")
	f.Expect(f.Says("staff2", "closing for good on 31 march"), "Only an owner can say this.", "")
}
