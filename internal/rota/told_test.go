package rota_test

import (
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

// teller is what somebody is told by.
func teller(f *floor.Floor, name string) *telling.Teller { return f.Talk(name).Teller }

var said = floor.Said

func labels(rows [][]chat.Button) string {
	var list []string
	for _, row := range rows {
		for _, b := range row {
			list = append(list, b.Label+" "+b.Data)
		}
	}
	return strings.Join(list, "\n")
}

const (
	opened  = "staff1: open 40 150 200; [Confirm]\n"
	counted = opened + "@2026-11-25 21:05\nstaff1: close 12 60 80; none; none; [Confirm]\n"
	closed  = counted + "staff1: 28 90 120; none; [Confirm]\n"
)

// What is due next, by whom: 25 November 2026 is a Wednesday, trade is from 7 to 21.
func TestAgenda(t *testing.T) {
	for name, s := range map[string]struct {
		script    string
		set       func(*floor.Floor)
		want, not string
	}{
		"before opening": {"", nil, "- 07:00: opening, Ben, Cleo|- 21:15: closing, Ben, Cleo|" +
			"Thu 26 Nov, 07:00: opening",
			"late"},
		"opening is late": {"@2026-11-25 08:00\n", nil, "late since 07:00: opening", "- 07:00"},
		"open":            {opened, nil, "- 21:15: closing|Thu 26 Nov, 07:00: opening", "- 07:00: opening"},
		"closing is late": {opened + "@2026-11-25 22:00\n", nil, "late since 21:15: closing",
			"finish the closing"},
		"closed": {closed, nil, "Thu 26 Nov, 07:00: opening",
			"21:15: closing, Ben, Cleo\n- Thu 26 Nov, 07|late"},
		"counted the day before, no slip": {counted + "@2026-11-26 06:30\n", nil,
			"finish the closing of Wed 25 Nov|- 07:00: opening", ""},
		"closed for days": {"", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-26", To: "2026-11-27", Closed: true}}
		}, "- Thu 26 Nov: closed (as was said)|- Fri 27 Nov: closed (as was said)", "26 Nov, 07:00"},
		"nobody comes": {"", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Off: true}}
		}, "- today: closed (nobody comes)", "- 07:00"},
		"every week": {"", func(f *floor.Floor) { f.Shop.Hours[4] = shop.Hours{} },
			"closed (as every week)", "Thu 26 Nov, 07:00"},
		"a public holiday": {"@2026-12-24 06:00\n", nil, "closed (Christmas Day)", "25 Dec, 07:00"},
		"held": {"", func(f *floor.Floor) {
			f.Shop.Plan.Hold = &shop.Hold{By: 1, Why: "police", Until: "2026-11-27"}
		}, "Do not load the machine until Fri 27 Nov.|Nothing is due in the next days.|Why: “police”|" +
			"Said by Ada.", "opening, Ben"},
		"somebody is not reached": {"", func(f *floor.Floor) {
			f.Knows = func(facts *chat.Facts) {
				facts.Ask.Phones = func() []chat.Phone {
					return []chat.Phone{{Person: 2, Gone: true},
						{Person: 3}}
				}
			}
		}, "Messages do not reach Ben:", "Ben, Cleo:"},
		"somebody is away": {"", func(f *floor.Floor) {
			f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-25", To: "2026-11-25", Absent: 2}}
		}, "- 07:00: opening, Cleo\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			if s.set != nil {
				s.set(f)
			}
			f.Play(s.script)
			floor.Expect(t, said(rota.Agenda(teller(f, "staff1"), "")), s.want, s.not)
		})
	}
}

// Who asks of a day hears of that day only; words that are no day ask of all.
func TestAgendaOfADay(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-25 12:00\n")
	for named, want := range map[string][2]string{
		"tomorrow":   {"Thu 26 Nov, 07:00: opening|Thu 26 Nov, 21:15: closing", "late|Fri 27 Nov"},
		"2026-11-27": {"Fri 27 Nov, 07:00: opening", "Thu 26 Nov"},
		"yesterday":  {"late since 07:00|Thu 26 Nov", ""},
		"of all":     {"late since 07:00|Thu 26 Nov", ""},
	} {
		floor.Expect(t, said(rota.Agenda(teller(f, "staff1"), named)), want[0], want[1])
	}
}

