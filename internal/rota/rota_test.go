package rota_test

import (
	"fmt"
	"testing"

	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
)

func minutes(n int) *int { return &n }

// A change that only a manager may make goes into a button and comes out of it as it was;
// what no button ever said is none.
func TestButtonsOfChanges(t *testing.T) {
	days := func(x shop.Change) shop.Change {
		x.From, x.To = "2026-12-24", "2026-12-27"
		return x
	}
	for said, x := range map[string]shop.Change{
		"hours-480-780-0-0.20261224.20261227": days(shop.Change{Open: minutes(480), Close: minutes(780)}),
		"hours-420-1140-780-900.20261224.20261227": days(shop.Change{Open: minutes(420), Close: minutes(1140),
			PauseFrom: 780, PauseTo: 900}),
		"closed.20261224.20261227":     days(shop.Change{Closed: true}),
		"off.20261224.20261227":        days(shop.Change{Off: true}),
		"usual.20261224.20261227":      days(shop.Change{Usual: true}),
		"open-0.20261224.20261227":     days(shop.Change{Open: minutes(0)}),
		"close-1440.20261224.20261227": days(shop.Change{Close: minutes(1440)}),
	} {
		if got := rota.Button(x); got != said {
			t.Errorf("%+v is said as %s, want %s", x, got, said)
		}
		back, key, ok := rota.Tapped(nil, said)
		if !ok || key != rota.Key(x) || fmt.Sprint(back.From, back.To, back.Closed, back.Off, back.Usual,
			back.PauseFrom, back.PauseTo) !=
			fmt.Sprint(x.From, x.To, x.Closed, x.Off, x.Usual, x.PauseFrom, x.PauseTo) ||
			value(back.Open) != value(x.Open) ||
			value(back.Close) != value(x.Close) {
			t.Errorf("%s: %+v %s %t", said, back, key, ok)
		}
	}
	for _, said := range []string{"", "closed", "closed.20261224", "closed.20261227.20261224",
		"open-1440.20261224.20261224", "open--1.20261224.20261224", "close-1441.20261224.20261224",
		"hours-480.20261224.20261224", "hours-480-780-900-700.20261224.20261224",
		"hours-480-2000-0-0.20261224.20261224",
		"hours-480-780-0-0x.20261224.20261224",
		"open-x.20261224.20261224", "party.20261224.20261224",
		"closed.2026-12-24.20261224", "closed.20261332.20261332", "closed.20261224.20261227.1"} {
		if x, _, ok := rota.Tapped(nil, said); ok {
			t.Errorf("%s says %+v", said, x)
		}
	}
}

func value(n *int) int {
	if n == nil {
		return -1
	}
	return *n
}

// Who is meant, and what for, is read from the beginning of a text; the longest name wins, and
// "I" is the speaker.
func TestWhoIsMeant(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	c.F.Person = shop.Person{ID: 1, Name: "Ada"}
	c.F.Shop.People = []shop.Person{c.F.Person, {ID: 2, Name: "Ben"}, {ID: 3, Name: "Ben Hur"}}
	for text, want := range map[string]string{
		"ben is ill until friday": "2 2026-11-26 2026-11-27", "Ben Hur is ill": "3 2026-11-26 2026-11-26",
		"i am ill": "1 2026-11-26 2026-11-26", "i'm on leave today": "1 2026-11-26 2026-11-26",
		"i am off now": "", "i have holiday on friday": "1 2026-11-27 2026-11-27",
		"ben": "", "cleo is ill": "", "ben opens tomorrow": "",
		"ben and ben hur are ill": "2 2026-11-26 2026-11-26; 3 2026-11-26 2026-11-26",
	} {
		list, ok := rota.Read(c.Teller, "away", text, "")
		got := ""
		for _, x := range list {
			got += fmt.Sprintf("; %d %s %s", x.Absent, x.From, x.To)
		}
		if ok != (want != "") || ok && got != "; "+want {
			t.Errorf("%s: away %q %t, want %q", text, got, ok, want)
		}
	}
	for text, want := range map[string]string{
		"ben opens tomorrow": "2 true tomorrow", "ben hur closes": "3 false ", "i open friday": "1 true friday",
		"ben waits": "", "nobody opens": "",
	} {
		p, opens, rest, ok := rota.DutyIn(c.Teller, text)
		if got := fmt.Sprintf("%d %t %s", p.ID, opens, rest); ok != (want != "") || ok && got != want {
			t.Errorf("%s: duty %q %t, want %q", text, got, ok, want)
		}
	}
}

// A line of a plan is laid over the settings, each for its own days; a line that says none of
// these changes nothing.
func TestLinesOfAPlan(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	c.F.Shop.People = []shop.Person{{ID: 2, Name: "Ben"}}
	var s shop.Settings
	for _, line := range []string{"mon-fri 8-20", "sun closed", "sat ben opens", "holidays open", "summary fri",
		"nudges off", "night 23-6", "reminders closing 0 list, 30 managers"} {
		var d rota.Draft
		if !d.Line(c.Teller, line) {
			t.Errorf("%q is not taken", line)
		}
		s = d.Over(s, "2026-11-26")
	}
	day := shop.Hours{Open: 8 * 60, Close: 20 * 60}
	if s.Hours != [7]shop.Hours{1: day, 2: day, 3: day, 4: day, 5: day} || s.Plan.Duty[6].Opens != 2 ||
		!s.Plan.TradesOnHolidays || s.Plan.Summary != "fri" || !s.Plan.NoLevels ||
		s.Plan.Night == nil || s.Plan.Night.Open != 23*60 || s.Plan.Night.Close != 6*60 {
		t.Errorf("laid down: %+v", s)
	}
	if got := fmt.Sprint(*s.Plan.Ladders.Of("closing")); got != "[{0 list} {30 managers}]" {
		t.Errorf("the ladder is %s", got)
	}
	for _, line := range []string{"", "mon", "mon maybe", "summary", "holidays perhaps",
		"reminders closing 0 everybody",
		"night", "cleo opens", "sat cleo opens"} {
		var d rota.Draft
		if d.Line(c.Teller, line) {
			t.Errorf("%q is taken: %+v", line, d)
		}
	}
}
