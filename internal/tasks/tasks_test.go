package tasks_test

import (
	"slices"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
)

const (
	tuesday   shop.Date = "2026-11-24"
	wednesday shop.Date = "2026-11-25"
)

// at is the example shop with the periods of a machine; each is for the day it says.
func at(t *testing.T, nightly bool, periods ...*books.Period) tasks.At {
	t.Helper()
	s := shop.Example()
	s.Nightly = nightly
	sh, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	m := books.New(1)
	m.Periods = periods
	for _, p := range periods {
		if p.Status == books.Open {
			m.Open = p.No
		}
	}
	return tasks.At{Shop: sh, Machine: m, DayOf: func(p *books.Period) shop.Date { return p.Date }}
}

// clock is a time of Wednesday 25 November 2026 in Dublin, which is UTC then.
func clock(hour, minute int) time.Time { return time.Date(2026, 11, 25, hour, minute, 0, 0, time.UTC) }

func period(no int64, day shop.Date, status books.Status) *books.Period {
	return &books.Period{No: no, Date: day, Status: status, Opened: day.Time().Add(7 * time.Hour),
		CountedAt: day.Time().Add(21 * time.Hour)}
}

// What is still to be done of a day, by what the machine's books hold: emptied every night,
// or with notes that stay in.
func TestNeeded(t *testing.T) {
	slip := func(p *books.Period, at time.Time) *books.Period {
		p.Slips = append(p.Slips, books.Slip{Happened: at})
		return p
	}
	for name, x := range map[string]struct {
		at   tasks.At
		want []reminders.Task
	}{
		"nothing recorded": {at(t, true), []reminders.Task{reminders.Opening}},
		"opened": {at(t, true, period(1, wednesday, books.Open)),
			[]reminders.Task{reminders.Closing, reminders.Unclosed}},
		"closed": {at(t, true, period(1, wednesday, books.Closed)), nil},
		"counted, figures missing": {at(t, true, period(1, wednesday, books.Waiting)),
			[]reminders.Task{reminders.Unclosed}},
		"yesterday was not closed": {at(t, true, period(1, tuesday, books.Open)),
			[]reminders.Task{reminders.Opening, reminders.Closing, reminders.Filling, reminders.Unclosed}},
		"yesterday waits": {at(t, true, period(1, tuesday, books.Waiting)),
			[]reminders.Task{reminders.Opening, reminders.Unclosed}},
		"loaded ahead and counted before that day": {at(t, true, &books.Period{No: 1, Date: wednesday,
			Status: books.Waiting, CountedAt: tuesday.Time().Add(21 * time.Hour)}),
			[]reminders.Task{reminders.Opening, reminders.Unclosed}},
		"notes stay in, nothing loaded": {at(t, false), []reminders.Task{reminders.Opening}},
		"notes stay in, loaded yesterday": {at(t, false, period(1, tuesday, books.Open)),
			[]reminders.Task{reminders.Closing, reminders.Filling}},
		"notes stay in, printed today": {at(t, false, slip(period(1, tuesday, books.Open), clock(20, 0))),
			[]reminders.Task{reminders.Filling}},
		"notes stay in, printed before opening": {at(t, false, slip(period(1, tuesday, books.Open), clock(5, 0))),
			[]reminders.Task{reminders.Closing, reminders.Filling}},
	} {
		var got []reminders.Task
		for _, task := range []reminders.Task{
			reminders.Opening, reminders.Closing, reminders.Filling, reminders.Unclosed} {
			if x.at.Needed(reminders.Name{Date: wednesday, Task: task}) {
				got = append(got, task)
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, want %q", name, got, x.want)
		}
	}
	if at(t, true).Needed(reminders.Name{Date: wednesday, Task: reminders.Summary}) {
		t.Error("a letter waits for the books")
	}
}

// Filling is seen to by a look into the machine or by notes put in, of that day.
func TestFilling(t *testing.T) {
	fill := reminders.Name{Date: wednesday, Task: reminders.Filling}
	a := at(t, false, period(1, tuesday, books.Open))
	for name, done := range map[string]func(){
		"looked yesterday": func() { a.Machine.Periods[0].Readings = []books.Reading{{Happened: clock(-3, 0)}} },
		"a move today": func() {
			a.Machine.Recent = []books.Brief{{Kind: books.Moved, Happened: clock(11, 0)}}
		},
	} {
		done()
		if !a.Needed(fill) {
			t.Errorf("%s: nothing to fill", name)
		}
	}
	for name, done := range map[string]func(*books.Machine){
		"looked today": func(m *books.Machine) { m.Periods[0].Readings = []books.Reading{{Happened: clock(9, 0)}} },
		"topped up": func(m *books.Machine) {
			m.Recent = []books.Brief{{Kind: books.TopUp, Happened: clock(9, 0)}}
		},
		"swapped": func(m *books.Machine) {
			m.Recent = []books.Brief{{Kind: books.Swap, Happened: clock(9, 0)}}
		},
	} {
		a := at(t, false, period(1, tuesday, books.Open))
		if done(a.Machine); a.Needed(fill) {
			t.Errorf("%s, and still to be filled", name)
		}
	}
}

// The oldest period that waits is meant, and of a machine that notes stay in none that is open.
func TestUnclosed(t *testing.T) {
	a := at(t, true, period(1, tuesday, books.Waiting), period(2, wednesday, books.Waiting))
	for day, want := range map[shop.Date]int64{"2026-11-23": 0, tuesday: 1, wednesday: 1, "2026-11-26": 1} {
		p := a.Unclosed(day)
		if got := no(p); got != want {
			t.Errorf("up to %s: period %d, want %d", day, got, want)
		}
	}
	for day, want := range map[shop.Date]int64{tuesday: 1, wednesday: 2, "2026-11-26": 1} {
		n := reminders.Name{Date: day, Task: reminders.Unclosed}
		if got := no(a.Told(day)); got != want || a.News(n) != (day < "2026-11-26") {
			t.Errorf("told on %s: period %d, want %d; news %t", day, got, want, a.News(n))
		}
	}
	if p := at(t, false, period(1, tuesday, books.Open)).Unclosed(wednesday); p != nil {
		t.Errorf("notes stay in, and period %d is missing", p.No)
	}
}

// A closing that is missing is told of on its evening and the next morning, and then no more: also
// of a day on which the shop was to be closed, with the next one on which it trades.
func TestNews(t *testing.T) {
	open := at(t, true, period(1, tuesday, books.Open))
	for day, want := range map[shop.Date]bool{tuesday: true, wednesday: false, "2026-11-27": false} {
		for _, task := range []reminders.Task{reminders.Closing, reminders.Unclosed} {
			if got := open.News(reminders.Name{Date: day, Task: task}); got != want {
				t.Errorf("%s of %s: news %t", task, day, got)
			}
		}
	}
	for day, want := range map[shop.Date]bool{wednesday: true, "2026-11-26": false} {
		if got := open.JustMissed(open.Machine.Periods[0], day); got != want {
			t.Errorf("opening of %s: just missed %t", day, got)
		}
	}
	holiday := at(t, true, period(1, "2026-12-25", books.Open)) // Saturday is a holiday, too
	for day, want := range map[shop.Date]bool{"2026-12-27": true, "2026-12-28": false} {
		if got := holiday.News(reminders.Name{Date: day, Task: reminders.Closing}); got != want {
			t.Errorf("loaded on a holiday, closing of %s: news %t", day, got)
		}
	}
	stays := at(t, false, period(1, tuesday, books.Open))
	if !stays.News(reminders.Name{Date: "2026-11-27", Task: reminders.Closing}) {
		t.Error("the printed figures of a day are news of that day")
	}
}

func no(p *books.Period) int64 {
	if p == nil {
		return 0
	}
	return p.No
}

// Whoever cannot be written to is passed over, the third message changes the last, and who
// was told is named to the others.
func TestReach(t *testing.T) {
	r := tasks.Reach{
		Phones: []chat.Phone{{Person: 1}, {Person: 2, Gone: true}, {Person: 3, Frozen: true}, {Person: 3}},
		Told:   []chat.Told{{Person: 1, Times: 1}, {Person: 2, Times: 3}, {Person: 4}},
	}
	for id, away := range map[shop.PersonID]bool{1: false, 2: true, 3: false, 4: true} {
		if r.Away(id) != away {
			t.Errorf("person %d away: %t", id, !away)
		}
	}
	if (tasks.Reach{}).Away(9) {
		t.Error("where phones are not known somebody is away")
	}
	for _, x := range []struct {
		id    shop.PersonID
		to    shop.Group
		folds bool
	}{{1, shop.List, false}, {1, shop.Managers, true}, {2, shop.List, true}, {4, shop.Owners, false},
		{9, shop.Managers, false}} {
		if got := r.Folds(x.id, x.to); got != x.folds {
			t.Errorf("person %d by %s: folds %t", x.id, x.to, got)
		}
	}
	if got := r.Others(1); !slices.Equal(got, []shop.PersonID{2}) {
		t.Errorf("others told: %v", got)
	}
}

// The levels are known for half an hour after somebody opened or looked, and of no machine
// that is shut.
func TestLooked(t *testing.T) {
	p := period(1, wednesday, books.Open)
	a := at(t, true, p)
	p.Opened = clock(7, 0)
	for now, want := range map[time.Time]bool{clock(7, 29): true, clock(7, 30): false} {
		if a.Looked(now) != want {
			t.Errorf("opened at 07:00, at %s known: %t", now.Format("15:04"), !want)
		}
	}
	p.Readings = []books.Reading{{Happened: clock(9, 0)}}
	if !a.Looked(clock(9, 29)) || a.Looked(clock(9, 30)) {
		t.Error("a look at 09:00 holds for another time than half an hour")
	}
	if at(t, true, period(1, wednesday, books.Closed)).Looked(clock(7, 5)) {
		t.Error("levels of a machine that is shut are known")
	}
}

// Newest is when the last thing was recorded, whatever it was.
func TestNewest(t *testing.T) {
	a := at(t, true)
	if !a.Newest().IsZero() {
		t.Error("something was recorded")
	}
	a.Machine.Recent = []books.Brief{{Recorded: clock(9, 0)}, {Recorded: clock(8, 0)}}
	if !a.Newest().Equal(clock(8, 0)) {
		t.Errorf("newest %s", a.Newest())
	}
}
