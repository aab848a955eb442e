package reminders_test

import (
	"fmt"
	"testing"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Late money is spoken of as often as somebody looks at the bank, and at the latest when it
// is more than ten banking days late. TARGET closing days (European Central Bank, 14
// December 2000): 1 January, Good Friday, Easter Monday, 1 May, 25 and 26 December.
func TestOverdue(t *testing.T) {
	for _, x := range []struct{ look, due, told, long string }{
		{"", "2026-11-26", "2026-11-27", "2026-12-11"}, // Thursday: Friday; 27 Nov is the first of eleven
		{"daily", "2026-11-27", "2026-11-30", "2026-12-14"},
		{"daily", "2026-12-24", "2026-12-28", "2027-01-12"},  // 25 December to 27: no bank
		{"weekly", "2026-11-26", "2026-11-30", "2026-12-11"}, // the Monday after
		{"weekly", "2026-11-27", "2026-11-30", "2026-12-14"}, // Friday: Monday
		{"weekly", "2026-11-30", "2026-12-07", "2026-12-15"}, // Monday: the next one
		{"weekly", "2027-03-25", "2027-04-05", "2027-04-13"}, // Easter Monday is no banking day
		{"statement", "2026-11-26", "2026-12-01", "2026-12-11"},
		{"statement", "2026-12-02", "2026-12-17", "2026-12-17"}, // a month is too long
		{"statement", "2026-11-30", "2026-12-01", "2026-12-15"},
		{"statement", "2026-12-30", "2027-01-04", "2027-01-15"},
	} {
		s := example(t, func(s *shop.Settings) { s.BankLook = x.look })
		told, long := reminders.Overdue(s, shop.Date(x.due)), reminders.LongOverdue(s, shop.Date(x.due))
		told = told.In(s.Location)
		if got := told.Format("2006-01-02"); got != x.told || told.Format("15:04") != "09:30" {
			t.Errorf("%s, due %s: told %s, want %s", x.look, x.due, told, x.told)
		}
		if got := long.Format("2006-01-02"); got != x.long {
			t.Errorf("%s, due %s: long overdue %s, want %s", x.look, x.due, got, x.long)
		}
	}
}

// What an owner hears at once is written out, and all else waits for the letter.
func TestAtOnce(t *testing.T) {
	for c, want := range map[reminders.Concern]bool{
		reminders.Danger: true, reminders.Difference: true, reminders.Stuck: true, reminders.FileDoubt: true,
		reminders.NewKey: true, reminders.Closed: false, reminders.Changed: false, reminders.LateBank: false,
		reminders.Noted: false, reminders.Upcoming: false, "": false,
	} {
		if reminders.AtOnce(c) != want {
			t.Errorf("%q at once: %t", c, !want)
		}
	}
}

// Money comes before what is unfinished, that before habits; what is alike keeps its order.
func TestWorstFirst(t *testing.T) {
	weeks := []reminders.Week{{}, {Missed: 6}, {Small: 1}, {Apart: 1}, {Changes: 2}, {Unclosed: 1, Missed: 1},
		{LongOwed: 3}, {Apart: 1, Unclosed: 1}, {Small: 1}, {Missed: 7}}
	if got := fmt.Sprint(reminders.WorstFirst(weeks)); got != "[7 3 5 6 9 1 4 2 8 0]" {
		t.Errorf("order %s", got)
	}
	if !weeks[0].Well() || weeks[2].Well() {
		t.Error("only a week without anything is well")
	}
}

// Three or more days without a bank that begin within two weeks: TARGET closing days of the
// European Central Bank, and those of the Federal Reserve (K.8).
func TestNextGap(t *testing.T) {
	for _, x := range []struct{ currency, from, want string }{
		{"EUR", "2026-12-14", "2026-12-25 2026-12-27 by 2026-12-24"},
		{"EUR", "2026-12-10", ""}, // fifteen days before
		{"EUR", "2026-12-11", "2026-12-25 2026-12-27 by 2026-12-24"},
		{"EUR", "2026-12-24", "2026-12-25 2026-12-27 by 2026-12-24"},
		{"EUR", "2026-12-25", "2027-01-01 2027-01-03 by 2026-12-31"},
		{"EUR", "2027-03-22", "2027-03-26 2027-03-29 by 2027-03-25"}, // Good Friday to Easter Monday
		{"EUR", "2026-11-09", ""},                                    // weekends alone
		{"USD", "2026-11-20", ""},                                    // Thanksgiving is one day
		{"USD", "2026-09-01", "2026-09-05 2026-09-07 by 2026-09-04"}, // Labor Day
		{"XXX", "2026-12-14", ""},                                    // only weekends are known
	} {
		g, ok := reminders.NextGap(x.currency, shop.Date(x.from))
		got := ""
		if ok {
			got = fmt.Sprintf("%s %s by %s", g.First, g.Last, g.OrderBy)
		}
		if got != x.want {
			t.Errorf("%s after %s: %q, want %q", x.currency, x.from, got, x.want)
		}
	}
}

// One machine writes the letter: the first in use of the first shop that wants one.
func TestWrites(t *testing.T) {
	at := func(id shop.ID, machine shop.MachineID, used bool, summary string) reminders.Site {
		s := example(t, func(s *shop.Settings) { s.Plan.Summary = summary })
		s.ID = id
		return reminders.Site{Shop: s, Machine: machine, InUse: used}
	}
	for name, x := range map[string]struct {
		sites []reminders.Site
		want  shop.MachineID
	}{
		"none":          {nil, 0},
		"idle":          {[]reminders.Site{at(1, 1, false, "")}, 0},
		"off":           {[]reminders.Site{at(1, 1, true, "off")}, 0},
		"one":           {[]reminders.Site{at(1, 1, true, "")}, 1},
		"any order":     {[]reminders.Site{at(3, 4, true, ""), at(2, 6, true, "fri"), at(2, 5, true, "")}, 5},
		"first is idle": {[]reminders.Site{at(1, 1, false, ""), at(1, 2, true, ""), at(2, 3, true, "")}, 2},
		"first is off":  {[]reminders.Site{at(1, 1, true, "off"), at(2, 3, true, "")}, 3},
	} {
		if got, ok := reminders.Writes(x.sites); got != x.want || ok != (x.want != 0) {
			t.Errorf("%s: machine %d, %t, want %d", name, got, ok, x.want)
		}
	}
}

// Names of messages about tasks are read back, with and without a machine.
func TestParseKey(t *testing.T) {
	n := reminders.Name{Date: "2026-11-25", Task: reminders.Closing}
	for _, machine := range []shop.MachineID{0, 1, 4711} {
		if got, id, ok := reminders.ParseKey(n.Key(machine)); !ok || got != n || id != machine {
			t.Errorf("%s is read as %+v of %d, %t", n.Key(machine), got, id, ok)
		}
	}
	for _, s := range []string{"", "due-", "due-2026-11-25", "due-2026-11-25-", "due-2026-11-25-tea",
		"due-2026-13-25-closing", "due-2026-11-25-closing-x", "still-due-2026-11-25-closing"} {
		if n, _, ok := reminders.ParseKey(s); ok {
			t.Errorf("%q is read as %+v", s, n)
		}
	}
}

// A holiday that may be none is a day like others until somebody says how it is kept: in
// Austria shops may open on Christmas Eve (marked doubtful in the table, see COUNTRIES.md).
func TestDoubtful(t *testing.T) {
	const eve = "2026-12-24"
	asked := reminders.AskedBy(eve)
	if asked.Date != "2026-12-17" || reminders.DoubtedBy(asked.Date) != eve {
		t.Fatalf("asked on %s", asked.Date)
	}
	austria := func(change func(*shop.Settings)) *shop.Shop {
		return example(t, func(s *shop.Settings) {
			s.Country, s.Zone = "AT", "Europe/Vienna"
			if change != nil {
				change(s)
			}
		})
	}
	s := austria(nil)
	if d := reminders.On(s, eve); d.Closed != reminders.Trading {
		t.Errorf("unanswered: closed by %q", d.Closed)
	}
	if name := reminders.Doubted(s, eve); name != "Christmas Eve" {
		t.Errorf("asked about %q", name)
	}
	at, ok := reminders.Due(s, asked.Date, reminders.Doubt)
	if !ok || at.In(s.Location).Format("2006-01-02 15:04") != "2026-12-17 09:30" {
		t.Errorf("asked at %s, %t", at, ok)
	}
	if reminders.Doubted(s, "2026-12-25") != "" || reminders.Doubted(s, "2026-12-22") != "" {
		t.Error("asked about a day that is sure")
	}
	for trades, want := range map[bool]reminders.Reason{true: reminders.Trading, false: reminders.Public} {
		next := austria(func(x *shop.Settings) { x.Plan = reminders.Settle(s, eve, trades, 1, time.Now()) })
		for _, year := range []string{"2026", "2027", "2044"} {
			date := shop.Date(year + "-12-24")
			if d := reminders.On(next, date); d.Closed != want || reminders.Doubted(next, date) != "" {
				t.Errorf("%s, trades %t: closed by %q", date, trades, d.Closed)
			}
		}
	}
	short := shop.Hours{Open: 8 * 60, Close: 12 * 60}
	own := austria(func(x *shop.Settings) {
		x.Plan = x.Plan.Choose(shop.HolidayChoice{Name: "Christmas Eve", Trades: true, Hours: &short})
	})
	if d := reminders.On(own, eve); d.Hours != short || d.Closed != reminders.Trading {
		t.Errorf("own hours: %+v", d)
	}
	one := func(c shop.Change) []shop.Change {
		c.From, c.To = eve, eve
		return []shop.Change{c}
	}
	for name, change := range map[string]func(*shop.Settings){
		"closed by word": func(x *shop.Settings) { x.Plan.Changes = one(shop.Change{Closed: true}) },
		"open by word":   func(x *shop.Settings) { x.Plan.Changes = one(shop.Change{Usual: true}) },
		"open on all":    func(x *shop.Settings) { x.Plan.TradesOnHolidays = true },
		"no Thursdays":   func(x *shop.Settings) { x.Hours[time.Thursday] = shop.Hours{} },
	} {
		if got := reminders.Doubted(austria(change), eve); got != "" {
			t.Errorf("%s: asked about %q", name, got)
		}
	}
}

// Days by the moon are asked about each year, and the answer is for that date: Eid al-Fitr
// of 1448 is expected on 9 or 10 March 2027 (table of holidays; the moon decides).
func TestDoubtedMoon(t *testing.T) {
	s := example(t, func(s *shop.Settings) { s.Country, s.Zone, s.Currency = "TR", "Europe/Istanbul", "TRY" })
	date := shop.Date("")
	for d := shop.Date("2027-03-01"); d < "2027-03-20"; d = d.Add(1) {
		if reminders.Doubted(s, d) != "" {
			date = d
			break
		}
	}
	if date == "" || reminders.On(s, date).Closed != reminders.Trading {
		t.Fatalf("first doubtful day %q", date)
	}
	next := example(t, func(x *shop.Settings) {
		x.Country, x.Zone, x.Currency = "TR", "Europe/Istanbul", "TRY"
		x.Plan = reminders.Settle(s, date, false, 1, time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC))
	})
	if d := reminders.On(next, date); d.Closed != reminders.OneOff || reminders.Doubted(next, date) != "" {
		t.Errorf("closed by %q", d.Closed)
	}
}