// A change is worded as it is asked and as it stands in the plan; whoever is away is
// told as another unless they say it themselves.
func TestWord(t *testing.T) {
	f := floor.New(t, dialogs.New)
	days := func(c shop.Change) shop.Change { c.From, c.To = "2026-11-26", "2026-11-27"; return c }
	const when = "Thu 26 Nov to Fri 27 Nov"
	for _, s := range []struct {
		change     shop.Change
		asks, plan string
	}{
		{days(shop.Change{Closed: true}), "Closed " + when + ". Nobody is reminded then.",
			when + ": closed"},
		{days(shop.Change{Off: true}), "Nobody comes " + when,
			when + ": nobody comes, the machine stays off"},
		{days(shop.Change{Mute: true}), "Nobody is reminded " + when, when + ": nobody is reminded"},
		{days(shop.Change{Usual: true}), "Open as usual " + when, when + ": open as usual"},
		{days(shop.Change{Open: minutes(540)}), "Opening at 09:00 " + when, when + ": opening at 09:00"},
		{days(shop.Change{Close: minutes(930)}), "Closing at 15:30 " + when, when + ": closing at 15:30"},
		{days(shop.Change{Absent: 2}), "You cannot come " + when + ". I tell your manager.",
			when + ": Ben cannot come"},
		{days(shop.Change{Absent: 3}), "Cleo cannot come " + when, when + ": Cleo cannot come"},
		{days(shop.Change{Duty: shop.Duty{Opens: 3}}), "Cleo opens " + when, when + ": Cleo opens"},
		{days(shop.Change{Duty: shop.Duty{Closes: 2}}), "Ben closes " + when, when + ": Ben closes"},
	} {
		asks, plan := rota.Word(teller(f, "staff1"), "shift.", s.change), rota.Word(teller(f, "staff1"),
			"plan.", s.change)
		if !strings.HasPrefix(asks, s.asks) || plan != s.plan {
			t.Errorf("%+v: %q, %q", s.change, asks, plan)
		}
	}
	for change, want := range map[string]struct {
		c           shop.Change
		staff, boss bool
	}{
		"closed": {shop.Change{Closed: true}, false, true}, "mute": {shop.Change{Mute: true}, true, true},
		"absent": {shop.Change{Absent: 2}, true, true}, "duty": {shop.Change{Duty: shop.Duty{Opens: 2}},
			true, true},
		"hours": {shop.Change{Open: minutes(9)}, false, true},
	} {
		if rota.May(teller(f, "staff1"), want.c) != want.staff || rota.May(teller(f, "owner"),
			want.c) != want.boss {
			t.Errorf("%s: who may say so", change)
		}
	}
}

// What people type of days that are different is read, or not taken at all.
func TestReaders(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "staff1")                             // Ben, person 2, on Wednesday 25 November
	for _, s := range []struct{ name, typed, want string }{ // from, to and what; empty: not taken
		{"closed", "24 to 27 december", "2026-12-24 2026-12-27 closed"},
		{"closed", "", "2026-11-25 2026-11-25 closed"},
		{"closed", "because of rain", ""},
		{"opening-at", "9 tomorrow", "2026-11-26 2026-11-26 open 540"}, {"opening-at", "tomorrow", ""},
		{"closing-at", "3 today", "2026-11-25 2026-11-25 close 900"}, // three in the afternoon
		{"closing-at", "15:30", "2026-11-25 2026-11-25 close 930"}, {"closing-at", "25:00", ""},
		{"ill", "until friday, fever", "2026-11-25 2026-11-27 absent 2"}, {"ill", "friday 24 december", ""},
		{"ill", "Cleo 2026-11-26", "2026-11-26 2026-11-26 absent 3"},
		{"away", "cleo is ill until friday", "2026-11-25 2026-11-27 absent 3"}, {"away", "cleo sings", ""},
		{"away", "dora is ill", ""}, {"away", "i am off", ""},
		{"away", "i am on vacation tomorrow", "2026-11-26 2026-11-26 absent 2"},
		{"nobody", "on friday, machine stays off", "2026-11-27 2026-11-27 off"},
		{"duty", "cleo opens tomorrow", "2026-11-26 2026-11-26 opens 3"},
		{"duty", "i close today", "2026-11-25 2026-11-25 closes 2"}, {"duty", "cleo opens a window", ""},
	} {
		list, ok := rota.Read(tell, s.name, s.typed, "")
		got := ""
		for _, c := range list {
			got += summed(c)
		}
		if ok != (s.want != "") || ok && got != s.want {
			t.Errorf("%s %q: %q %t, want %q", s.name, s.typed, got, ok, s.want)
		}
	}
	if n := rota.Days("2026-12-24", "2027-01-03"); n != 11 {
		t.Errorf("24 December to 3 January are %d days", n)
	}
}

