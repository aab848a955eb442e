package dialogs_test

import (
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// What people say about days that are different, on Wednesday 25 November 2026,
// and how it is read back; "?" is asked how to say it.
func TestShiftSentences(t *testing.T) {
	for said, want := range map[string]string{
		"closed today":                              "Closed today.",
		"Closed.":                                   "Closed today.",
		"closed tomorrow":                           "Closed Thu 26 Nov.",
		"we are closed on friday":                   "Closed Fri 27 Nov.",
		"closed wednesday":                          "Closed today.",
		"closed 24 to 27 december":                  "Closed Thu 24 Dec to Sun 27 Dec.",
		"closed 24-27 dec":                          "Closed Thu 24 Dec to Sun 27 Dec.",
		"closed 24th december to 2nd january":       "Closed Thu 24 Dec to Sat 2 Jan 2027.",
		"closed december 24":                        "Closed Thu 24 Dec.",
		"closed 2 january":                          "Closed Sat 2 Jan 2027.",
		"closed friday to sunday":                   "Closed Fri 27 Nov to Sun 29 Nov.",
		"closed until friday":                       "Closed today to Fri 27 Nov.",
		"closed 2026-12-24":                         "Closed Thu 24 Dec.",
		"closed 29 february":                        "Closed Tue 29 Feb 2028.", // of 2028
		"closed 31 february":                        "?",
		"closed 24":                                 "?",
		"closed for ever":                           "Closed for good from Wed 25 Nov on.",
		"closing at 15:00 today":                    "Closing at 15:00 today.",
		"closing at 3 pm":                           "Closing at 15:00 today.",
		"closing at 3 today":                        "Closing at 15:00 today.", // it is never open at 3:00
		"closed from 24 to 27 december":             "Closed Thu 24 Dec to Sun 27 Dec.",
		"ben is ill":                                "Ben cannot come today.",
		"ben is on holiday 1 to 14 december":        "Ben cannot come Tue 1 Dec to Mon 14 Dec.",
		"not today":                                 "Nobody is reminded today.",
		"pause until friday":                        "Nobody is reminded today to Fri 27 Nov.",
		"close at 15.30 tomorrow":                   "Closing at 15:30 Thu 26 Nov.",
		"closing at 25":                             "?",
		"closing at noon":                           "Closing at 12:00 today.",
		"opening at 9 on saturday":                  "Opening at 09:00 Sat 28 Nov.",
		"open at 10am tomorrow":                     "Opening at 10:00 Thu 26 Nov.",
		"open as usual tomorrow":                    "Open as usual Thu 26 Nov.",
		"I'm ill":                                   "You cannot come today.",
		"I’m sick until friday":                     "You cannot come today to Fri 27 Nov.",
		"Ben opens today":                           "Ben opens today.",
		"cleo closes tomorrow":                      "Cleo closes Thu 26 Nov.",
		"I open on saturday":                        "Ada opens Sat 28 Nov.",
		"nobody comes, machine stays off":           "Nobody comes today, the machine stays off.",
		"nobody comes on friday, machine stays off": "Nobody comes Fri 27 Nov, the machine stays off.",
	} {
		f := newFloor(t)
		got := f.Says("owner", said)
		switch {
		case want == "?":
			if !strings.Contains(got, "Like: ") || strings.Contains(got, "[Confirm]") {
				t.Errorf("%q is taken for\n%s", said, got)
			}
		case !strings.Contains(got, want) || !strings.Contains(got, "[Confirm]"):
			t.Errorf("%q is taken for\n%swant %s", said, got, want)
		}
	}
}

// Lines of the plan, and how the hours look then.
func TestPlanLines(t *testing.T) {
	for said, want := range map[string]string{
		"mon-fri 8-20":                      "Mon-Fri  08:00-20:00",
		"mon, wed and fri 8:30 to 18":       "Mon      08:30-18:00",
		"sun closed":                        "Sun      closed",
		"every day 17-0:30":                 "Mon-Sun  17:00-00:30",
		"sat-mon 9am-5pm":                   "Mon      09:00-17:00",
		"sat ben opens":                     "Sat      07:00-21:00  Ben opens",
		"daily cleo closes":                 "Mon-Sun  07:00-21:00  Cleo closes",
		"holidays open":                     "Public holidays: open.",
		"summary friday":                    "Weekly summary: Fri.",
		"summary off":                       "No weekly summary.",
		"nudges off":                        "No reminders of level checks.",
		"night 22-5":                        "Quiet from 22:00 to 05:00.",
		"reminders closing 0 list, 9 owner": "Reminders, closing: 0 list, 9 owners",
		"mon":                               "I don't understand: mon",
		"mon-":                              "I don't understand: mon-",
		"mon 8":                             "I don't understand: mon 8",
		"mon 8-25":                          "I don't understand: mon 8-25",
		"holidays perhaps":                  "I don't understand: holidays perhaps",
		"reminders closing list":            "I don't understand: closing list",
		"sat zoe opens":                     "I don't understand: sat zoe opens",
		"night":                             "I don't understand: night",
	} {
		f := newFloor(t)
		f.Says("owner", "hours")
		if got := f.Says("owner", said); !strings.Contains(got, want) {
			t.Errorf("%q:\n%swant %s", said, got, want)
		}
	}
}

// Whatever is said about days or typed as a plan is answered, and what a
// confirmation lays down is a shop again.
func FuzzShift(f *testing.F) {
	for _, s := range []string{
		"closed 24 to 27 december", "closing at 15:00 today", "ben opens -", "hours mon-fri 8-20",
		"hours night 23-6",
		"reminders closing -15 list, 0 list, 90 owners", "do not load until friday, police", "closed 24-",
		"ill 31 feb", "i opens",
	} {
		f.Add(s)
	}
	fl := newFloor(f) // steps change nothing in it
	f.Fuzz(func(t *testing.T, said string) {
		in := chat.Input{Chat: floor.ChatOf("owner"), At: fl.Now, Kind: chat.Text, Text: said}
		res := fl.Engine.Step(chat.State{}, in, fl.Facts("owner"))
		for _, r := range res.Replies {
			for _, row := range r.Buttons {
				for _, b := range row {
					if b.Label == "Confirm" {
						tap := chat.Input{Chat: in.Chat, At: fl.Now, Kind: chat.Press, Tap: b.Data}
						laidDown(t, fl, fl.Engine.Step(res.State, tap, fl.Facts("owner")))
					}
				}
			}
		}
	})
}

func laidDown(t *testing.T, f *floor.Floor, res chat.Result) {
	t.Helper()
	if res.Settings == nil {
		return
	}
	if _, err := shop.New(1, f.Shop.Version+1, *res.Settings); err != nil {
		t.Errorf("laid down: %v", err)
	}
}

// No tap that was not offered lays anything down for somebody who is no manager,
// and none ends the program.
func FuzzReminderTap(f *testing.F) {
	for _, s := range []string{
		"o:closed:closing.20261125.1", "o:later:opening.20261125.1.15", "o:usual:20261225",
		"o:duty:opens.20261125.2",
		"o:say:close-900.20261125.20261125", "o:lift:hold", "o:start:unclosed.20261124.1",
		"o:later:opening.99999999.7.15",
	} {
		f.Add(s)
	}
	fl := newFloor(f) // steps change nothing in it
	f.Fuzz(func(t *testing.T, data string) {
		for _, who := range []string{"staff1", "owner"} {
			in := chat.Input{Chat: floor.ChatOf(who), At: fl.Now, Kind: chat.Press, Tap: data}
			res := fl.Engine.Step(chat.State{}, in, fl.Facts(who))
			if who == "staff1" && res.Settings != nil {
				t.Errorf("%q by staff lays down a plan", data)
			}
			laidDown(t, fl, res)
		}
	})
}