// Where nothing is known, and after the table ends, what nearly every country keeps is
// asked about; twelve months before that people are told.
func TestTablesEnd(t *testing.T) {
	unknown := example(t, func(s *shop.Settings) { s.Country = "XX" })
	known := example(t, nil)
	for _, x := range []struct {
		shop *shop.Shop
		date shop.Date
		want string
	}{{unknown, "2026-12-25", "Christmas Day"}, {unknown, "2027-01-01", "New Year's Day"},
		{unknown, "2026-12-24", ""},
		{known, "2045-12-25", ""}, {known, "2046-12-25", "Christmas Day"}} {
		if got := reminders.Doubted(x.shop, x.date); got != x.want {
			t.Errorf("%s %s: asked about %q, want %q", x.shop.Country, x.date, got, x.want)
		}
	}
	if d := reminders.On(known, "2045-12-25"); d.Closed != reminders.Public {
		t.Errorf("in the last year: %q", d.Closed)
	}
	for _, x := range []struct {
		shop  *shop.Shop
		today shop.Date
		ends  bool
	}{{known, "2026-11-25", false}, {known, "2044-12-31", false}, {known, "2045-01-02", true},
		{known, "2050-01-01", true},
		{unknown, "2050-01-01", false}} {
		if year, ends := reminders.TablesEnd(x.shop, x.today); ends != x.ends || ends && year != 2045 {
			t.Errorf("%s on %s: ends %t with %d", x.shop.Country, x.today, ends, year)
		}
	}
}