func summed(c shop.Change) string {
	parts := []string{string(c.From), string(c.To)}
	add := func(is bool, word string) {
		if is {
			parts = append(parts, word)
		}
	}
	add(c.Closed, "closed")
	add(c.Off, "off")
	add(c.Usual, "usual")
	add(c.Back != 0, "back "+string('0'+rune(c.Back)))
	add(c.PauseFrom != c.PauseTo, "pause "+strconv.Itoa(c.PauseFrom)+" "+strconv.Itoa(c.PauseTo))
	add(c.Absent != 0, "absent "+string('0'+rune(c.Absent)))
	add(c.Duty.Opens != 0, "opens "+string('0'+rune(c.Duty.Opens)))
	add(c.Duty.Closes != 0, "closes "+string('0'+rune(c.Duty.Closes)))
	if c.Open != nil {
		parts = append(parts, "open "+strconv.Itoa(*c.Open))
	}
	if c.Close != nil {
		parts = append(parts, "close "+strconv.Itoa(*c.Close))
	}
	return strings.Join(parts, " ")
}

// Managers are offered who could stand in, not who is away; a tap that says no such
// thing changes nothing.
func TestStandIns(t *testing.T) {
	f := floor.New(t, dialogs.New)
	got := labels(rota.StandIns(teller(f, "owner"), shop.Change{From: "2026-11-26", To: "2026-11-26",
		Absent: 2}))
	floor.Expect(t, got, "o:duty:opens.20261126.1|o:duty:closes.20261126.3", ".20261126.2")
	f.Shop.Plan.Changes = []shop.Change{{From: "2026-11-26", To: "2026-11-26", Absent: 3}}
	got = labels(rota.StandIns(teller(f, "owner"), shop.Change{From: "2026-11-26", To: "2026-11-26",
		Absent: 2}))
	floor.Expect(t, got, "opens.20261126.1", ".20261126.3|.20261126.2")
	tell := teller(f, "owner")
	for arg, want := range map[string]string{
		"opens.20261126.3":  "2026-11-26 2026-11-26 opens 3",
		"closes.20261126.1": "2026-11-26 2026-11-26 closes 1",
		"":                  "", "opens.20261126": "", "dances.20261126.3": "", "opens.20261332.3": "",
		"opens.20261126.77": "",
		"opens.20261126.x":  "",
	} {
		c, _, ok := rota.TappedDuty(tell, arg)
		if ok != (want != "") || ok && summed(c) != want {
			t.Errorf("%q: %s %t", arg, summed(c), ok)
		}
	}
	c, key, ok := rota.TappedUsual(tell, "20261225")
	eve := reminders.Name{Date: "2026-12-24", Task: reminders.Eve}
	if !ok || !c.Usual || c.From != "2026-12-25" || c.To != c.From || key != rota.DueKey(tell, eve) {
		t.Errorf("%+v %q %t", c, key, ok)
	}
	if _, _, ok := rota.TappedUsual(tell, "christmas"); ok {
		t.Error("christmas is a date of a button")
	}
}

