package telling_test

import (
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// How things stand: what is open and since when, what can be in each box by what was put in
// or by what the machine showed last, what is left in, and what is still to be done. While
// somebody counts no figure is told.
func TestStatus(t *testing.T) {
	const open = "staff1: open 40 150 200; [Confirm]\n"
	for name, s := range map[string]struct {
		script    string
		hides     bool
		want, not string
	}{
		"nothing open": {"", false, "not open", "Put in"},
		"open":         {open, false, "since 06:40 by Ben|20s  150 notes|€7,000|things are not ticked", ""},
		"after a level": {open + "@2026-11-25 12:00\nstaff1: level 30 140 200; [Confirm]\n" +
			"staff1: top up 20x5; [Confirm]\n", false, "12:00|20s  145 notes", "150 notes"},
		"while somebody counts": {open, true, "since 06:40 by Ben", "€|notes"},
	} {
		f := floor.New(t, dialogs.New)
		f.Play(s.script)
		tell := f.Talk("owner").Teller
		tell.Hides = func() bool { return s.hides }
		r := telling.Status(tell, lines.Of(f.Shop.Machines[0].Boxes), time.Time{})
		t.Run(name, func(t *testing.T) {
			floor.Expect(t, floor.Said(r.Body...), s.want, s.not)
			if (len(r.Buttons) > 0) != (s.script != "") {
				t.Errorf("buttons: %+v", r.Buttons)
			}
		})
	}
	f := floor.New(t, dialogs.New)
	r := telling.Status(f.Talk("owner").Teller, nil, f.Now)
	if got := floor.Said(r.Body...); got == "" || r.Key != "" || r.To != (chat.Audience{}) {
		t.Errorf("%+v", r)
	}
}