// A reminder says the task, its day and its time, never an amount; who was told before
// and who is at it now stand in it.
func TestDueLines(t *testing.T) {
	for name, s := range map[string]struct {
		script    string
		task      reminders.Task
		date      shop.Date
		rung      shop.Rung
		nudge     bool
		set       func(*floor.Floor)
		want, not string
	}{
		"opening": {"@2026-11-25 07:05\n", reminders.Opening, "2026-11-25", shop.Rung{To: shop.List},
			false, nil,
			"Opening is not recorded yet.\nDue 07:00.|Start now", "Reminded before|€"},
		"soon": {"", reminders.Opening, "2026-11-25", shop.Rung{To: shop.List}, true, nil,
			"Opening is due soon, 07:00.", "Start now"},
		"closing": {opened + "@2026-11-25 21:20\n", reminders.Closing, "2026-11-25",
			shop.Rung{To: shop.List}, false, nil,
			"Closing is not recorded yet.\nDue 21:15.", "missing"},
		"figures where nobody closes": {opened + "@2026-11-25 21:20\n", reminders.Closing, "2026-11-25",
			shop.Rung{To: shop.List}, false, func(f *floor.Floor) { f.Shop.Nightly = false },
			"printed figures of today are not recorded", "Closing"},
		"loaded on an earlier day": {opened + "@2026-11-26 21:20\n", reminders.Closing, "2026-11-26",
			shop.Rung{To: shop.List}, false, nil, "The closing of Wed 25 Nov is still missing.", ""},
		"not finished": {counted + "@2026-11-26 07:00\n", reminders.Unclosed, "2026-11-25",
			shop.Rung{To: shop.List}, false, nil, "The closing of Wed 25 Nov is not finished.|" +
				"Only the machine's printed",
			"Nobody has counted"},
		"not counted": {opened + "@2026-11-26 07:00\n", reminders.Unclosed, "2026-11-25",
			shop.Rung{To: shop.List}, false, nil, "Nobody has counted yet. Please count", "It is counted"},
		"open since yesterday": {opened + "@2026-11-26 07:05\n", reminders.Opening, "2026-11-26",
			shop.Rung{To: shop.List}, false, nil, "Wed 25 Nov is not closed. You can open all the same",
			""},
		"managers learn who was told": {"@2026-11-25 08:05\n", reminders.Opening, "2026-11-25",
			shop.Rung{To: shop.Managers}, false, nil, "Reminded before: Ben, Cleo.", "Ada"},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			if s.set != nil {
				s.set(f)
			}
			f.Play(s.script)
			tell := teller(f, "owner")
			known := tasks.Reach{Told: []chat.Told{{Person: 1, Times: 1}, {Person: 2, Times: 1},
				{Person: 3, Times: 1}}}
			n := reminders.Name{Date: s.date, Task: s.task}
			got := rota.DueLines(tell, n, reminders.Rung{To: s.rung.To, Nudge: s.nudge}, tell.F.Person,
				known)
			floor.Expect(t, strings.Join(got, "\n"), s.want, s.not)
		})
	}
	f := floor.New(t, dialogs.New)
	f.Play("@2026-11-25 07:05\nstaff1: open 40 150")
	tell := teller(f, "owner")
	n := reminders.Name{Date: "2026-11-25", Task: reminders.Opening}
	got := rota.DueLines(tell, n, reminders.Rung{To: shop.Managers}, tell.F.Person, rota.Reached(tell, "k"))
	floor.Expect(t, strings.Join(got, "\n"), "Ben is busy at the machine since 07:05.", "")
}

// What is done is said with who did it, also when only the count is in.
func TestDone(t *testing.T) {
	today := shop.Date("2026-11-25")
	for name, s := range map[string]struct {
		script string
		n      reminders.Name
		needed bool
		word   string
		by     string
	}{
		"opening to come": {"", reminders.Name{Date: today, Task: reminders.Opening}, true,
			"Opening is recorded.", ""},
		"opened": {opened, reminders.Name{Date: today, Task: reminders.Opening}, false,
			"Opening is recorded.",
			"By Ben, 06:40."},
		"counted": {counted, reminders.Name{Date: today, Task: reminders.Closing}, false,
			"Closing: the count is in, the printed figures are missing.", "By Ben, 21:05."},
		"closed": {closed, reminders.Name{Date: today, Task: reminders.Closing}, false,
			"Closing is recorded.",
			"By Ben, 21:05."},
		"finished": {closed, reminders.Name{Date: today, Task: reminders.Unclosed}, false,
			"The closing is finished.",
			"By Ben, 21:05."},
	} {
		f := floor.New(t, dialogs.New)
		f.Play(s.script)
		tell := teller(f, "owner")
		if got := rota.DoneWord(tell, s.n); got != s.word {
			t.Errorf("%s: %q", name, got)
		}
		if got := rota.DoneBy(tell, s.n); got != s.by {
			t.Errorf("%s: %q, want %q", name, got, s.by)
		}
		if got := rota.Needs(tell, tell.M, s.n); got != s.needed {
			t.Errorf("%s: still to be done %t", name, got)
		}
	}
	f := floor.New(t, dialogs.New)
	f.Shop.Nightly = false
	n := reminders.Name{Date: today, Task: reminders.Closing}
	if got := rota.DoneWord(teller(f, "owner"), n); got != "The printed figures are recorded." {
		t.Errorf("where nobody closes: %q", got)
	}
	floor.Expect(t, labels([][]chat.Button{rota.StartButton(teller(f, "owner"), n)}),
		"figures|o:start:closing", "")
}

// A reminder is answered by starting, putting off, or saying that it is not for today; only
// managers may say that the shop is closed. With two machines each has messages of its own.
func TestDueButtons(t *testing.T) {
	f := floor.New(t, dialogs.New)
	opening := reminders.Name{Date: "2026-11-25", Task: reminders.Opening}
	staff, boss := teller(f, "staff1"), teller(f, "owner")
	floor.Expect(t, labels(rota.DueButtons(staff, opening)),
		"o:start:opening.20261125.1|o:later:opening.20261125.1.30|o:mute:opening.20261125.1|o:rarer:",
		"o:closed")
	unclosed := labels(rota.DueButtons(staff, reminders.Name{Date: "2026-11-25", Task: reminders.Unclosed}))
	floor.Expect(t, unclosed, "o:start:unclosed.20261125.1", "o:later|o:mute")
	floor.Expect(t, labels(rota.RarerButtons(staff, opening)),
		"opening.20261125.1.15|opening.20261125.1.60", "o:closed")
	floor.Expect(t, labels(rota.RarerButtons(boss, opening)), "o:closed:opening.20261125.1", "")
	filling := reminders.Name{Date: "2026-11-25", Task: reminders.Filling}
	floor.Expect(t, labels(rota.RarerButtons(boss, filling)), "o:start:filling", "o:closed")
	one := rota.DueKey(boss, opening)
	other := teller(f, "owner")
	other.M = books.New(2)
	if two := rota.DueKey(other, opening); two == one {
		t.Errorf("two machines share the key %s", two)
	}
	f.Told = map[string][]chat.Told{one: {{Person: 2}}}
	if got := rota.Reached(teller(f, "owner"), one); len(got.Told) != 1 || got.Told[0].Person != 2 {
		t.Errorf("told: %+v", got)
	}
	if _, ok := rota.CompactDate("2026-11-25"); ok || rota.Compact("2026-11-25") != "20261125" {
		t.Error("a date in a button")
	}
}

// The plan stands with days alike on one line, what is different, and how holidays are kept.
func TestPlan(t *testing.T) {
	day := shop.Hours{Open: 8 * 60, Close: 20 * 60}
	for name, s := range map[string]struct {
		set       func(*shop.Settings)
		want, not string
	}{
		"as it was set up": {func(*shop.Settings) {}, "Mon-Sun  07:00-21:00|closing 15 minutes after|" +
			"Public holidays: closed.",
			"Reminders,|Weekly summary|Quiet"},
		"three kinds of day": {func(s *shop.Settings) { s.Hours[0], s.Hours[6] = shop.Hours{}, day },
			"Mon-Fri  07:00-21:00|Sat      08:00-20:00|Sun      closed", "Mon-Sun"},
		"who opens": {func(s *shop.Settings) { s.Plan.Duty[6] = shop.Duty{Opens: 2, Closes: 3} },
			"Sat      07:00-21:00  Ben opens, Cleo closes", "Mon-Sun"},
		"holidays": {func(s *shop.Settings) { s.Plan.TradesOnHolidays, s.Plan.HolidayHours = true, &day },
			"Public holidays: open.|On public holidays: 08:00-20:00", "Public holidays: closed"},
		"one holiday": {func(s *shop.Settings) {
			s.Plan.Holidays = []shop.HolidayChoice{{Name: "New Year", Trades: true},
				{Name: "Easter Monday"},
				{Name: "Saint Stephen's Day", Hours: &day}}
		}, "New Year: open|Easter Monday: closed|Saint Stephen's Day: 08:00-20:00", ""},
		"a country without a table": {func(s *shop.Settings) { s.Country = "XX" },
			"Public holidays of your country are not known here.", "Public holidays: "},
		"a region": {func(s *shop.Settings) { s.Country, s.Region = "GB", "SCT" }, "Region: Scotland", ""},
		"hours of holidays on which it is closed": {func(s *shop.Settings) { s.Plan.HolidayHours = &day },
			"Public holidays: closed.", "On public holidays"},
		"a day of every year": {func(s *shop.Settings) {
			all := [7]*shop.Hours{{}, {}, {}, {}, {}, {}, {}}
			s.Plan.Seasons = []shop.Season{{From: "12-25", To: "12-25", Hours: all}}
		}, "every year: closed", "00:00"},
		"season": {func(s *shop.Settings) {
			s.Plan.Seasons = []shop.Season{{From: "06-01", To: "08-31", Hours: [7]*shop.Hours{1: &day,
				2: &day}}}
		}, "Mon 1 Jun to Mon 31 Aug, every year: Mon-Tue 08:00-20:00", "08:00-20:00\n1 Jun"},
		"what is rare": {func(s *shop.Settings) {
			s.Plan.NoLevels, s.Plan.EachClose, s.Plan.Summary = true, true, "fri"
			s.Plan.Night = &shop.Hours{Open: 23 * 60, Close: 6 * 60}
			s.Plan.Ladders.Closing = []shop.Rung{{After: 0, To: shop.List}, {After: 30, To: shop.Managers}}
		}, "No reminders of level checks.|Owners get a note of each closing.|Weekly summary: Fri.|" +
			"Quiet from 23:00 to 06:00.|" +
			"Reminders, closing: 0 list, 30 managers", "No weekly summary"},
		"no summary": {func(s *shop.Settings) { s.Plan.Summary = "off" }, "No weekly summary.",
			"Weekly summary:"},
		"changes to come": {func(s *shop.Settings) {
			s.Plan.Changes = []shop.Change{{From: "2026-11-01", To: "2026-11-02", Closed: true},
				{From: "2026-12-24", To: "2026-12-26", Closed: true}}
		}, "- Thu 24 Dec to Sat 26 Dec: closed", "Nov"},
		"held": {func(s *shop.Settings) { s.Plan.Hold = &shop.Hold{By: 1} },
			"Do not load the machine.|Said by Ada.", "Why:"},
		"never closed": {func(s *shop.Settings) {
			for i := range s.Hours {
				s.Hours[i] = shop.Hours{Open: 0, Close: shop.DayMinutes}
			}
		}, "Never closed. Figures at ", "Opening is due"},
	} {
		t.Run(name, func(t *testing.T) {
			f := floor.New(t, dialogs.New)
			s.set(&f.Shop.Settings)
			floor.Expect(t, said(rota.Plan(teller(f, "owner"), &f.Shop.Settings)...), s.want, s.not)
		})
	}
}
